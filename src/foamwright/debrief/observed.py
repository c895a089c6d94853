"""What one flight brings to a comparison with others."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, kw_only=True, slots=True)
class Reading:
    """One observation of one flight."""

    name: str
    """A key of `WANTED`; others are not compared."""
    value: float
    """SI."""
    sd: float
    """One sigma of all that is known of it, the wind's part included, SI."""
    wind_sd: float = 0.0
    """One sigma of the wind along where it was flown [m s^-1]; 0 where a pitot told the airspeed,
    and over full circles."""
    speed: float | None = None
    """Airspeed it was flown at [m s^-1]."""
    heading: float | None = None
    """Where the nose pointed, clockwise from north [rad]; None where it turned, or is not known."""
    conditions: Mapping[str, float] = field(default_factory=dict)
    """Voltage at rest [V], mass [kg], density [kg m^-3], as far as they are known."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Flown:
    """What one flight brings to a comparison."""

    readings: tuple[Reading, ...]
    """Of all its segments."""
    wind_sd: float = 0.0
    """One sigma of the wind, the same in every segment; 0 where a pitot told the airspeed."""
    wind: tuple[float, float] | None = None
    """Where the air moves, north and east [m s^-1]."""

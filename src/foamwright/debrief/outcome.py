"""What the reading of a flight yields: records without any arithmetic."""

import math
from dataclasses import dataclass

from foamwright.model.drive import DriveModel


@dataclass(frozen=True, kw_only=True, slots=True)
class Facts:
    """What is known of the aeroplane from outside the log; every field may be missing."""

    mass: float | None = None
    """Ready to fly [kg]."""
    wing_area: float | None = None
    """[m^2]."""
    air_density: float = 1.225
    """[kg m^-3]."""
    charge_put_back: float | None = None
    """What the charger put back after the flight [C]."""
    units: str = "metric"
    """In which units to tell, metric or imperial."""
    cells: int | None = None
    """Of the pack, one after the other."""
    drive: DriveModel | None = None
    """Motor, propeller, pack and controller as they are known; of use where a log has the
    propeller's speed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Segment:
    """A stretch of one kind of flying without a hole in it."""

    kind: str
    """bench, launch, climb, cruise, dash, turn, glide, slow flight, landing or crash."""
    start: float
    """[s]."""
    end: float
    """[s]."""

    @property
    def name(self) -> str:
        """Name it by kind and start, as observations refer to it."""
        return f"{self.kind} at {self.start:.0f} s"


@dataclass(frozen=True, kw_only=True, slots=True)
class Wind:
    """The mean wind of a flight with its 80 % band."""

    speed: float
    """[m s^-1]."""
    low: float
    """Lower end of the speed [m s^-1]."""
    high: float
    """Upper end of the speed [m s^-1]."""
    from_direction: float
    """Where it blows from, clockwise from north [rad]."""
    north: float
    """Where the air moves, north part [m s^-1]."""
    east: float
    """Where the air moves, east part [m s^-1]."""
    sd: float
    """One sigma of it in the direction in which it is known least [m s^-1]."""
    covariance: tuple[float, float, float]
    """Of its parts: north with north, north with east, east with east [m^2 s^-2]."""
    airspeed: float
    """Mean airspeed of the rows used [m s^-1]."""
    airspeed_sd: float
    """One sigma of it [m s^-1]."""
    heading_span: float
    """Headings covered [rad]."""

    def sd_along(self, north: float, east: float) -> float:
        """Return one sigma of its part along a vector, times the vector's length [m s^-1].

        On an arc the wind is known well across the turn and ill along it: an airspeed flown on
        one heading is off by the part along that heading only.
        """
        both, mixed, other = self.covariance
        square = both * north**2 + 2.0 * mixed * north * east + other * east**2
        return math.sqrt(max(square, 0.0))


@dataclass(frozen=True, kw_only=True, slots=True)
class Figure:
    """One number read off the flight with its 80 % band."""

    name: str
    """Key."""
    label: str
    """In words."""
    value: float
    """SI."""
    low: float
    """SI."""
    high: float
    """SI."""
    unit: str
    """SI unit."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Remark:
    """Something the flight shows that wants a look."""

    what: str
    """What was found."""
    because: str
    """The evidence."""
    check_first: tuple[str, ...]
    """Where to look first, in order."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Observation:
    """A measured quantity as the model may be held against it."""

    name: str
    """As in the measurements of a plane."""
    value: float
    """SI."""
    sd: float
    """One sigma, SI."""
    segment: str
    """Name of the segment it was read from, or words for where in the log."""
    speed: float | None = None
    """Airspeed it belongs to where the segment does not tell it [m s^-1]."""
    time: float | None = None
    """How long it took where the segment does not tell it [s]."""
    rotation_speed: float | None = None
    """Of the propeller, where it belongs to one [s^-1]."""
    voltage: float | None = None
    """Of the pack under that load, where it belongs to one [V]."""
    teaches: bool = True
    """Whether the model may learn from it: not where another observation is made of the same."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Share:
    """What one reader adds to the analysis of a flight."""

    figures: tuple[Figure, ...] = ()
    """Numbers with bands beside those of the observations."""
    findings: tuple[Remark, ...] = ()
    """What wants a look."""
    not_said: tuple[str, ...] = ()
    """What this log cannot tell, and why."""
    observations: tuple[Observation, ...] = ()
    """For holding the model against; those the analysis has words for become figures too."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Analysis:
    """Everything read off one flight."""

    segments: tuple[Segment, ...]
    """In time order."""
    wind: Wind | None
    """None where it cannot be told; `not_said` says why."""
    figures: tuple[Figure, ...]
    """Numbers with bands."""
    findings: tuple[Remark, ...]
    """What wants a look."""
    not_said: tuple[str, ...]
    """What this log cannot tell, and why."""
    observations: tuple[Observation, ...]
    """For holding the model against."""

"""What is compared between flights: which way is wanted, how flights scatter, what matters."""

from collections.abc import Mapping
from dataclasses import dataclass

from foamwright.debrief.read_off import SENSOR


@dataclass(frozen=True, kw_only=True, slots=True)
class Wanted:
    """One figure as two sides of flights are compared by it.

    Powers tell how the figure follows what the sides may differ in, by dimensions and steady
    flight: a speed that keeps lift goes as the root of mass over density; at full throttle
    advance ratio and thrust coefficient stay, so that the speed goes with the turns and these with
    the voltage, thrust and drag both with the density.
    """

    label: str
    """In words."""
    unit: str
    """SI unit."""
    more: bool
    """Whether more of it is wanted; else less."""
    scatter: float
    """From flight to flight of the same aeroplane beyond wind and gusts, one sigma, relative."""
    no_matter: float
    """A smaller change nobody would act on, relative."""
    sensor: float = 0.0
    """What its sensor may be off, one sigma, relative: the same sensor on both sides."""
    airspeed: float = 0.0
    """Power with which an error of the wind enters, through the airspeed."""
    at_speed: float | None = None
    """Power with which it follows the airspeed it was flown at, where only like speeds compare."""
    at_lowest: bool = False
    """Whether it is compared at the speed at which it was lowest, not where most have it."""
    voltage: float = 0.0
    """Power with which it follows the pack's voltage at rest."""
    mass: float = 0.0
    """Power with which it follows the mass."""
    density: float = 0.0
    """Power with which it follows the density of the air."""


SWINGS: Mapping[str, Wanted] = {
    axis: Wanted(
        label=f"damping of swings in {axis}",
        unit="-",
        more=True,
        scatter=0.1,
        no_matter=0.25,
        at_speed=0.0,
        at_lowest=True,
    )
    for axis in ("roll", "pitch")
}
"""A gain that is too high shows at the speed at which the loop damps least."""

WANTED: Mapping[str, Wanted] = {
    "top_speed": Wanted(
        label="top speed",
        unit="m s^-1",
        more=True,
        scatter=0.02,
        no_matter=0.02,
        airspeed=1.0,
        voltage=1.0,
    ),
    "top_speed_current": Wanted(
        label="current at top speed",
        unit="A",
        more=False,
        scatter=0.03,
        no_matter=0.03,
        sensor=SENSOR,
        voltage=2.0,
        density=1.0,
    ),
    "cruise_current": Wanted(
        label="current in level flight",
        unit="A",
        more=False,
        scatter=0.05,
        no_matter=0.03,
        sensor=SENSOR,
        airspeed=2.0,
        at_speed=2.0,
        voltage=-1.0,
        mass=1.0,
    ),
    "glide_ratio": Wanted(
        label="glide ratio",
        unit="-",
        more=True,
        scatter=0.04,
        no_matter=0.04,
        airspeed=1.0,
        at_speed=0.0,
    ),
    "drag_area": Wanted(
        label="drag area",
        unit="m^2",
        more=False,
        scatter=0.05,
        no_matter=0.04,
        airspeed=-3.0,
        at_speed=0.0,
        density=1.0,
    ),
    "stall_speed": Wanted(
        label="slowest speed",
        unit="m s^-1",
        more=False,
        scatter=0.03,
        no_matter=0.03,
        airspeed=1.0,
        mass=0.5,
        density=-0.5,
    ),
    "pack_resistance": Wanted(
        label="inner resistance of pack and leads",
        unit="ohm",
        more=False,
        scatter=0.08,
        no_matter=0.08,
    ),
    "roll_swing_damping": SWINGS["roll"],
    "pitch_swing_damping": SWINGS["pitch"],
    "roll_lag": Wanted(
        label="lag from aileron to roll rate",
        unit="s",
        more=False,
        scatter=0.05,
        no_matter=0.05,
        at_speed=-0.5,
    ),
}
"""By the name of the observation. Scatter and what matters: common practice, no source.

The drag area is read with the density of the plane's place, so it follows that of the day. A glide
is compared with glides of like speed, and taken as it is. Half of the lag is the roll's own, which
goes with one over the airspeed.
"""

EXPONENT = 0.3
"""How far the powers above may be off, one sigma, relative; common practice, no source."""

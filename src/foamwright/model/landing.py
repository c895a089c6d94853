"""Coming in, sitting down, going around: one value a sample."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from foamwright.model.air import AirState
from foamwright.model.drag import PlaneDrag
from foamwright.model.drive import DriveModel
from foamwright.model.ensemble import Draws
from foamwright.model.lift import Lift
from foamwright.model.linkages import THROWS
from foamwright.model.masses import Masses
from foamwright.model.performance import EMPTY, FULL, LevelPoints
from foamwright.model.slow_flight import SlowFlight
from foamwright.model.surfaces import PITCH_ROLES
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.equilibrium import at_throttle
from foamwright.physics.flight.landing import (
    TOUCHDOWN_FACTOR,
    flare,
    held_lift,
    slide,
    speed_of_lift,
)
from foamwright.physics.flight.level import at_speeds
from foamwright.physics.flight.slow import approach_speed, banked_factor
from foamwright.physics.lift.trim import trim
from foamwright.plane.plane import Plane

GRASS = (0.40, 0.10)
"""Friction of a foam belly on short dry grass, and spread [-]: 0.3 wet, 0.5 and more in tufts;
common practice, no source."""

GUSTS = (0.5, 0.15)
"""Gusts over the mean wind, as a share of it, and spread [-]; common practice, no source."""

WIND_SHARE = 0.3
"""Spread of a wind written without one [-]; common practice, no source."""

TURN = float(np.deg2rad(30.0))
"""Bank of the last turn [rad]; common practice."""

FRICTION_INPUT = ("landing.grass", "grip of the grass")
GUST_INPUT = ("landing.gust", "gusts")
WIND_INPUT = ("site.wind", "wind")


class Landable(Protocol):
    """What landing needs of a computable plane."""

    plane: Plane
    draws: Draws
    samples: int

    @property
    def air(self) -> AirState:
        """The air of the day."""
        ...

    @property
    def masses(self) -> Masses:
        """All mass points."""
        ...

    @property
    def weight(self) -> Samples:
        """(n,) [N]."""
        ...

    @property
    def lift(self) -> Lift:
        """Lift and moment."""
        ...

    @property
    def drag(self) -> PlaneDrag:
        """Drag over the whole range of speeds."""
        ...

    @property
    def slow_flight(self) -> SlowFlight:
        """Stall, approach, glide."""
        ...

    @property
    def drive(self) -> DriveModel | None:
        """The drive, if it is complete."""
        ...

    def drag_at(self, speeds: Samples) -> PlaneDrag:
        """Return the drag in level flight at (k,) speeds [m s^-1]."""
        ...

    def level_points(self, speeds: Samples) -> LevelPoints:
        """Return level flight at (k,) speeds [m s^-1]."""
        ...


@dataclass(frozen=True, kw_only=True, slots=True)
class Landing:
    """All (n,)."""

    wind: Samples
    """Mean wind [m s^-1]."""
    approach_banked: Samples
    """Approach in the last turn [m s^-1]."""
    approach_gusts: Samples
    """Approach in the gusts of this wind [m s^-1]."""
    elevator_speed: Samples
    """Slowest speed the elevator holds, or the stall [m s^-1]."""
    elevator_left: Samples
    """Up elevator left at the stall [rad]; not a number where nothing trims in pitch."""
    flare_distance: Samples
    """Over the ground, into the wind [m]."""
    stop_distance: Samples
    """On grass, into the wind [m]."""
    ground_into: Samples
    """Slowest over the ground into the wind [m s^-1]."""
    ground_with: Samples
    """Slowest over the ground with the wind [m s^-1]."""
    assumed: tuple[str, ...]
    """What was assumed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class GoAround:
    """Power at the approach speed, pack nearly flown; all (n,)."""

    throttle: Samples
    """For level flight [-]; not a number where it cannot."""
    climb: Samples
    """Steady climb at full throttle [m s^-1]; sinks where below 0."""


def landing_inputs(plane: Plane) -> tuple[tuple[str, str], ...]:
    """Return every input that landing draws, with its label."""
    wind = (WIND_INPUT,) if plane.site.wind is not None else ()
    return (FRICTION_INPUT, GUST_INPUT, *wind)


def wind_of(plane: Plane, draws: Draws) -> Samples:
    """Return the wind that was written, or none (n,) [m s^-1]."""
    written = plane.site.wind
    if written is None:
        return np.zeros(draws.samples)
    drawn = draws.written(
        written, WIND_SHARE * written.value, key=WIND_INPUT[0], label=WIND_INPUT[1]
    )
    return np.maximum(drawn, 0.0)


def up_travel(plane: Plane, *, nose_up: float) -> float:
    """Return the travel that holds the nose up [rad]; nothing without a pitch control.

    `nose_up` is -1 where trailing edge up does it, +1 on a canard.
    """
    up = nose_up < 0.0
    found = []
    for surface in plane.airframe.surfaces:
        for control in surface.controls:
            if control.role in PITCH_ROLES:
                written = control.throw_up if up else control.throw_down
                usual = float(np.radians(THROWS[control.role][0 if up else 1]))
                found.append(usual if written is None else written.value)
    return max(found, default=0.0)


def elevator(computed: Landable) -> tuple[Samples, Samples]:
    """Return the largest lift coefficient the elevator trims and the travel left at the stall."""
    plane, lift = computed.plane, computed.lift
    largest = computed.slow_flight.maximum_lift
    if not lift.steerable:
        none = np.full(computed.samples, np.nan)
        return largest, none
    wanted = np.stack([np.zeros_like(largest), np.ones_like(largest)], axis=1)
    found = trim(lift.pitch, computed.masses.centre[:, 0], wanted, np.zeros_like(wanted))
    moment = lift.pitch.moment[:, 2]
    sign = -1.0 if float(np.median(moment)) < 0.0 else 1.0
    at_none, at_one = sign * found.deflection[:, 0], sign * found.deflection[:, 1]
    travel = np.full(computed.samples, up_travel(plane, nose_up=sign))
    left = travel - (at_none + (at_one - at_none) * largest)
    return np.minimum(held_lift(travel, at_none, at_one - at_none), largest), left


def landing_of(computed: Landable) -> Landing:
    """Return coming in and sitting down, into the wind."""
    draws, slow, drag = computed.draws, computed.slow_flight, computed.drag
    wind = wind_of(computed.plane, draws)
    share = draws.around(*GUSTS, key=GUST_INPUT[0], label=GUST_INPUT[1])
    friction = draws.around(*GRASS, key=FRICTION_INPUT[0], label=FRICTION_INPUT[1])
    still = np.zeros_like(wind)
    gusty = approach_speed(slow.stall_speed, np.maximum(share, 0.0) * wind)
    touchdown = TOUCHDOWN_FACTOR * slow.stall_speed
    calm = approach_speed(slow.stall_speed, still)
    ratio = computed.weight / at_speeds(drag.speed, drag.drag, calm)
    lift, left = elevator(computed)
    load = computed.weight / computed.lift.area
    held = speed_of_lift(load, lift, computed.air.density)
    bank = float(banked_factor(np.array([TURN]))[0])
    said = ["short dry grass, belly landing, friction 0.40 ± 0.10"]
    if computed.plane.site.wind is None:
        said.append("still air: write site.wind")
    return Landing(
        wind=wind,
        approach_banked=bank * calm,
        approach_gusts=gusty,
        elevator_speed=np.maximum(held, slow.stall_speed),
        elevator_left=left,
        flare_distance=flare(gusty, touchdown, ratio, wind).distance,
        stop_distance=slide(touchdown - wind, friction),
        ground_into=np.maximum(gusty - wind, 0.0),
        ground_with=gusty + wind,
        assumed=tuple(said),
    )


def go_around_of(computed: Landable) -> GoAround | None:
    """Return the power there is at the middle approach speed; none without a complete drive."""
    model = computed.drive
    if model is None:
        return None
    speed = np.array([float(np.median(computed.slow_flight.approach_speed))])
    level = computed.level_points(speed)
    drag = computed.drag_at(speed).drag[:, 0]
    full = at_throttle(model.drive, speed[None, :], 1.0, EMPTY)
    # Steeper than straight up it cannot go.
    sine = np.minimum((full.thrust[:, 0] - drag) / computed.weight, 1.0)
    climb = float(speed[0]) * sine
    holds = level.holds[:, 0] & (level.throttle[:, 0] <= FULL)
    return GoAround(throttle=np.where(holds, level.throttle[:, 0], np.nan), climb=climb)

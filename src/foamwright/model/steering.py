"""Whether the plane obeys: the stage that holds servos, turning and trim of one plane."""

from functools import cached_property
from typing import Protocol

import numpy as np

from foamwright.model.air import AirState
from foamwright.model.control import Air, Held, Turning, control_inputs, held_of, turning_of
from foamwright.model.drive import DriveModel
from foamwright.model.ensemble import Draws
from foamwright.model.handling import Handling
from foamwright.model.landing import landing_inputs
from foamwright.model.lift import Lift
from foamwright.model.linkages import linkage_assumed, unmoved
from foamwright.model.masses import Masses
from foamwright.model.performance import FullThrottle
from foamwright.physics.arrays import Samples
from foamwright.physics.lift.trim import trim
from foamwright.plane.plane import Plane


class Steerable(Protocol):
    """What steering needs of a computable plane."""

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
    def handling(self) -> Handling:
        """How it moves and swings."""
        ...

    @property
    def drive(self) -> DriveModel | None:
        """The drive, if it is complete."""
        ...

    @property
    def full_throttle(self) -> FullThrottle:
        """Full throttle."""
        ...


class Steering:
    """What servos hold and how fast one plane's samples turn."""

    def __init__(self, computed: Steerable) -> None:
        """Remember the plane; nothing is computed yet."""
        self._computed = computed

    def inputs(self) -> tuple[tuple[str, str], ...]:
        """Return every input that steering and landing draw, with its label."""
        plane = self._computed.plane
        return (*control_inputs(plane), *landing_inputs(plane))

    @property
    def missing(self) -> tuple[str, ...]:
        """What has to be told before servos can be judged."""
        return unmoved(self._computed.plane)

    @property
    def assumed(self) -> tuple[str, ...]:
        """What was assumed of arms, rods and throws."""
        return linkage_assumed(self._computed.plane)

    @cached_property
    def top_speed(self) -> Samples:
        """Fastest level flight (n,) [m s^-1]; where there is none, the fastest looked at."""
        plane = self._computed
        fastest = np.full(plane.samples, plane.handling.fastest)
        if plane.drive is None:
            return fastest
        top = plane.full_throttle.top_speed
        return np.where(np.isfinite(top), top, fastest)

    @cached_property
    def held(self) -> tuple[Held, ...]:
        """Every surface at full throw and top speed; ask `missing` first."""
        plane = self._computed
        air = Air(density=plane.air.density, weight=plane.weight, speed=self.top_speed)
        return held_of(plane.plane, plane.draws, plane.handling.derivatives, air)

    def turning(self, throw: float, speed: float | None = None) -> Turning:
        """Return how fast it turns with a throw in roll [rad], at its usual or another speed."""
        plane = self._computed
        return turning_of(
            plane.handling.derivatives,
            throw,
            mass=plane.masses.all_up,
            inertia=plane.handling.inertia_tensor,
            density=plane.air.density,
            speed=plane.handling.usual_speed if speed is None else speed,
        )

    def trim_at(self, speed: float) -> Samples:
        """Return the pitch control in level flight at a speed [m s^-1], down positive (n,) [rad].

        Not a number where nothing trims in pitch.
        """
        plane = self._computed
        if not plane.lift.steerable:
            return np.full(plane.samples, np.nan)
        pressure = 0.5 * plane.air.density * speed**2
        lift = (plane.weight / (pressure * plane.lift.area))[:, None]
        found = trim(plane.lift.pitch, plane.masses.centre[:, 0], lift, np.zeros_like(lift))
        return found.deflection[:, 0]

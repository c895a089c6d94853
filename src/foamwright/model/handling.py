"""How the plane moves, swings and answers its stabiliser: stages on top of lift, mass and drag."""

from dataclasses import replace
from functools import cached_property
from typing import Protocol

import numpy as np

from foamwright.model.air import AirState
from foamwright.model.derivatives import SPREADS, derivatives_of, downwash_lag
from foamwright.model.drag import PlaneDrag
from foamwright.model.drive import DriveModel
from foamwright.model.ensemble import Draws
from foamwright.model.inertia import (
    INERTIA_INPUT,
    Axis,
    Swing,
    inertia_assumed,
    inertia_of,
    listed_inertia,
    swing_input,
)
from foamwright.model.lift import Lift
from foamwright.model.masses import Masses
from foamwright.model.modes import Modes, modes_of
from foamwright.model.performance import Cruise, FullThrottle
from foamwright.model.rate_loop import (
    BEYOND,
    Flying,
    RateLoop,
    loop_inputs,
    loop_speeds,
    rate_loop_of,
)
from foamwright.model.surfaces import Drawn
from foamwright.model.swings import half_swings, swings_of
from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.plane.bench_records import Bench
from foamwright.plane.plane import Plane

USUAL_OVER_STALL = 1.5
"""Usual speed over stall speed where no cruise can be computed; common practice."""


class Flyable(Protocol):
    """What handling needs of a computable plane."""

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
    def surfaces(self) -> Drawn:
        """The lifting surfaces."""
        ...

    @property
    def lift(self) -> Lift:
        """Lift and moment."""
        ...

    @property
    def stall_speed(self) -> Samples:
        """(n,) [m s^-1]."""
        ...

    @property
    def drag(self) -> PlaneDrag:
        """Drag over the whole range of speeds."""
        ...

    @property
    def drive(self) -> DriveModel | None:
        """The drive, if it is complete."""
        ...

    @property
    def cruise(self) -> Cruise:
        """Cruise and loiter."""
        ...

    @property
    def full_throttle(self) -> FullThrottle:
        """Full throttle."""
        ...

    def drag_at(self, speeds: Grid) -> PlaneDrag:
        """Return the drag in level flight at (k,) speeds [m s^-1]."""
        ...


class Handling:
    """What one plane's samples do when they are pushed or steered."""

    def __init__(self, computed: Flyable, bench: Bench) -> None:
        """Remember the plane and what was swung at the bench."""
        self._computed = computed
        self._bench = bench

    def inputs(self) -> tuple[tuple[str, str], ...]:
        """Return every input that handling draws beyond those of lift and mass, with its label."""
        spreads = [(f"model.{key}", label) for key, (_, label) in SPREADS.items()]
        swung = [swing_input(axis) for axis in self.swung]
        return (*spreads, INERTIA_INPUT, *swung, *loop_inputs(self._computed.plane))

    @property
    def swung(self) -> tuple[Axis, ...]:
        """Axes that were swung at the bench."""
        return tuple(dict.fromkeys(record.axis for record in self._bench.swings))

    @cached_property
    def derivatives(self) -> Derivatives:
        """How forces and moments change with motion and controls."""
        plane = self._computed
        return derivatives_of(
            plane.plane.airframe,
            plane.surfaces,
            plane.lift,
            plane.draws,
            centre=plane.masses.centre,
            drag=(plane.drag.profile + plane.drag.parasite)[:, -1],
        )

    @cached_property
    def swings(self) -> dict[Axis, Swing]:
        """Inertia swung at the bench, by axis."""
        return swings_of(self._bench, float(np.median(self._computed.masses.all_up)))

    @cached_property
    def inertia_tensor(self) -> Samples:
        """Inertia about the centre of gravity, body axes (n, 3, 3) [kg m^2]."""
        plane = self._computed
        return inertia_of(plane.plane, plane.masses, plane.draws, self.swings)

    @cached_property
    def inertia_assumed(self) -> tuple[str, ...]:
        """What was assumed of where the mass lies, and what is odd about a swing."""
        plane = self._computed
        odd: tuple[str, ...] = ()
        if self.swings:
            odd = half_swings(self.swings, listed_inertia(plane.plane, plane.masses))
        return (*odd, *inertia_assumed(plane.plane, self.swings))

    @cached_property
    def usual_speed(self) -> float:
        """A speed it flies at most of the time [m s^-1]: cruise, or half as fast again as stall."""
        plane = self._computed
        if plane.drive is not None:
            cruising = plane.cruise.speed[np.isfinite(plane.cruise.speed)]
            if 2 * cruising.size > plane.samples:
                return float(np.median(cruising))
        return USUAL_OVER_STALL * float(np.median(plane.stall_speed))

    @cached_property
    def fastest(self) -> float:
        """Median top speed, or twice the usual speed where there is none [m s^-1]."""
        plane = self._computed
        if plane.drive is not None:
            top = plane.full_throttle.top_speed
            top = top[np.isfinite(top)]
            if 2 * top.size > plane.samples:
                return float(np.median(top))
        return BEYOND * self.usual_speed

    @cached_property
    def modes(self) -> Modes:
        """How it swings and settles at its usual speed."""
        return self.modes_at(self.usual_speed)

    def modes_at(self, speed: float) -> Modes:
        """Return how it swings and settles at a speed [m s^-1]."""
        plane = self._computed
        late = downwash_lag(
            plane.plane.airframe,
            plane.surfaces,
            plane.lift,
            plane.draws,
            centre=plane.masses.centre,
        )
        return modes_of(
            self.derivatives,
            plane.drag_at(np.array([speed])),
            plane.masses.all_up,
            inertia=self.inertia_tensor,
            density=plane.air.density,
            downwash_lag=late,
        )

    @cached_property
    def rate_loop(self) -> RateLoop | None:
        """When the stabiliser wobbles; none where no surface rolls or pitches the plane."""
        plane = self._computed
        flying = Flying(
            derivatives=self.derivatives,
            inertia=self.inertia_tensor,
            mass=plane.masses.all_up,
            density=plane.air.density,
        )
        speed = loop_speeds(plane.plane, float(np.median(plane.stall_speed)), self.fastest)
        loop = rate_loop_of(plane.plane, flying, plane.draws, speed=speed, fastest=self.fastest)
        if loop is None:
            return None
        return replace(loop, assumed=(*loop.assumed, *self.inertia_assumed))

"""A plane made computable: every stage once, when it is first asked for.

Stages are pure functions of the plane and the draws; this only remembers their results, so that
eight questions about one plane share one lattice, one drag curve and one drive.
"""

from functools import cached_property

import numpy as np

from foamwright.model.air import AirState, air_of
from foamwright.model.cuts import Cuts
from foamwright.model.drag import PlaneDrag, plane_drag
from foamwright.model.drive import DriveModel, drive_of
from foamwright.model.drive_parts import DriveParts, needs, parts_of
from foamwright.model.ensemble import Draws
from foamwright.model.fit import Fit, FitErrors, errors_of, fit_of, pockets_of
from foamwright.model.foam import DENSITY
from foamwright.model.handling import Handling
from foamwright.model.launch import Launch, LaunchPlan, clean_alone, launch_of, plan_alone
from foamwright.model.launch_inputs import LaunchInputs, launch_inputs
from foamwright.model.launch_setup import LaunchSetup, PowerTable
from foamwright.model.launch_stages import body_of, power_of, setup_of, written_of
from foamwright.model.lift import Lift, lift_of
from foamwright.model.masses import Masses, masses
from foamwright.model.modes import Modes
from foamwright.model.outlines import outlines_of, with_outlines
from foamwright.model.performance import (
    FULL,
    Cruise,
    FullThrottle,
    LevelPoints,
    cruise,
    full_throttle,
    level_points,
)
from foamwright.model.planform import Planform, planform
from foamwright.model.rate_loop import RateLoop
from foamwright.model.scope import fitting
from foamwright.model.slow_flight import SlowFlight, maximum_lift, slow_flight
from foamwright.model.solid import Solid
from foamwright.model.steering import Steering
from foamwright.model.surfaces import Drawn, drawn
from foamwright.model.taken_over import kept, shared_names
from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.drive.equilibrium import Operating, at_throttle
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.flight.launch_plane import LaunchPlane
from foamwright.plane.document import LoadedPlane
from foamwright.plane.plane import Plane
from foamwright.problems import CallProblem

Place3 = tuple[float, float, float]

GRAVITY = 9.80665
"""Standard acceleration of free fall [m s^-2]."""

SPEEDS = 24
"""Speeds in the drag curve."""

FASTEST_WITHOUT_DRIVE = 4.0
"""Last speed of the drag curve over the stall speed where there is no drive."""

QUESTION_INPUTS = (
    ("esc.current_limit", "ESC rating"),
    ("esc.cooling", "ESC cooling"),
    ("model.pack_heat", "heat capacity of the pack"),
)
"""Inputs that only one question draws, with their labels."""


class ComputablePlane:
    """One plane and its n samples."""

    def __init__(
        self, loaded: LoadedPlane, draws: Draws, like: "ComputablePlane | None" = None
    ) -> None:
        """Remember the plane and the draws; nothing is computed yet.

        From a plane `like` this one, with the same draws, what comes out the same is taken over.
        """
        self._loaded = loaded
        self.outlines = outlines_of(loaded.plane.airframe, loaded.folder)
        airframe = with_outlines(loaded.plane.airframe, self.outlines)
        self.plane: Plane = loaded.plane.model_copy(update={"airframe": airframe})
        self.draws: Draws = fitting(draws, loaded.plane)
        self.samples = draws.samples
        if like is not None and like.draws.same_luck(draws):
            for name in shared_names(like.plane, self.plane):
                setattr(self, name, getattr(like, name))
            self.__dict__.update(kept(like, like.plane, self.plane))

    def settle(self) -> None:
        """Draw every input in one fixed order.

        Whatever is asked first, each input then has the same draws, so one question asked alone
        tells the same numbers as among all the others.
        """
        self.settle_flight()
        for item in self.plane.items:
            self.draws.normal(f"items.{item.name}.price", f"price of {item.name}")
        for key, label in QUESTION_INPUTS:
            self.draws.normal(key, label)
        # What came later is drawn last, so that older answers keep their luck.
        self.fit_errors  # noqa: B018 - drawn
        for key, label in self.handling.inputs():
            self.draws.normal(key, label)
        self.launch_inputs  # noqa: B018 - drawn
        for key, label in self.steering.inputs():
            self.draws.normal(key, label)

    def settle_flight(self) -> None:
        """Draw the inputs of masses, lift, drive and drag: the first that `settle` draws.

        That is all that weighings, bench tests and flights can teach, at a fraction of the time.
        """
        for stage in ("air", "masses", "lift", "maximum_lift", "drive", "drag"):
            getattr(self, stage)

    @cached_property
    def air(self) -> AirState:
        """The air of the day."""
        return air_of(self.plane.site, self.draws)

    @cached_property
    def masses(self) -> Masses:
        """All mass points."""
        return masses(self.plane, self.draws, self._cut_out)

    @cached_property
    def solid(self) -> Solid:
        """The foam as drawn."""
        return Solid(self.plane.airframe, self.outlines)

    @cached_property
    def cuts(self) -> Cuts:
        """Its cross-sections."""
        return Cuts(self.solid)

    @cached_property
    def fit(self) -> Fit:
        """Where everything goes."""
        return fit_of(self.plane, self.cuts)

    @property
    def foam_density(self) -> tuple[float, float]:
        """Density of the foam and its spread [kg m^-3]."""
        return DENSITY[self.plane.airframe.foam]

    @cached_property
    def fit_errors(self) -> FitErrors:
        """What ruler and knife get wrong."""
        return errors_of(self.plane, self.draws)

    @cached_property
    def _cut_out(self) -> tuple[tuple[float, Place3], ...]:
        """Volume and centre of the pockets the builder wrote [m^3, m]."""
        if not any(item.pocket not in (None, "none") for item in self.plane.items):
            return ()
        return tuple(
            (pocket.volume, pocket.centre)
            for pocket in pockets_of(self.plane, self.cuts)
            if pocket.declared
        )

    @cached_property
    def pack_mass(self) -> Samples:
        """Mass of the first pack (n,) [kg]."""
        for item in self.plane.items:
            if item.kind == "pack":
                return self.masses.named(item.name).mass
        return np.zeros(self.samples)

    @cached_property
    def weight(self) -> Samples:
        """(n,) [N]."""
        return self.masses.all_up * GRAVITY

    @cached_property
    def surfaces(self) -> Drawn:
        """The lifting surfaces, batched."""
        return drawn(self.plane.airframe, self.outlines)

    @cached_property
    def planform(self) -> Planform:
        """Area, span and mean chord."""
        return planform(self.plane.airframe, self.surfaces, self.draws)

    @cached_property
    def lift(self) -> Lift:
        """Lift, moment, neutral point."""
        return lift_of(self.plane.airframe, self.planform, self.surfaces, self.draws)

    @cached_property
    def nose(self) -> float:
        """Place of the foremost foam [m]."""
        return min(x for x, _ in self._extent)

    @cached_property
    def tail(self) -> float:
        """Place of the rearmost foam [m]."""
        return max(x for _, x in self._extent)

    @cached_property
    def _extent(self) -> list[tuple[float, float]]:
        airframe = self.plane.airframe
        found = [
            (s.leading_edge.value, s.leading_edge.value + s.chord.value)
            for surface in airframe.surfaces
            for s in surface.stations
        ]
        return found + [(s.x.value, s.x.value) for b in airframe.bodies for s in b.stations]

    @cached_property
    def maximum_lift(self) -> tuple[Samples, tuple[str, ...]]:
        """Largest lift coefficient and what was assumed."""
        centre = self.masses.centre[:, 0]
        return maximum_lift(self.lift, self.air, self.draws, weight=self.weight, centre=centre)

    @cached_property
    def stall_speed(self) -> Samples:
        """(n,) [m s^-1]."""
        pressure = self.weight / (self.lift.area * self.maximum_lift[0])
        return np.sqrt(2.0 * pressure / self.air.density)

    @cached_property
    def speeds(self) -> Grid:
        """Speeds of the drag curve [m s^-1]: closer together where it is slow."""
        slowest = 0.8 * float(np.quantile(self.stall_speed, 0.05))
        fastest = FASTEST_WITHOUT_DRIVE * slowest
        model, parts = self.drive, self._parts
        if model is not None and parts is not None:
            turns = float(
                np.quantile(model.drive.motor.speed_constant, 0.95) * 4.2 * parts.cells / 2 / np.pi
            )
            fastest = max(1.3 * slowest, 1.25 * turns * parts.pitch)
        return np.geomspace(slowest, fastest, SPEEDS)

    def drag_at(self, speeds: Grid) -> PlaneDrag:
        """Return the drag in level flight at (k,) speeds [m s^-1]."""
        height = 0.0 if self.drive is None else self.drive.thrust_height
        centre = self.masses.centre
        load = (self.weight, centre[:, 0], height - centre[:, 2])
        return plane_drag(self.plane, self.lift, self.air, self.draws, load=load, speed=speeds)

    @cached_property
    def drag(self) -> PlaneDrag:
        """Drag in level flight over the whole range of speeds."""
        return self.drag_at(self.speeds)

    @cached_property
    def slow_flight(self) -> SlowFlight:
        """Stall, approach, glide."""
        return slow_flight(
            self.maximum_lift, self.lift, self.drag, air=self.air, weight=self.weight
        )

    @cached_property
    def handling(self) -> Handling:
        """How it moves, swings and answers."""
        return Handling(self, self._loaded.notes.bench)

    @cached_property
    def steering(self) -> Steering:
        """What servos hold and how fast it turns."""
        return Steering(self)

    @property
    def derivatives(self) -> Derivatives:
        """How forces and moments change with motion and controls."""
        return self.handling.derivatives

    @property
    def inertia_tensor(self) -> Samples:
        """Inertia about the centre of gravity, body axes (n, 3, 3) [kg m^2]."""
        return self.handling.inertia_tensor

    @property
    def modes(self) -> Modes:
        """How it swings and settles at its usual speed."""
        return self.handling.modes

    @property
    def rate_loop(self) -> RateLoop | None:
        """When the stabiliser wobbles; none where no surface rolls or pitches the plane."""
        return self.handling.rate_loop

    @cached_property
    def drive_missing(self) -> tuple[str, ...]:
        """What is missing for a drive."""
        return needs(self.plane)

    @cached_property
    def _parts(self) -> DriveParts | None:
        return parts_of(self.plane)

    @cached_property
    def drive(self) -> DriveModel | None:
        """The drive; none while something is missing."""
        if self._parts is None:
            return None
        return drive_of(
            self._parts, self.plane, self._loaded.folder, air=self.air, draws=self.draws
        )

    @cached_property
    def complete_drive(self) -> DriveModel:
        """The drive, where nothing is missing; ask `drive_missing` first."""
        if self.drive is None:
            raise CallProblem(
                "the drive is not complete", expected="add " + ", ".join(self.drive_missing)
            )
        return self.drive

    @cached_property
    def drive_assumed(self) -> tuple[str, ...]:
        """What was assumed of the drive."""
        return () if self.drive is None else self.drive.assumed

    @cached_property
    def drive_provisional(self) -> bool:
        """Whether no bench reading stands behind the propeller."""
        return self.drive is not None and self.drive.provisional

    @cached_property
    def motor_burst(self) -> Samples:
        """What the motor bears for ten seconds (n,) [A]."""
        return self.complete_drive.burst_current

    @cached_property
    def full_throttle(self) -> FullThrottle:
        """Full throttle, flying and standing still."""
        pitch = 0.0 if self._parts is None else self._parts.pitch
        return full_throttle(
            self.complete_drive,
            self.drag,
            self.maximum_lift[0],
            pitch=pitch,
            weight=self.weight,
        )

    @cached_property
    def cruise(self) -> Cruise:
        """Cruise and loiter."""
        return cruise(self.complete_drive, self.drag, self.maximum_lift[0], self.stall_speed)

    @cached_property
    def bench_state(self) -> Operating:
        """The drive standing still at full throttle, pack straight from the charger."""
        return at_throttle(self.complete_drive.at_rest, np.array([[0.0]]), 1.0, FULL)

    def level_points(self, speeds: Grid) -> LevelPoints:
        """Return level flight at (k,) speeds [m s^-1]."""
        return level_points(self.complete_drive, self.drag_at(speeds), self.maximum_lift[0])

    @cached_property
    def launch_inputs(self) -> LaunchInputs:
        """The throw drawn for each sample."""
        return launch_inputs(self.plane, self.masses.centre, self.draws)

    @cached_property
    def launch_body(self) -> LaunchPlane:
        """Mass, inertia, lift and drag of what is thrown."""
        return body_of(self)

    @cached_property
    def launch_power(self) -> PowerTable:
        """Thrust and torque by throttle at the speeds of a launch."""
        return power_of(self)

    @cached_property
    def launch_setup(self) -> LaunchSetup:
        """What throws are made of."""
        return setup_of(self)

    @cached_property
    def launch_plan(self) -> LaunchPlan:
        """The best throttle and angle, and the throws with them."""
        return plan_alone(self.launch_setup, written_of(self.plane))

    @cached_property
    def launch_clean(self) -> Flags:
        """Which launches are clean (n,), as the plane file says; for who asks nothing else."""
        if "launch" in vars(self):
            return self.launch.clean
        return clean_alone(self.launch_setup, self.launch_plan)

    @cached_property
    def launch(self) -> Launch:
        """How its launches end."""
        return launch_of(self.launch_setup, self.launch_plan)

"""What of a computable plane the launch needs, put together."""

from typing import Protocol

import numpy as np

from foamwright.model.air import AirState
from foamwright.model.drag import PlaneDrag
from foamwright.model.drive import DriveModel
from foamwright.model.launch import Written
from foamwright.model.launch_inputs import LaunchInputs, off_the_line
from foamwright.model.launch_setup import (
    REACTION,
    THROTTLES,
    TRIM_SPEED,
    LaunchSetup,
    PowerTable,
    around,
    control_travel,
    fitted_drag,
    no_power,
    power_table,
    trimmed_elevator,
)
from foamwright.model.lift import Lift
from foamwright.model.masses import Masses
from foamwright.model.slow_flight import SLENDER
from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.flight.launch_plane import LaunchPlane
from foamwright.plane.plane import Plane

FASTEST = 2.0
"""Airspeed up to which the drive is solved, over the larger of release and stall speed."""

STALL_WIDTHS = (float(np.deg2rad(30.0)), float(np.deg2rad(12.0)))
"""Angle from the stall to a plate's lift for slender and for other wings [rad]: the vortices of a
slender wing hold its lift far beyond; common practice."""

LEAST_DRAG = 0.01
"""Drag coefficient no such plane goes below [-]."""


class Ready(Protocol):
    """What the launch asks of a computable plane."""

    plane: Plane

    @property
    def air(self) -> AirState: ...  # noqa: D102 - the stages of ComputablePlane
    @property
    def masses(self) -> Masses: ...  # noqa: D102
    @property
    def lift(self) -> Lift: ...  # noqa: D102
    @property
    def maximum_lift(self) -> tuple[Samples, tuple[str, ...]]: ...  # noqa: D102
    @property
    def stall_speed(self) -> Samples: ...  # noqa: D102
    @property
    def drag(self) -> PlaneDrag: ...  # noqa: D102
    @property
    def drive(self) -> DriveModel | None: ...  # noqa: D102
    @property
    def derivatives(self) -> Derivatives: ...  # noqa: D102
    @property
    def inertia_tensor(self) -> Samples: ...  # noqa: D102
    @property
    def launch_inputs(self) -> LaunchInputs: ...  # noqa: D102
    @property
    def launch_body(self) -> LaunchPlane: ...  # noqa: D102
    @property
    def launch_power(self) -> PowerTable: ...  # noqa: D102


def has_motor(plane: Plane) -> bool:
    """Return whether there is anything of a drive: a glider has none of it."""
    return any(item.kind in ("motor", "propeller") for item in plane.items)


def power_of(computed: Ready, throttles: Grid = THROTTLES) -> PowerTable:
    """Return the drive by throttle, or none for a glider."""
    if computed.drive is None:
        return no_power(computed.masses.all_up.size)
    inputs = computed.launch_inputs
    line = off_the_line(inputs, computed.masses.all_up)
    leaving = inputs.speed if line is None else line.speed
    fast = float(np.quantile(np.maximum(leaving, computed.stall_speed), 0.9))
    return power_table(computed.drive, computed.masses.centre, FASTEST * fast, throttles)


def written_of(plane: Plane) -> Written:
    """Return what the plane file tells of the throw; a pilot steers where it does not."""
    thrower = plane.thrower
    throttle = None if thrower.throttle is None else thrower.throttle.value
    angle, steers = thrower.angle is not None, thrower.steers or "pilot"
    return Written(steers=steers, throttle=throttle, angle=angle)


def body_of(computed: Ready) -> LaunchPlane:
    """Return mass, inertia, lift and drag."""
    air, lift = computed.derivatives, computed.lift
    density = computed.air.density
    constant, square, fourth = fitted_drag(computed.drag, computed.stall_speed, density, air.area)
    inertia = computed.inertia_tensor
    return LaunchPlane(
        mass=computed.masses.all_up,
        inertia_roll=inertia[:, 0, 0],
        inertia_pitch=inertia[:, 1, 1],
        inertia_yaw=inertia[:, 2, 2],
        inertia_product=-inertia[:, 0, 2],
        density=density,
        maximum_lift=computed.maximum_lift[0] * lift.area / air.area,
        stall_width=np.full(
            air.area.size, float(np.interp(lift.aspect_ratio, SLENDER, STALL_WIDTHS))
        ),
        drag_constant=np.maximum(constant, LEAST_DRAG),
        drag_square=square,
        drag_fourth=fourth,
        half_span=0.5 * air.span,
    )


def setup_of(computed: Ready, throttle: float | None = None) -> LaunchSetup:
    """Return what throws of this plane are made of: at all throttles, or about one."""
    body, air = computed.launch_body, computed.derivatives
    if throttle is None or "launch_power" in vars(computed):
        power = computed.launch_power
    else:
        power = power_of(computed, around(throttle))
    wanted = body.maximum_lift / TRIM_SPEED**2
    elevator = trimmed_elevator(air, wanted)
    return LaunchSetup(
        plane=body,
        air=air,
        inputs=computed.launch_inputs,
        power=power,
        stall_speed=computed.stall_speed,
        elevator=elevator,
        nose=(wanted - air.CL0 - air.CLde * elevator) / air.CLa,
        travel=control_travel(computed.plane.airframe),
    )


def launch_assumed(computed: Ready) -> tuple[str, ...]:
    """Return what was assumed of the throw, the steering and the air."""
    plane, said = computed.plane, list(computed.launch_inputs.assumed)
    travel = control_travel(plane.airframe)
    if not travel.pitches:
        said.append(
            "no elevator, elevon or V-tail control drawn: it cannot be trimmed, so it flies as the "
            "foam balances, and nobody can hold its nose"
        )
    elif plane.thrower.up_trim is None:
        said.append(f"pitch control set for level flight at {TRIM_SPEED} times the stall speed")
    if not travel.rolls:
        said.append("no aileron or elevon drawn: bank is held with the rudder, if there is one")
    if plane.thrower.steers is None:
        said.append(f"steered by a pilot whose first correction comes after {REACTION} s")
    if travel.guessed:
        said.append("controls whose travel is not written move 20 degrees")
    said.append(
        "left out: ground effect, the propeller's wash over wing and tail, its spin as a gyroscope"
    )
    said.append("hand, gusts and steering spread as common practice has it")
    return tuple(said)

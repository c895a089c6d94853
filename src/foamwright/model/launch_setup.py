"""Plane, drive and hands put together as throws that the flight stage can follow."""

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from foamwright.model.drag import PlaneDrag
from foamwright.model.drive import DriveModel
from foamwright.model.launch_inputs import LaunchInputs, off_the_line
from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.drive.equilibrium import at_throttle
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.flight.launch_plane import Hands, LaunchPlane, Power, Release, Throw, some
from foamwright.physics.flight.throwing import thrown_speed
from foamwright.plane.airframe import Airframe
from foamwright.quantity import Quantity

GRAVITY = 9.80665
"""[m s^-2]."""

Steers = Literal["hands off", "pilot", "stabiliser"]

THROTTLES: Grid = np.array([0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0])
"""Throttles of the map."""

SPEEDS = 6
"""Airspeeds at which the drive is solved before the throw."""

TRIM_SPEED = 1.2
"""Speed the pitch control is set for, over the stall speed [-]; common practice."""

TRAVEL = float(np.deg2rad(20.0))
"""Travel of controls that state none [rad]; common practice."""

CLIMB = float(np.deg2rad(5.0))
"""Climb away that pilot and stabiliser look for, above the attitude of level flight at the trim
speed [rad]; common practice. A slender delta then has its nose 20 degrees up, a glider 10."""

STEEPEST_NOSE = float(np.deg2rad(35.0))
"""Nose beyond which nobody pulls on [rad]."""

REACTION = 0.35
"""When a pilot's correction arrives [s]: 0.2 s to see, 0.15 s for thumb, link and servo; common
practice."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Touch:
    """How somebody or something steers: the answer it wants of the plane, and its limits."""

    begin: float
    """When it begins [s]."""
    stiffness: float
    """Angular acceleration per angle [s^-2]."""
    damping: float
    """Angular acceleration per rate [s^-1]."""
    angle_most: float
    """Most control per angle: full travel at 20 to 40 degrees [-]."""
    rate_most: float
    """Most control per rate [s]."""


TOUCHES: Mapping[Steers, Touch] = {
    "hands off": Touch(begin=np.inf, stiffness=0.0, damping=0.0, angle_most=0.0, rate_most=0.0),
    "pilot": Touch(begin=REACTION, stiffness=30.0, damping=2.0, angle_most=0.5, rate_most=0.03),
    "stabiliser": Touch(begin=0.0, stiffness=80.0, damping=8.0, angle_most=0.8, rate_most=0.08),
}
"""A pilot brings a wing back in about a third of a second, a stabiliser in half of that, where the
controls are strong enough; common practice."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Travel:
    """What the controls can do."""

    up: float
    """Pitch control, trailing edge up [rad]."""
    down: float
    """Pitch control, trailing edge down [rad]."""
    roll: float
    """Roll control, either way [rad]."""
    pitches: bool
    """Whether there is a pitch control."""
    rolls: bool
    """Whether there is an aileron or elevon."""
    guessed: bool
    """Whether some travel was not written."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LaunchSetup:
    """What throws are made of; all samples of the ensemble."""

    plane: LaunchPlane
    """The plane."""
    air: Derivatives
    """Its derivatives."""
    inputs: LaunchInputs
    """The throw."""
    power: "PowerTable"
    """The drive by throttle."""
    stall_speed: Samples
    """(n,) [m s^-1]."""
    elevator: Samples
    """Set for level flight at `TRIM_SPEED` (n,) [rad]; nothing where there is none."""
    nose: Samples
    """Angle of attack in that flight (n,) [rad]."""
    travel: Travel
    """Of the controls."""
    thrust_factor: float = 1.0
    """For the question what a stronger drive would do."""

    @property
    def samples(self) -> int:
        """Number of samples."""
        return self.stall_speed.size


@dataclass(frozen=True, kw_only=True, slots=True)
class PowerTable:
    """Thrust and torque as squares of airspeed at some throttles."""

    throttle: Grid
    """(t,) [-]; one of 0 where there is no motor."""
    thrust: Samples
    """(t, n, 3) [N and powers of s m^-1]."""
    torque: Samples
    """(t, n, 3) [N m likewise]."""
    arm: Samples
    """(n,) [m]."""
    fastest: float
    """[m s^-1]."""
    misfit: float
    """Largest error of the squares over the thrust standing still [-]."""


def no_power(samples: int) -> PowerTable:
    """Return the drive of a glider."""
    still = np.zeros((1, samples, 3))
    return PowerTable(
        throttle=np.zeros(1),
        thrust=still,
        torque=still,
        arm=np.zeros(samples),
        fastest=1.0,
        misfit=0.0,
    )


def around(throttle: float) -> Grid:
    """Return the throttles of the map that `at_setting` reads for one throttle."""
    above = min(int(np.searchsorted(THROTTLES, throttle)), THROTTLES.size - 1)
    exact = above == 0 or float(THROTTLES[above]) == throttle
    return THROTTLES[above : above + 1] if exact else THROTTLES[above - 1 : above + 1]


def power_table(
    model: DriveModel, centre: Samples, fastest: float, throttles: Grid = THROTTLES
) -> PowerTable:
    """Return the drive by throttle, up to an airspeed [m s^-1].

    A launch is nearly flown standing still, so the propeller is taken as it is at rest, where
    labels and bench readings tell it best.
    """
    speeds = np.linspace(0.0, fastest, SPEEDS)
    powers = np.stack([np.ones(SPEEDS), speeds, speeds**2], axis=1)
    inverse = np.linalg.pinv(powers)
    thrust, torque, misfit = [], [], 0.0
    for throttle in throttles:
        found = at_throttle(model.at_rest, speeds[None, :], float(throttle), 1.0)
        thrust.append(found.thrust @ inverse.T)
        torque.append(found.torque @ inverse.T)
        wrong = np.abs(thrust[-1] @ powers.T - found.thrust).max(axis=1)
        misfit = max(misfit, float(np.median(wrong / np.maximum(found.thrust[:, 0], 1e-6))))
    return PowerTable(
        throttle=throttles,
        thrust=np.stack(thrust),
        torque=np.stack(torque),
        arm=model.thrust_height - centre[:, 2],
        fastest=fastest,
        misfit=misfit,
    )


def at_setting(table: PowerTable, throttle: float) -> tuple[Samples, Samples]:
    """Return thrust and torque (n, 3) at a throttle between those of the table.

    Below the first both fall with the square of the throttle, as revolutions go with it.
    """
    first = float(table.throttle[0])
    if throttle <= first or table.throttle.size == 1:
        share = 1.0 if first == 0.0 else (throttle / first) ** 2
        return share * table.thrust[0], share * table.torque[0]
    index = int(np.clip(np.searchsorted(table.throttle, throttle), 1, table.throttle.size - 1))
    low, high = table.throttle[index - 1], table.throttle[index]
    part = (throttle - low) / (high - low)
    thrust = (1.0 - part) * table.thrust[index - 1] + part * table.thrust[index]
    torque = (1.0 - part) * table.torque[index - 1] + part * table.torque[index]
    return thrust, torque


def fitted_drag(
    drag: PlaneDrag, stall_speed: Samples, density: Samples, area: Samples
) -> tuple[Samples, Samples, Samples]:
    """Return drag coefficient at no lift, per CL^2 and per CL^4 (n,) from level flight.

    Only speeds near those of a launch count, from the stall to twice its speed, so that the small
    sections' Reynolds number is the right one. Errors count by their share, as in the drag itself.
    """
    speed = drag.speed[None, :]
    CD = drag.drag / (0.5 * (density * area)[:, None] * speed**2)
    ratio = speed / stall_speed[:, None]
    weight = 1.0 / (1.0 + np.exp(-(ratio - 1.0) / 0.02)) / (1.0 + np.exp((ratio - 2.2) / 0.1))
    square = drag.lift_coefficient**2
    powers = np.stack([np.ones_like(square), square, square**2], axis=-1) / CD[..., None]
    left = np.einsum("nk,nka,nkb->nab", weight, powers, powers)
    right = np.einsum("nk,nka->na", weight, powers)
    found = np.linalg.solve(left, right[..., None])[..., 0]
    return found[:, 0], np.maximum(found[:, 1], 0.0), np.maximum(found[:, 2], 0.0)


def trimmed_elevator(air: Derivatives, wanted: Samples) -> Samples:
    """Return the elevator (n,) [rad] that holds a lift coefficient without motor."""
    gain = air.Cmde - air.Cma * air.CLde / air.CLa
    balance = air.Cm0 + air.Cma * (wanted - air.CL0) / air.CLa
    return np.where(np.abs(gain) < 1e-9, 0.0, -balance / np.where(gain == 0.0, 1.0, gain))


def control_travel(airframe: Airframe) -> Travel:
    """Return what the controls can do; the usual travel where none is written."""
    controls = [control for surface in airframe.surfaces for control in surface.controls]
    pitch = [c for c in controls if c.role in ("elevator", "elevon", "ruddervator")]
    roll = [c for c in controls if c.role in ("aileron", "elevon")]

    def least(travels: list[Quantity | None]) -> float:
        return min((t.value for t in travels if t is not None and t.value > 0.0), default=TRAVEL)

    ups, downs = [c.throw_up for c in pitch], [c.throw_down for c in pitch]
    both = [travel for c in roll for travel in (c.throw_up, c.throw_down)]
    return Travel(
        up=least(ups),
        down=least(downs),
        roll=least(both),
        pitches=bool(pitch),
        rolls=bool(roll),
        guessed=any(travel is None for travel in (*ups, *downs, *both)),
    )


def control_gains(touch: Touch, strength: Samples) -> tuple[float, float]:
    """Return control per angle [-] and per rate [s] for angular accelerations per control (n,).

    Nobody knows the plane's own strength to a tenth: the middle one is what the gains are set for.
    """
    middle = max(float(np.median(np.abs(strength))), 1e-6)
    return (
        min(touch.stiffness / middle, touch.angle_most),
        min(touch.damping / middle, touch.rate_most),
    )


def pulling(air: Derivatives) -> float:
    """Return 1 where trailing edge up raises the nose, -1 on a canard, where it lowers it."""
    return -1.0 if float(np.median(air.Cmde)) > 0.0 else 1.0


def hands_of(setup: LaunchSetup, steers: Steers) -> Hands:
    """Return who steers."""
    touch, inputs, air, plane = TOUCHES[steers], setup.inputs, setup.air, setup.plane
    load = 0.5 * plane.density * (TRIM_SPEED * setup.stall_speed) ** 2 * air.area
    rolls = air.Clda if setup.travel.rolls else air.Cldr
    bank, roll = control_gains(touch, load * air.span * rolls / plane.inertia_roll)
    pitch, rate = control_gains(touch, load * air.chord * air.Cmde / plane.inertia_pitch)
    moves = 1.0 if setup.travel.pitches else 0.0
    pulls = pulling(air)

    def every(value: float) -> Samples:
        return np.full(setup.samples, value)

    return Hands(
        elevator=moves * (setup.elevator - pulls * inputs.up_trim + inputs.trim_error),
        aileron=every(0.0),
        begin=every(touch.begin),
        bank_gain=every(bank),
        roll_gain=every(roll),
        rudder_share=every(0.0 if setup.travel.rolls else 1.0),
        pitch_wanted=np.sin(np.minimum(setup.nose + CLIMB, STEEPEST_NOSE)),
        pitch_gain=every(pulls * moves * pitch),
        rate_gain=every(pulls * moves * rate),
        elevator_up=every(setup.travel.up),
        elevator_down=every(setup.travel.down),
        aileron_limit=every(setup.travel.roll),
    )


def power_at(setup: LaunchSetup, throttle: float) -> Power:
    """Return the drive at a throttle."""
    thrust, torque = at_setting(setup.power, throttle)
    thrust, torque = setup.thrust_factor * thrust, setup.thrust_factor * torque
    return Power(
        thrust_constant=thrust[:, 0],
        thrust_linear=thrust[:, 1],
        thrust_square=thrust[:, 2],
        torque_constant=torque[:, 0],
        torque_linear=torque[:, 1],
        torque_square=torque[:, 2],
        arm=setup.power.arm,
        fastest=np.full(setup.samples, setup.power.fastest),
        delay=setup.inputs.delay,
        ramp=setup.inputs.ramp,
    )


def release_of(setup: LaunchSetup, angle: float | None) -> Release:
    """Return the moment of release for an angle wanted [rad]; as written where it is none."""
    inputs = setup.inputs
    path = inputs.angle if angle is None else angle + inputs.angle_error
    speed, incidence = inputs.speed, inputs.uneven["incidence"]
    line = off_the_line(inputs, setup.plane.mass)
    if line is not None and inputs.bungee is not None:
        path = inputs.bungee.slope if angle is None else path
        # The hook holds the nose up against the pull; the wing's own stability holds it down.
        speed, incidence = line.speed, incidence + np.minimum(line.incidence, 0.17)
    rates = {name: inputs.uneven[name] for name in ("roll_rate", "pitch_rate", "yaw_rate")}
    return Release(
        height=inputs.height,
        speed=speed,
        climb_angle=path,
        incidence=incidence,
        bank=inputs.uneven["bank"],
        sideslip=inputs.uneven["sideslip"],
        head_wind=inputs.head_wind,
        cross_wind=inputs.cross_gust,
        down_wind=inputs.down_gust,
        **rates,
    )


def throw_of(
    setup: LaunchSetup,
    steers: Steers,
    *,
    throttle: float,
    angle: float | None = None,
    first: int | None = None,
) -> Throw:
    """Return the throws of all samples, or of the `first` ones."""
    whole = Throw(
        plane=setup.plane,
        air=setup.air,
        power=power_at(setup, throttle),
        hands=hands_of(setup, steers),
        release=release_of(setup, angle),
    )
    return whole if first is None else some(whole, np.arange(setup.samples) < first)


def lighter(setup: LaunchSetup, mass: float) -> LaunchSetup:
    """Return the same plane with less mass [kg], taken out evenly; the arm throws it faster."""
    plane = setup.plane
    ratio = np.maximum(plane.mass - mass, 0.3 * plane.mass) / plane.mass
    inertia = {
        name: getattr(plane, name) * ratio
        for name in ("inertia_roll", "inertia_pitch", "inertia_yaw", "inertia_product")
    }
    stall = setup.stall_speed * np.sqrt(ratio)
    speed = thrown_speed(setup.inputs.speed, plane.mass, plane.mass * ratio)
    return dataclasses.replace(
        setup,
        plane=dataclasses.replace(plane, mass=plane.mass * ratio, **inertia),
        inputs=dataclasses.replace(setup.inputs, speed=speed),
        stall_speed=stall,
    )

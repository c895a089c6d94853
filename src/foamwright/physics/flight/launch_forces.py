"""Forces and moments on a plane that was just thrown, through the stall, and its motion."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.launch_plane import Hands, LaunchPlane, Power, Throw

GRAVITY = 9.80665
"""Standard acceleration of free fall [m s^-2]."""

PLATE_DRAG = 1.2
"""Drag coefficient of a plate square to the wind, aspect ratio 2 to 6 [-]."""

UPSIDE_DOWN = 0.8
"""Largest lift the other way up over the largest lift; common practice, thin sections."""

STALLED_POWER = 0.4
"""What is left of controls and roll damping on a wing that is no more than a plate; common
practice."""

STEEPEST = float(np.deg2rad(35.0))
"""Angle of attack beyond which the pitching moment grows no more: a plate's centre of pressure
stays at its middle."""

SLOWEST = 1.0
"""Airspeed below which rates are no longer divided by it [m s^-1]."""

STATES = 13
"""Position ahead, right, down; speed along the body's axes; quaternion; roll, pitch, yaw rate."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stall:
    """Lift and drag of the wing, attached and as a plate."""

    CL: Samples
    """(n,) [-]."""
    CD: Samples
    """(n,) [-]."""
    alpha: Samples
    """Angle of attack (n,) [rad]."""
    grip: Samples
    """What is left of controls and roll damping (n,) [-]."""


def wing(throw: Throw, along: Samples, across: Samples, other: Samples) -> Stall:
    """Return lift and drag at airspeeds along the body and square to it.

    Linear up to the largest lift, then down to a plate's, whose force is square to it and grows
    with the sine of its angle.

    Parameters
    ----------
    throw : Throw
        n throws.
    along : (n,) [m s^-1]
        Airspeed along the body.
    across : (n,) [m s^-1]
        Airspeed from below.
    other : (n,) [-]
        Lift coefficient from pitch rate and controls.

    Returns
    -------
    Stall [-]

    Source
    ------
    hoerner-1965, common-practice, own-derivation
    """
    plane, air = throw.plane, throw.air
    alpha = np.arctan2(across, along)
    top = (plane.maximum_lift - air.CL0) / air.CLa
    bottom = (-UPSIDE_DOWN * plane.maximum_lift - air.CL0) / air.CLa
    held = np.minimum(np.maximum(alpha, bottom), top)
    stalled = np.minimum(np.abs(alpha - held) / plane.stall_width, 1.0)
    square = along * along + across * across + 1e-12
    plate = PLATE_DRAG * across / square
    CL = air.CL0 + air.CLa * held + other
    squared = CL * CL
    CD = plane.drag_constant + squared * (plane.drag_square + squared * plane.drag_fourth)
    return Stall(
        CL=CL + stalled * (plate * along - CL),
        CD=CD + stalled * (plate * across + plane.drag_constant - CD),
        alpha=alpha,
        grip=1.0 - (1.0 - STALLED_POWER) * stalled,
    )


def _steered(
    hands: Hands, time: float, seen: tuple[Samples, Samples], rates: Samples
) -> tuple[Samples, Samples]:
    """Return elevator and aileron (n,) [rad], each within its travel.

    `seen` are the sines of the nose's elevation and of the bank.
    """
    (nose, right), acts = seen, time >= hands.begin
    aileron = hands.bank_gain * right + hands.roll_gain * rates[0]
    elevator = hands.rate_gain * rates[1] - hands.pitch_gain * (hands.pitch_wanted - nose)
    elevator = hands.elevator + np.where(acts, elevator, 0.0)
    aileron = hands.aileron - np.where(acts, aileron, 0.0)
    return (
        np.minimum(np.maximum(elevator, -hands.elevator_up), hands.elevator_down),
        np.minimum(np.maximum(aileron, -hands.aileron_limit), hands.aileron_limit),
    )


def _running(power: Power, time: float) -> Samples:
    """Return the share of thrust and torque that is there (n,) [-].

    Revolutions grow evenly while the speed controller ramps up; thrust and torque go with their
    square. Without delay the motor runs already when the plane is released.
    """
    turns = np.clip((time - power.delay) / np.maximum(power.ramp, 1e-6), 0.0, 1.0)
    share: Samples = np.where(power.delay <= 0.0, 1.0, turns * turns)
    return share


def _moments(
    throw: Throw,
    flow: tuple[Samples, Samples, Samples, Samples],
    found: Stall,
    controls: tuple[Samples, Samples],
) -> tuple[Samples, Samples, Samples, Samples]:
    """Return side force, rolling, pitching and yawing moment over dynamic pressure (n,).

    `flow` is sideslip and the dimensionless roll, pitch and yaw rate.
    """
    air, CL, grip = throw.air, found.CL, found.grip
    beta, p, q, r = flow
    elevator, aileron = controls
    rudder = throw.hands.rudder_share * aileron
    aileron, gripped = aileron * grip, p * grip
    side = air.CYb * beta + air.CYp * p + air.CYr * r + air.CYda * aileron + air.CYdr * rudder
    roll = (
        (air.Clb + air.Clb_CL * CL) * beta
        + air.Clp * gripped
        + (air.Clr + air.Clr_CL * CL) * r
        + air.Clda * aileron
        + air.Cldr * rudder
    )
    bent = np.minimum(np.maximum(found.alpha, -STEEPEST), STEEPEST)
    pitch = air.Cm0 + air.Cma * bent + air.Cmq * q + air.Cmde * grip * elevator
    yaw = (
        air.Cnb * beta
        + (air.Cnp + air.Cnp_CL * CL) * p
        + air.Cnr * r
        + (air.Cnda + air.Cnda_CL * CL) * aileron
        + air.Cndr * rudder
    )
    return side, roll * air.span, pitch * air.chord, yaw * air.span


def _turning(
    plane: LaunchPlane, rates: Samples, moment: tuple[Samples, Samples, Samples]
) -> tuple[Samples, Samples, Samples]:
    """Return angular accelerations of a plane that is alike left and right (n,) [rad s^-2]."""
    p, q, r = rates
    A, B, C, E = (
        plane.inertia_roll,
        plane.inertia_pitch,
        plane.inertia_yaw,
        plane.inertia_product,
    )
    pq, qr = p * q, q * r
    roll = moment[0] + (B - C) * qr + E * pq
    yaw = moment[2] + (A - B) * pq - E * qr
    pitch = moment[1] + (C - A) * r * p + E * (r * r - p * p)
    over = 1.0 / (A * C - E * E)
    return (C * roll + E * yaw) * over, pitch / B, (A * yaw + E * roll) * over


def attitude(state: Samples) -> Samples:
    """Return the body's axes in the ground's, (3, 3, n), of states (13, n).

    Parameters
    ----------
    state : (13, n) [-]
        As in `motion`.

    Returns
    -------
    (3, 3, n) [-]

    Source
    ------
    stevens-lewis-2003
    """
    vector = state[7:10]
    double = vector + vector
    found = np.empty((3, 3, state.shape[1]), dtype=state.dtype)
    bb, cc, dd = double * vector
    ab, ac, ad = double * state[6]
    bc, bd = double[0] * vector[1:]
    cd = double[1] * vector[2]
    left = 1.0 - dd
    np.subtract(left, cc, out=found[0, 0])
    np.subtract(left, bb, out=found[1, 1])
    np.subtract(1.0 - bb, cc, out=found[2, 2])
    np.subtract(bc, ad, out=found[0, 1])
    np.add(bc, ad, out=found[1, 0])
    np.add(bd, ac, out=found[0, 2])
    np.subtract(bd, ac, out=found[2, 0])
    np.subtract(cd, ab, out=found[1, 2])
    np.add(cd, ab, out=found[2, 1])
    return found


def motion(throw: Throw, state: Samples, time: float) -> Samples:
    """Return how the state of n throws changes.

    Parameters
    ----------
    throw : Throw
        n throws.
    state : (13, n) [-]
        Place ahead, to the right, down [m]; speed along the body's axes [m s^-1]; quaternion;
        roll, pitch and yaw rate [rad s^-1]. Samples last, so that each quantity lies in one piece.
    time : float [s]
        Since the release.

    Returns
    -------
    (13, n) [s^-1]

    Valid
    -----
    A rigid plane, alike left and right; no ground effect, no propeller wash over wing and tail,
    no spin of the propeller as a gyroscope.

    Source
    ------
    stevens-lewis-2003, own-derivation
    """
    plane, power, release = throw.plane, throw.power, throw.release
    axes, rates, (u, v, w) = attitude(state), state[10:13], state[3:6]
    nose, right, belly = axes[2]
    wind = release.cross_wind * axes[1] + release.down_wind * axes[2] - release.head_wind * axes[0]
    relative = state[3:6] - wind
    along, aside, across = relative
    squares = relative * relative
    plane_wise = squares[0] + squares[2] + 1e-9
    fast = np.sqrt(plane_wise + squares[1])
    slow = 0.5 / np.maximum(fast, SLOWEST)
    wide, deep = slow * throw.air.span, slow * throw.air.chord
    flow = (aside / fast, rates[0] * wide, rates[1] * deep, rates[2] * wide)
    controls = _steered(throw.hands, time, (-nose, right), rates)
    found = wing(throw, along, across, throw.air.CLq * flow[2] + throw.air.CLde * controls[0])
    side, roll, pitch, yaw = _moments(throw, flow, found, controls)
    pressure = 0.5 * plane.density * throw.air.area * fast * fast
    ahead = np.minimum(np.maximum(along, 0.0), power.fastest)
    there = _running(power, time)
    thrust = there * (
        power.thrust_constant + ahead * (power.thrust_linear + ahead * power.thrust_square)
    )
    torque = there * (
        power.torque_constant + ahead * (power.torque_linear + ahead * power.torque_square)
    )
    level = found.CL / np.sqrt(plane_wise)
    drag = found.CD / fast
    over = pressure / plane.mass
    change = np.empty_like(state)
    change[0:3] = axes[:, 0] * u + axes[:, 1] * v + axes[:, 2] * w
    p, q, r = rates
    change[3] = over * (level * across - drag * along) + thrust / plane.mass + GRAVITY * nose
    change[3] += r * v - q * w
    change[4] = over * (side - drag * aside) + GRAVITY * right + p * w - r * u
    change[5] = GRAVITY * belly - over * (level * along + drag * across) + q * u - p * v
    half, (b, c, d) = 0.5 * rates, state[7:10]
    change[6] = -(half * state[7:10]).sum(axis=0)
    change[7:10] = state[6] * half
    change[7] += c * half[2] - d * half[1]
    change[8] += d * half[0] - b * half[2]
    change[9] += b * half[1] - c * half[0]
    change[10:13] = _turning(
        plane,
        rates,
        (pressure * roll - torque, pressure * pitch - thrust * power.arm, pressure * yaw),
    )
    return change

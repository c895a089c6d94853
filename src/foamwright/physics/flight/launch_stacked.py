"""What stays the same all through the flight of n throws, stacked for few array operations.

A thousand throws are so few numbers that calling an operation costs as much as computing it. So
what is alike stands in one array, and factors that never change are multiplied once: derivatives
become accelerations over the square of the airspeed.
"""

import dataclasses
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.launch_plane import LaunchPlane, Throw

UPSIDE_DOWN = 0.8
"""Largest lift the other way up over the largest lift; common practice, thin sections."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Stacked:
    """n throws; samples last in every array."""

    wind: Samples
    """Blowing ahead, to the right and up (3, n) [m s^-1]."""
    stall: Samples
    """Angle of attack of the stall the other way up and upright (2, n) [rad]."""
    over_width: Samples
    """One over the angle from the stall to a plate (n,) [rad^-1]."""
    lift: Samples
    """Lift at no angle of attack, per angle, per pitch rate over airspeed, per elevator (4, n)
    [powers of m and rad]."""
    drag: Samples
    """Drag at no lift, per CL^2, per CL^4 (3, n) [-]."""
    load: Samples
    """Acceleration per coefficient and square of the airspeed (n,) [m^-1]."""
    sideways: Samples
    """Acceleration to the right, of roll and of yaw, over the square of the airspeed, by the
    signals of `launch_forces.signals` (3, 10, n) [powers of m and rad]."""
    pitching: Samples
    """Acceleration of pitch over the square of the airspeed: always, per angle of attack, per pitch
    rate over airspeed, per elevator (4, n) [powers of m and rad]."""
    spinning: Samples
    """Acceleration of roll and yaw by roll times pitch rate and by pitch times yaw rate
    (2, 2, n) [-]."""
    tumbling: Samples
    """Acceleration of pitch by roll times yaw rate, by yaw rate squared less roll rate squared
    (2, n) [-]."""
    power: Samples
    """Thrust and torque: standing still, per airspeed, per its square (3, 2, n) [N, N m and powers
    of s m^-1]."""
    pull: Samples
    """Acceleration ahead and of pitch by thrust, of roll and yaw by torque (4, n) [kg^-1 and
    powers of m]."""
    fastest: Samples
    """Airspeed up to which the drive's curves hold (n,) [m s^-1]."""
    start: Samples
    """When the motor starts (n,) [s]; minus infinity where it runs when released."""
    over_ramp: Samples
    """One over the time from the start to full revolutions (n,) [s^-1]."""
    begin: Samples
    """When steering begins (n,) [s]."""
    setting: Samples
    """Elevator and aileron of free hands (2, n) [rad]."""
    wanted: Samples
    """What whoever steers adds to both at no attitude and no rate (2, n) [rad]."""
    by_attitude: Samples
    """What is added by the sines of dive and bank (2, n) [rad]."""
    by_rate: Samples
    """What is added by pitch and roll rate (2, n) [s]."""
    travel: Samples
    """Least and largest of both (2, 2, n) [rad]."""
    half_span: Samples
    """From the middle to the wing tip (n,) [m]."""


def some_stacked(flight: Stacked, kept: NDArray[np.intp]) -> Stacked:
    """Return the throws of some indices.

    Parameters
    ----------
    flight : Stacked
        n throws.
    kept : (m,) [-]
        Their places, whole numbers.

    Returns
    -------
    Stacked [-]

    Source
    ------
    own-derivation
    """
    names = [field.name for field in dataclasses.fields(flight)]
    return Stacked(**{name: np.take(getattr(flight, name), kept, axis=-1) for name in names})


def _solved(plane: LaunchPlane, roll: Samples, yaw: Samples) -> Samples:
    """Return accelerations of roll and yaw by moments of roll and yaw (2, ..., n)."""
    A, C, E = plane.inertia_roll, plane.inertia_yaw, plane.inertia_product
    over = 1.0 / (A * C - E * E)
    return np.stack([(C * roll + E * yaw) * over, (A * yaw + E * roll) * over])


def _sideways(throw: Throw, pressure: Samples) -> Samples:
    """Return side acceleration, roll and yaw by each signal (3, 10, n).

    The signals are sideslip, roll and yaw rate and aileron that still grips; the same four times
    the lift coefficient; the roll rate that is still damped; the aileron set, which a rudder
    follows. `pressure` is dynamic pressure times area over the square of the airspeed (n,).
    """
    air, plane, share = throw.air, throw.plane, throw.hands.rudder_share
    half, none = 0.5 * air.span, np.zeros_like(air.span)
    side = [air.CYb, air.CYp * half, air.CYr * half, air.CYda, none, none, none, none, none]
    roll = [air.Clb, none, air.Clr * half, air.Clda, air.Clb_CL, none, air.Clr_CL * half, none]
    yaw = [air.Cnb, air.Cnp * half, air.Cnr * half, air.Cnda, none, air.Cnp_CL * half, none]
    side += [air.CYdr * share]
    roll += [air.Clp * half, air.Cldr * share]
    yaw += [air.Cnda_CL, none, air.Cndr * share]
    turned = pressure * air.span * np.array([roll, yaw])
    return np.concatenate([[pressure / plane.mass * np.array(side)], _solved(plane, *turned)])


def _free_turning(plane: LaunchPlane) -> tuple[Samples, Samples]:
    """Return what a body turning freely does to its own rates (2, 2, n) and (2, n)."""
    A, B, C, E = plane.inertia_roll, plane.inertia_pitch, plane.inertia_yaw, plane.inertia_product
    spinning = np.stack([_solved(plane, E, A - B), _solved(plane, B - C, -E)], axis=1)
    return spinning, np.stack([(C - A) / B, E / B])


def _steering(throw: Throw) -> dict[str, Samples]:
    """Return what whoever steers does to elevator and aileron."""
    hands = throw.hands
    none = np.zeros_like(hands.elevator)
    least = [-hands.elevator_up, -hands.aileron_limit]
    return {
        "begin": hands.begin,
        "setting": np.stack([hands.elevator, hands.aileron]),
        "wanted": np.stack([-hands.pitch_gain * hands.pitch_wanted, none]),
        "by_attitude": np.stack([-hands.pitch_gain, -hands.bank_gain]),
        "by_rate": np.stack([hands.rate_gain, -hands.roll_gain]),
        "travel": np.array([least, [hands.elevator_down, hands.aileron_limit]]),
    }


def _driving(throw: Throw) -> dict[str, Samples]:
    """Return what the drive does."""
    power, plane = throw.power, throw.plane
    none = np.zeros_like(power.arm)
    return {
        "power": np.array(
            [
                [power.thrust_constant, power.torque_constant],
                [power.thrust_linear, power.torque_linear],
                [power.thrust_square, power.torque_square],
            ]
        ),
        "pull": np.stack(
            [1.0 / plane.mass, -power.arm / plane.inertia_pitch, *_solved(plane, none - 1.0, none)]
        ),
        "fastest": power.fastest,
        "start": np.where(power.delay <= 0.0, -np.inf, power.delay).astype(power.delay.dtype),
        "over_ramp": 1.0 / np.maximum(power.ramp, 1e-6),
    }


def stacked(throw: Throw) -> Stacked:
    """Return throws ready to be followed.

    Parameters
    ----------
    throw : Throw
        n throws.

    Returns
    -------
    Stacked [-]

    Source
    ------
    stevens-lewis-2003, own-derivation
    """
    plane, air, release = throw.plane, throw.air, throw.release
    pressure = 0.5 * plane.density * air.area
    half = 0.5 * air.chord
    spinning, tumbling = _free_turning(plane)
    turn = pressure * air.chord / plane.inertia_pitch
    top = plane.maximum_lift
    return Stacked(
        wind=np.stack([-release.head_wind, release.cross_wind, -release.down_wind]),
        stall=np.stack([-UPSIDE_DOWN * top - air.CL0, top - air.CL0]) / air.CLa,
        over_width=1.0 / plane.stall_width,
        lift=np.stack([air.CL0, air.CLa, air.CLq * half, air.CLde]),
        drag=np.stack([plane.drag_constant, plane.drag_square, plane.drag_fourth]),
        load=pressure / plane.mass,
        sideways=_sideways(throw, pressure),
        pitching=turn * np.stack([air.Cm0, air.Cma, air.Cmq * half, air.Cmde]),
        spinning=spinning,
        tumbling=tumbling,
        half_span=plane.half_span,
        **_driving(throw),
        **_steering(throw),
    )

"""Small motions about level flight: how they swing, settle or grow.

Stability axes: x along the flow, z down; u, w, q, pitch lengthwise and v, p, r, bank sideways.
"""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.flight.derivatives import Derivatives

GRAVITY = 9.80665
"""Standard acceleration of free fall [m s^-2]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LevelFlight:
    """Steady level flight of n samples."""

    speed: Samples
    """Airspeed (n,) [m s^-1]."""
    density: Samples
    """Air density (n,) [kg m^-3]."""
    mass: Samples
    """Mass (n,) [kg]."""
    inertia: Samples
    """Inertia tensor in stability axes (n, 3, 3) [kg m^2]."""
    lift: Samples
    """Lift coefficient (n,) [-]."""
    drag: Samples
    """Drag coefficient (n,) [-]."""
    drag_slope: Samples
    """Drag coefficient per angle of attack (n,) [rad^-1]."""
    thrust_slope: Samples
    """Thrust per airspeed (n,) [N s m^-1]; a propeller's is negative."""
    downwash_lag: Samples
    """Pitching moment coefficient per rate of angle of attack times c/2V (n,) [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Oscillation:
    """A pair of roots of n samples."""

    frequency: Samples
    """Natural frequency (n,) [rad s^-1]; not a number where one root grows and one decays."""
    damping: Samples
    """Damping ratio (n,) [-]; above one it does not swing."""
    growth: Samples
    """Real part of the slower root (n,) [s^-1]: negative settles, positive grows."""
    swings: Flags
    """Whether the pair is conjugate (n,)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LateralModes:
    """The three sideways motions of n samples."""

    dutch_roll: Oscillation
    """Tail wagging with roll."""
    roll: Samples
    """Root of the roll (n,) [s^-1]."""
    spiral: Samples
    """Root of the slow bank (n,) [s^-1]; positive winds up."""
    coupled: Flags
    """Where roll and bank swing together instead (n,); both roots are then its real part."""


def turned_inertia(inertia: Samples, angle: Samples) -> Samples:
    """Return the inertia tensor in stability axes.

    Parameters
    ----------
    inertia : (n, 3, 3) [kg m^2]
        In body axes, x forward, y right, z down.
    angle : (n,) [rad]
        Angle of attack of the body's x axis.

    Returns
    -------
    (n, 3, 3) [kg m^2]

    Source
    ------
    etkin-1996
    """
    c, s, zero, one = np.cos(angle), np.sin(angle), np.zeros_like(angle), np.ones_like(angle)
    rows = [[c, zero, s], [zero, one, zero], [-s, zero, c]]
    turn = np.stack([np.stack(row, axis=-1) for row in rows], axis=-2)
    return np.asarray(turn @ inertia @ np.swapaxes(turn, -1, -2))


def pitch_matrix(derivatives: Derivatives, flight: LevelFlight) -> Samples:
    """Return the rates of change of u, w, q and pitch per each of them.

    Parameters
    ----------
    derivatives : Derivatives
        About the centre of gravity.
    flight : LevelFlight
        The steady flight.

    Returns
    -------
    (n, 4, 4) [s^-1]
        In m/s, rad/s and rad.

    Source
    ------
    nelson-1998
    """
    d, V = derivatives, flight.speed
    force = 0.5 * flight.density * V * d.area / flight.mass
    moment = 0.5 * flight.density * V * d.area * d.chord / flight.inertia[:, 1, 1]
    half = 0.5 * d.chord / V
    Zu, Zw = -2.0 * flight.lift * force, -(d.CLa + flight.drag) * force
    Zq = V - d.CLq * half * V * force
    late = flight.downwash_lag * half * moment / V  # per vertical acceleration
    A = np.zeros((V.size, 4, 4))
    A[:, 0, 0] = -2.0 * flight.drag * force + flight.thrust_slope / flight.mass
    A[:, 0, 1] = (flight.lift - flight.drag_slope) * force
    A[:, 0, 3] = -GRAVITY
    A[:, 1, 0], A[:, 1, 1], A[:, 1, 2] = Zu, Zw, Zq
    A[:, 2, 0] = late * V * Zu
    A[:, 2, 1] = d.Cma * moment + late * V * Zw
    A[:, 2, 2] = d.Cmq * half * moment * V + late * V * Zq
    A[:, 3, 2] = 1.0
    return A


def roll_yaw_matrix(derivatives: Derivatives, flight: LevelFlight) -> Samples:
    """Return the rates of change of v, p, r and bank per each of them.

    Parameters
    ----------
    derivatives : Derivatives
        About the centre of gravity.
    flight : LevelFlight
        The steady flight; the parts that grow with lift are taken at its lift.

    Returns
    -------
    (n, 4, 4) [s^-1]
        In m/s, rad/s and rad.

    Source
    ------
    nelson-1998
    """
    d, V, CL = derivatives, flight.speed, flight.lift
    force = 0.5 * flight.density * V * d.area / flight.mass
    half = 0.5 * d.span
    roll = [d.Clb + d.Clb_CL * CL, d.Clp * half, (d.Clr + d.Clr_CL * CL) * half]
    yaw = [d.Cnb, (d.Cnp + d.Cnp_CL * CL) * half, d.Cnr * half]
    torque = 0.5 * flight.density * V * d.area * d.span
    moments = np.stack([np.stack(roll, axis=-1), np.stack(yaw, axis=-1)], axis=-2)
    axes = flight.inertia[:, ::2, ::2]
    A = np.zeros((V.size, 4, 4))
    A[:, 0, 0] = d.CYb * force
    A[:, 0, 1] = d.CYp * half * force
    A[:, 0, 2] = d.CYr * half * force - V
    A[:, 0, 3] = GRAVITY
    A[:, 1:3, :3] = np.linalg.solve(axes, moments * torque[:, None, None])
    A[:, 3, 1] = 1.0
    return A


def pitch_modes(matrix: Samples) -> tuple[Oscillation, Oscillation]:
    """Return the fast and the slow motion in pitch: short period and phugoid.

    Parameters
    ----------
    matrix : (n, 4, 4) [s^-1]
        As from `pitch_matrix`.

    Returns
    -------
    Oscillation, Oscillation [-]
        Where the balance is so far aft that only one pair swings, that pair is the slow one.

    Source
    ------
    nelson-1998, own-derivation
    """
    roots = _by_size(matrix)
    # A pair between two real roots in size is the slow oscillation of an unstable plane.
    between = (np.abs(roots[:, 1].imag) > 0.0) & (np.abs(roots[:, 3].imag) == 0.0)
    between &= np.abs(roots[:, 0].imag) == 0.0
    order = np.where(between[:, None], [0, 3, 1, 2], [2, 3, 0, 1])
    roots = np.take_along_axis(roots, order, axis=1)
    return _oscillation(roots[:, :2]), _oscillation(roots[:, 2:])


def roll_yaw_modes(matrix: Samples) -> LateralModes:
    """Return Dutch roll, roll and spiral.

    Parameters
    ----------
    matrix : (n, 4, 4) [s^-1]
        As from `roll_yaw_matrix`.

    Returns
    -------
    LateralModes [-]

    Source
    ------
    nelson-1998, own-derivation
    """
    roots = _by_size(matrix)
    real = np.abs(roots.imag) == 0.0
    count = real.sum(axis=1)
    index = np.arange(4)
    slowest = np.where(count == 2, np.where(real, index, 9).min(axis=1), 0)  # the smaller real
    fastest = np.where(count == 2, np.where(real, index, -1).max(axis=1), 1)
    # All real: the roll is the one that dies fastest, whatever else diverges.
    alone = count == 4
    fastest = np.where(alone, np.argmin(roots.real, axis=1), fastest)
    slowest = np.where(alone & (fastest == 0), 1, slowest)
    rows = np.arange(len(roots))
    taken = (index == slowest[:, None]) | (index == fastest[:, None])
    rest = np.argsort(taken, axis=1, kind="stable")[:, :2]
    return LateralModes(
        dutch_roll=_oscillation(np.take_along_axis(roots, rest, axis=1)),
        roll=roots[rows, fastest].real.copy(),
        spiral=roots[rows, slowest].real.copy(),
        coupled=count == 0,
    )


def time_to_half(growth: Samples) -> Samples:
    """Return how long a motion takes to fall to half; without end where it does not.

    Parameters
    ----------
    growth : (n,) [s^-1]
        Real part of its root.

    Returns
    -------
    (n,) [s]

    Source
    ------
    etkin-1996
    """
    return _time(-growth)


def time_to_double(growth: Samples) -> Samples:
    """Return how long a motion takes to grow to twice; without end where it does not.

    Parameters
    ----------
    growth : (n,) [s^-1]
        Real part of its root.

    Returns
    -------
    (n,) [s]

    Source
    ------
    etkin-1996
    """
    return _time(growth)


def _time(rate: Samples) -> Samples:
    return np.where(rate > 0.0, np.log(2.0) / np.where(rate > 0.0, rate, 1.0), np.inf)


def _by_size(matrix: Samples) -> np.ndarray:
    roots = np.linalg.eigvals(matrix).astype(complex)
    order = np.argsort(np.abs(roots), axis=1, kind="stable")
    return np.take_along_axis(roots, order, axis=1)


def _oscillation(pair: np.ndarray) -> Oscillation:
    product = (pair[:, 0] * pair[:, 1]).real
    stiff = product > 0.0
    frequency = np.sqrt(np.where(stiff, product, np.nan))
    return Oscillation(
        frequency=frequency,
        damping=-0.5 * (pair[:, 0] + pair[:, 1]).real / frequency,
        growth=pair.real.max(axis=1),
        swings=np.abs(pair[:, 0].imag) > 0.0,
    )

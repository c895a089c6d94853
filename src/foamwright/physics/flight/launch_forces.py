"""Forces and moments on a plane that was just thrown, through the stall, and its motion."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.launch_stacked import Stacked

GRAVITY = 9.80665
"""Standard acceleration of free fall [m s^-2]."""

PLATE_DRAG = 1.2
"""Drag coefficient of a plate square to the wind, aspect ratio 2 to 6 [-]."""

STALLED_POWER = 0.4
"""What is left of controls and roll damping on a wing that is no more than a plate; common
practice."""

STEEPEST = float(np.deg2rad(35.0))
"""Angle of attack beyond which the pitching moment grows no more: a plate's centre of pressure
stays at its middle."""

SLOWEST = 1.0
"""Airspeed below which rates are no longer divided by it [m s^-1]."""

STATES, PLACED = 10, 15
"""Height; airspeed along the body's axes; where down is in them; roll, pitch and yaw rate. A throw
whose place is told too: where ahead is, and how far it came ahead and to the right. Nothing that
happens to a plane hangs on its heading or its place."""


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


@dataclass(frozen=True, kw_only=True, slots=True)
class Moment:
    """What hangs on the time since the release alone."""

    acts: Samples
    """1 where somebody steers by now, else 0 (n,) [-]."""
    running: Samples
    """Share of thrust and torque that is there (n,) [-]."""


def moment(flight: Stacked, time: float | Samples) -> Moment:
    """Return who steers and how far the motors run at a time.

    Revolutions grow evenly while the speed controller ramps up; thrust and torque go with their
    square. Without delay the motor runs already when the plane is released.

    Parameters
    ----------
    flight : Stacked
        n throws.
    time : (n,) [s]
        Since the release, of each throw; or one for all.

    Returns
    -------
    Moment [-]

    Source
    ------
    own-derivation
    """
    turns = np.minimum(np.maximum((time - flight.start) * flight.over_ramp, 0.0), 1.0)
    return Moment(
        acts=(time >= flight.begin).astype(flight.begin.dtype),
        running=turns * turns,
    )


def wing(flight: Stacked, along: Samples, across: Samples, other: Samples) -> Stall:
    """Return lift and drag at airspeeds along the body and square to it.

    Linear up to the largest lift, then down to a plate's, whose force is square to it and grows
    with the sine of its angle.

    Parameters
    ----------
    flight : Stacked
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
    (CL0, CLa, _, _), (constant, square, fourth) = flight.lift, flight.drag
    alpha = np.arctan2(across, along)
    held = np.minimum(np.maximum(alpha, flight.stall[0]), flight.stall[1])
    stalled = np.minimum(np.abs(alpha - held) * flight.over_width, 1.0)
    plate = PLATE_DRAG * across / (along * along + across * across + 1e-12)
    CL = CLa * held
    CL += CL0
    CL += other
    squared = CL * CL
    CD = constant + squared * (square + squared * fourth)
    CL += stalled * (plate * along - CL)
    CD += stalled * (plate * across + constant - CD)
    return Stall(CL=CL, CD=CD, alpha=alpha, grip=1.0 - (1.0 - STALLED_POWER) * stalled)


def _steered(flight: Stacked, acts: Samples, down: Samples, rates: Samples) -> Samples:
    """Return elevator and aileron (2, n) [rad], each within its travel."""
    found = flight.by_attitude * down[:2]
    found += flight.by_rate * rates[1::-1]
    found += flight.wanted
    found *= acts
    found += flight.setting
    held: Samples = np.minimum(np.maximum(found, flight.travel[0]), flight.travel[1])
    return held


def signals(beta: Samples, turned: Samples, aileron: Samples, found: Stall) -> Samples:
    """Return all that pushes a plane sideways, rolls and yaws it.

    Parameters
    ----------
    beta : (n,) [rad]
        Sideslip.
    turned : (3, n) [m^-1]
        Roll, pitch and yaw rate over the airspeed.
    aileron : (n,) [rad]
        Rolls right.
    found : Stall
        What the wing does.

    Returns
    -------
    (10, n) [powers of m and rad]
        Sideslip, roll and yaw rate and aileron that still grips; the same four times the lift
        coefficient; the roll rate that is still damped; the aileron set.

    Source
    ------
    stevens-lewis-2003, common-practice
    """
    told = np.empty((10, beta.size), dtype=beta.dtype)
    told[0] = beta
    told[1:3] = turned[::2]
    np.multiply(aileron, found.grip, out=told[3])
    np.multiply(told[:4], found.CL, out=told[4:8])
    np.multiply(turned[0], found.grip, out=told[8])
    told[9] = aileron
    return told


def _pitching(flight: Stacked, found: Stall, rate: Samples, elevator: Samples) -> Samples:
    """Return the acceleration of pitch over the square of the airspeed (n,)."""
    always, by_angle, by_rate, by_elevator = flight.pitching
    told: Samples = by_angle * np.minimum(np.maximum(found.alpha, -STEEPEST), STEEPEST)
    told += always
    told += by_rate * rate
    told += by_elevator * (found.grip * elevator)
    return told


def _pulled(flight: Stacked, running: Samples, along: Samples, change: Samples) -> None:
    """Add what thrust does ahead and to pitch, what torque does to roll and yaw."""
    ahead = np.minimum(np.maximum(along, 0.0), flight.fastest)
    constant, linear, square = flight.power
    both = ahead * square
    both += linear
    both *= ahead
    both += constant
    both *= running
    change[1:9:7] += flight.pull[:2] * both[0]
    change[7:10:2] += flight.pull[2:] * both[1]


def _carried(flight: Stacked, state: Samples) -> Samples:
    """Return how states change by their own motion and gravity alone; rates stay."""
    change, rates = np.empty_like(state), state[7:10]
    # Airspeed and the direction down, each crossed with the rates.
    vectors, crossed = (one[1:7].reshape(2, 3, -1) for one in (state, change))
    each = vectors[:, :, None] * rates
    for row, (one, other) in enumerate(((1, 2), (2, 0), (0, 1))):
        np.subtract(each[:, one, other], each[:, other, one], out=crossed[:, row])
    np.einsum("in,in->n", vectors[0], vectors[1], out=change[0])
    np.subtract(flight.wind[2], change[0], out=change[0])
    change[1:4] += GRAVITY * vectors[1]
    change[7:10] = 0.0
    return change


def _placed(flight: Stacked, state: Samples, change: Samples) -> None:
    """Write down how the direction ahead and the place change."""
    speed, down, rates, ahead = state[1:4], state[4:7], state[7:10], state[10:13]
    change[10:13] = np.cross(ahead, rates, axis=0)
    change[13] = (ahead * speed).sum(axis=0) + flight.wind[0]
    change[14] = (np.cross(down, ahead, axis=0) * speed).sum(axis=0) + flight.wind[1]


def _spun(flight: Stacked, rates: Samples, change: Samples) -> None:
    """Add what a body turning freely does to its own rates."""
    p, q, r = rates
    change[7:10:2] += np.einsum("ijn,jn->in", flight.spinning, q * rates[::2])
    change[8] += flight.tumbling[0] * (r * p)
    change[8] += flight.tumbling[1] * ((r - p) * (r + p))


def motion(flight: Stacked, state: Samples, now: Moment) -> Samples:
    """Return how the state of n throws changes.

    The air is the frame: in a steady wind it is as good as the ground, and nothing but height and
    place has to know of the wind.

    Parameters
    ----------
    flight : Stacked
        n throws.
    state : (10, n) [-]
        Height [m]; airspeed along the body's axes [m s^-1]; the direction down in them; roll, pitch
        and yaw rate [rad s^-1]. Or (15, n): also the direction ahead, and the place ahead and to
        the right [m]. Samples last, so that each quantity lies in one piece.
    now : Moment
        Who steers by now and how far the motors run.

    Returns
    -------
    (10, n) [s^-1]
        Or (15, n).

    Valid
    -----
    A rigid plane, alike left and right, in a steady wind; no ground effect, no propeller wash over
    wing and tail, no spin of the propeller as a gyroscope.

    Source
    ------
    stevens-lewis-2003, own-derivation
    """
    relative, rates = state[1:4], state[7:10]
    along, aside, across = relative
    squares = relative * relative
    level_squared = squares[0] + squares[2]
    level_squared += 1e-9
    squared = level_squared + squares[1]
    fast = np.sqrt(squared)
    turned = rates / np.maximum(fast, SLOWEST)
    elevator, aileron = _steered(flight, now.acts, state[4:7], rates)
    other = flight.lift[2] * turned[1]
    other += flight.lift[3] * elevator
    found = wing(flight, along, across, other)
    told = signals(aside / fast, turned, aileron, found)
    pushed = np.einsum("ijn,jn->in", flight.sideways, told)
    pushed *= squared
    load = flight.load * squared
    lift = load * found.CL
    lift /= np.sqrt(level_squared)
    load *= found.CD
    load /= fast
    change = _carried(flight, state)
    change[1:4] -= load * relative
    change[1] += lift * across
    change[2] += pushed[0]
    change[3] -= lift * along
    change[7:10:2] += pushed[1:]
    change[8] += _pitching(flight, found, turned[1], elevator) * squared
    _spun(flight, rates, change)
    _pulled(flight, now.running, along, change)
    if len(state) == PLACED:
        _placed(flight, state, change)
    return change

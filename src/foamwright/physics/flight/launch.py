"""Thousands of throws at once, from the hand to three seconds later or to the ground."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.flight.launch_forces import STATES, attitude, motion
from foamwright.physics.flight.launch_plane import Release, Throw, some

HORIZON = 3.0
"""How long a launch is watched [s]: after it the plane flies, or lies in the grass."""

STEP = 0.03
"""Longest step of the integration [s]."""

QUICK_STEP = 1.6
"""Largest step over the shortest time constant of roll and pitch: beyond 2.8 the integration would
run away."""

GAINED = 1.4
"""Airspeed gained on the way, for the shortest time constant [-]."""

MOST_BANK = float(np.deg2rad(75.0))
"""Bank beyond which a launch is lost: lift no longer carries at any speed such a plane has."""

FEWEST_DROPPED = 0.12
"""Share of finished throws from which it pays to take them out."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Flown:
    """What became of n throws."""

    clearance: Samples
    """Least height of the lower wing tip above the ground (n,) [m]; 0 where it touched."""
    height: Samples
    """Of the centre of gravity at the end (n,) [m]."""
    airspeed: Samples
    """At the end (n,) [m s^-1]."""
    climb: Samples
    """Upwards at the end (n,) [m s^-1]."""
    bank: Samples
    """Largest, either way (n,) [rad]."""
    time: Samples
    """How long it was watched: to the end, the ground or the lost bank (n,) [s]."""
    state: Samples
    """At the end (13, n), as in `launch_forces.motion`."""
    clean: Flags
    """Never touched, never banked beyond saving, not about to touch within the next second."""


def first_state(release: Release) -> Samples:
    """Return the state in the moment of release.

    Parameters
    ----------
    release : Release
        n throws.

    Returns
    -------
    (13, n) [-]

    Source
    ------
    stevens-lewis-2003
    """
    pitch, bank = release.climb_angle + release.incidence, release.bank
    yaw = -release.sideslip
    state = np.zeros((STATES, bank.size), dtype=bank.dtype)
    cp, sp = np.cos(pitch / 2), np.sin(pitch / 2)
    cb, sb = np.cos(bank / 2), np.sin(bank / 2)
    cy, sy = np.cos(yaw / 2), np.sin(yaw / 2)
    state[6] = cb * cp * cy + sb * sp * sy
    state[7] = sb * cp * cy - cb * sp * sy
    state[8] = cb * sp * cy + sb * cp * sy
    state[9] = cb * cp * sy - sb * sp * cy
    state[2] = -release.height
    axes = attitude(state)
    ahead = release.speed * np.cos(release.climb_angle)
    up = release.speed * np.sin(release.climb_angle)
    state[3:6] = ahead * axes[0] - up * axes[2]
    state[10], state[11], state[12] = release.roll_rate, release.pitch_rate, release.yaw_rate
    return state


def _leaning(state: Samples) -> tuple[Samples, Samples]:
    """Return how far down the right wing and the belly point (n,) [-], of states (13, n)."""
    a, b, c, d = state[6:10]
    return 2.0 * (c * d + a * b), 1.0 - 2.0 * (b * b + c * c)


def quickest(throw: Throw) -> Samples:
    """Return the quickest rate of roll and pitch, steering included, at a speed soon reached.

    The angle and the rate that are fed back each count by their own rate.

    Parameters
    ----------
    throw : Throw
        n throws.

    Returns
    -------
    (n,) [s^-1]

    Source
    ------
    stevens-lewis-2003, own-derivation
    """
    plane, air, hands, release = throw.plane, throw.air, throw.hands, throw.release
    fast = GAINED * (release.speed + np.maximum(release.head_wind, 0.0))
    load = 0.5 * plane.density * fast**2 * air.area
    roll, pitch = load * air.span / plane.inertia_roll, load * air.chord / plane.inertia_pitch
    damped = 0.5 * np.abs(air.Clp) * air.span / fast + np.abs(air.Clda) * hands.roll_gain
    nodding = 0.5 * np.abs(air.Cmq) * air.chord / fast + np.abs(air.Cmde * hands.rate_gain)
    heave = load * np.abs(air.CLa) / (plane.mass * fast)
    stiff = np.maximum(
        roll * np.abs(air.Clda) * hands.bank_gain,
        pitch * (np.abs(air.Cma) + np.abs(air.Cmde * hands.pitch_gain)),
    )
    found: Samples = np.maximum(np.maximum(roll * damped, pitch * nodding + heave), np.sqrt(stiff))
    return found


def longest_step(throw: Throw) -> float:
    """Return a step short enough for the quickest motion of nearly all throws.

    Parameters
    ----------
    throw : Throw
        n throws.

    Returns
    -------
    float [s]

    Source
    ------
    own-derivation
    """
    fast = float(np.quantile(quickest(throw), 0.98))
    return min(STEP, QUICK_STEP / max(fast, 1e-6))


def _stepped(throw: Throw, state: Samples, time: float, step: float) -> Samples:
    """Return the state one Runge-Kutta step of fourth order later."""
    first = motion(throw, state, time)
    second = motion(throw, state + (0.5 * step) * first, time + 0.5 * step)
    third = motion(throw, state + (0.5 * step) * second, time + 0.5 * step)
    last = motion(throw, state + step * third, time + step)
    found: Samples = state + (step / 6.0) * (first + 2.0 * (second + third) + last)
    found[6:10] /= np.sqrt((found[6:10] ** 2).sum(axis=0))
    return found


class _Watch:
    """What is kept of each throw while the finished ones leave the batch."""

    def __init__(self, throw: Throw, state: Samples) -> None:
        count = state.shape[1]
        self.throw, self.state = throw, state
        self.index = np.arange(count)
        self.end = state.copy()
        self.clearance, self.upright = np.full(count, np.inf), np.ones(count)
        self.time = np.zeros(count)
        self._batch()
        self.seen(0.0)

    def _batch(self) -> None:
        """Begin to watch the throws now in the batch."""
        self.live = np.ones(self.index.size, dtype=bool)
        kind = self.state.dtype
        self.low = self.clearance[self.index].astype(kind)
        self.straight = self.upright[self.index].astype(kind)
        self.last, self.final = np.zeros(self.index.size), self.state

    def seen(self, time: float) -> None:
        """Look at all throws in the batch, and take the finished ones out when they are many."""
        right, belly = _leaning(self.state)
        above = -self.state[2] - self.throw.plane.half_span * np.abs(right)
        upright = belly / np.maximum(np.hypot(right, belly), 1e-6)
        live = self.live
        if live.all():
            self.low, self.straight = (
                np.minimum(self.low, above),
                np.minimum(self.straight, upright),
            )
            self.last[:], self.final = time, self.state
        else:
            self.low = np.where(live, np.minimum(self.low, above), self.low)
            self.straight = np.where(live, np.minimum(self.straight, upright), self.straight)
            self.last[live] = time
            self.final = np.where(live, self.state, self.final)
        self.live = live & (above > 0.0) & (upright > np.cos(MOST_BANK)) & np.isfinite(above)
        if 1.0 - self.live.mean() > FEWEST_DROPPED:
            self.kept()
            self.throw = some(self.throw, self.live)
            self.state = np.ascontiguousarray(self.state[:, self.live])
            self.index = self.index[self.live]
            self._batch()

    def kept(self) -> None:
        """Write down what was seen of the throws in the batch."""
        self.clearance[self.index] = self.low
        self.upright[self.index] = self.straight
        self.time[self.index] = self.last
        self.end[:, self.index] = self.final


def flown(throw: Throw, horizon: float = HORIZON) -> Flown:
    """Return what becomes of n throws.

    Runge-Kutta of fourth order with one step for all; throws that touched or banked beyond
    saving are no longer followed.

    Parameters
    ----------
    throw : Throw
        n throws.
    horizon : float [s]
        How long they are watched.

    Returns
    -------
    Flown [-]

    Valid
    -----
    As `launch_forces.motion`.

    Source
    ------
    stevens-lewis-2003, own-derivation
    """
    step = longest_step(throw)
    steps = int(np.ceil(horizon / step - 1e-9))
    step = horizon / steps
    watch = _Watch(throw, first_state(throw.release))
    with np.errstate(over="ignore", invalid="ignore"):  # a throw that ran away is lost, and told
        for number in range(steps):
            if not watch.live.any():
                break
            watch.state = _stepped(watch.throw, watch.state, number * step, step)
            watch.seen((number + 1) * step)
    watch.kept()
    return _told(throw, watch)


def _told(throw: Throw, watch: _Watch) -> Flown:
    """Return what was seen, in the ground's axes and relative to the air."""
    release = throw.release
    # A throw that ran away in the last step is lost; it lies on the ground, standing still.
    state = np.nan_to_num(np.clip(watch.end, -1e6, 1e6), nan=0.0)
    axes = attitude(state)
    over_ground = axes[:, 0] * state[3] + axes[:, 1] * state[4] + axes[:, 2] * state[5]
    wind = np.stack([-release.head_wind, release.cross_wind, release.down_wind])
    bank = np.arccos(np.clip(np.nan_to_num(watch.upright, nan=-1.0), -1.0, 1.0))
    clearance = np.maximum(np.nan_to_num(watch.clearance, nan=0.0), 0.0)
    low = -state[2] - throw.plane.half_span * np.abs(axes[2, 1])
    return Flown(
        clearance=clearance,
        height=-state[2],
        airspeed=np.sqrt(((over_ground - wind) ** 2).sum(axis=0)),
        climb=-over_ground[2],
        bank=bank,
        time=watch.time,
        state=state,
        clean=(clearance > 0.0) & (bank < MOST_BANK) & (low - over_ground[2] > 0.0),
    )

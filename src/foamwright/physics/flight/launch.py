"""Thousands of throws at once, from the hand to three seconds later or to the ground."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.flight.launch_forces import PLACED, STATES, Moment, moment, motion
from foamwright.physics.flight.launch_plane import Release, Throw
from foamwright.physics.flight.launch_stacked import Stacked, some_stacked, stacked

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
    """At the end (10, n) or (15, n), as in `launch_forces.motion`."""
    clean: Flags
    """Never touched, never banked beyond saving, not about to touch within the next second."""


def directions(release: Release) -> Samples:
    """Return where ahead, right and down are in the body's axes in the moment of release.

    Parameters
    ----------
    release : Release
        n throws.

    Returns
    -------
    (3, 3, n) [-]

    Source
    ------
    stevens-lewis-2003
    """
    pitch, bank, yaw = release.climb_angle + release.incidence, release.bank, -release.sideslip
    cp, sp, cb, sb = np.cos(pitch), np.sin(pitch), np.cos(bank), np.sin(bank)
    cy, sy = np.cos(yaw), np.sin(yaw)
    return np.array(
        [
            [cp * cy, sb * sp * cy - cb * sy, cb * sp * cy + sb * sy],
            [cp * sy, sb * sp * sy + cb * cy, cb * sp * sy - sb * cy],
            [-sp, sb * cp, cb * cp],
        ]
    )


def first_state(release: Release, *, placed: bool = False) -> Samples:
    """Return the state in the moment of release.

    Parameters
    ----------
    release : Release
        n throws.
    placed : bool [-]
        Whether heading and place are told too.

    Returns
    -------
    (10, n) [-]
        Or (15, n): as in `launch_forces.motion`.

    Source
    ------
    stevens-lewis-2003
    """
    ahead, right, down = directions(release)
    state = np.zeros((PLACED if placed else STATES, release.bank.size), dtype=release.bank.dtype)
    state[0] = release.height
    state[1:4] = (release.speed * np.cos(release.climb_angle) + release.head_wind) * ahead
    state[1:4] -= release.cross_wind * right
    state[1:4] -= (release.speed * np.sin(release.climb_angle) + release.down_wind) * down
    state[4:7] = down
    state[7], state[8], state[9] = release.roll_rate, release.pitch_rate, release.yaw_rate
    if placed:
        state[10:13] = ahead
    return state


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


def _stepped(
    flight: Stacked, state: Samples, during: tuple[Moment, Moment, Moment], step: Samples
) -> Samples:
    """Return the state one Runge-Kutta step of fourth order later.

    `during` are the moments of its begin, middle and end.
    """
    half, whole, sixth = (part.astype(state.dtype) for part in (0.5 * step, step, step / 6.0))
    first = motion(flight, state, during[0])
    second = motion(flight, state + half * first, during[1])
    third = motion(flight, state + half * second, during[1])
    last = motion(flight, state + whole * third, during[2])
    second += third
    second *= 2.0
    second += first
    second += last
    second *= sixth
    second += state
    down = second[4:7]
    down /= np.sqrt(np.einsum("in,in->n", down, down))
    return second


class _Watch:
    """What is kept of each throw while the finished ones leave the batch."""

    def __init__(self, throw: Throw, state: Samples, steps: Samples, horizon: float) -> None:
        count = state.shape[1]
        self.flight, self.state = stacked(throw), state
        self.steps, self.horizon = steps, horizon
        self.index = np.arange(count)
        self.low, self.straight = (np.full(count, one, state.dtype) for one in (np.inf, 1.0))
        self.live = np.ones(count, dtype=bool)
        self.end = state.copy()
        self.clearance, self.upright, self.time = np.zeros((3, count))
        self.seen(0)

    @property
    def step(self) -> Samples:
        """How long a step of each throw in the batch is (n,) [s]."""
        return self.horizon / self.steps

    def at(self, number: float) -> Moment:
        """Return the moment after a number of steps."""
        return moment(self.flight, (number * self.step).astype(self.state.dtype))

    def go_on(self, number: int) -> None:
        """Follow the batch for one step more."""
        during = (self.at(number - 1.0), self.at(number - 0.5), self.at(number))
        self.state = _stepped(self.flight, self.state, during, self.step)
        self.seen(number)

    def seen(self, number: int) -> None:
        """Look at all throws in the batch, and take the finished ones out when they are many."""
        height, right, belly = self.state[0], self.state[5], self.state[6]
        above = height - self.flight.half_span * np.abs(right)
        upright = belly / np.maximum(np.sqrt(right * right + belly * belly), 1e-6)
        self.low = np.minimum(self.low, above)
        self.straight = np.minimum(self.straight, upright)
        flies = (above > 0.0) & (upright > np.cos(MOST_BANK)) & np.isfinite(above)
        arrived = self.live & flies & (number >= self.steps)
        ended = (self.live & ~flies) | arrived
        if ended.any():
            self._kept(ended, np.where(arrived, self.horizon, number * self.step))
            self.live &= ~ended
            if 1.0 - self.live.mean() > FEWEST_DROPPED:
                self._dropped()

    def _dropped(self) -> None:
        """Take the finished throws out of the batch."""
        left = np.flatnonzero(self.live)
        self.flight = some_stacked(self.flight, left)
        self.state = np.take(self.state, left, axis=1)
        self.index, self.live, self.steps = self.index[left], self.live[left], self.steps[left]
        self.low, self.straight = self.low[left], self.straight[left]

    def _kept(self, these: Flags, time: Samples) -> None:
        """Write down what was seen of some throws in the batch."""
        places = self.index[these]
        self.clearance[places] = self.low[these]
        self.upright[places] = self.straight[these]
        self.time[places] = time[these]
        self.end[:, places] = self.state[:, these]


def flown(
    throw: Throw,
    horizon: float = HORIZON,
    *,
    placed: bool = False,
    step: float | Samples | None = None,
) -> Flown:
    """Return what becomes of n throws.

    Runge-Kutta of fourth order with even steps; throws that touched or banked beyond saving are no
    longer followed.

    Parameters
    ----------
    throw : Throw
        n throws.
    horizon : float [s]
        How long they are watched.
    placed : bool [-]
        Whether heading and place are followed too.
    step : (n,) [s]
        Longest step of each, or one for all; by these throws where none is given. A throw ends the
        same whoever is followed beside it.

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
    longest = longest_step(throw) if step is None else step
    steps = np.ceil(horizon / np.broadcast_to(longest, throw.plane.mass.shape) - 1e-9)
    watch = _Watch(throw, first_state(throw.release, placed=placed), steps, horizon)
    number = 0
    with np.errstate(over="ignore", invalid="ignore"):  # a throw that ran away is lost, and told
        while watch.live.any():
            number += 1
            watch.go_on(number)
    return _told(throw, watch)


def _told(throw: Throw, watch: _Watch) -> Flown:
    """Return what was seen, in the ground's axes and relative to the air."""
    # A throw that ran away in the last step is lost; it lies on the ground, standing still.
    state = np.nan_to_num(np.clip(watch.end, -1e6, 1e6), nan=0.0)
    height, speed, down = state[0], state[1:4], state[4:7]
    climb = -(down * speed).sum(axis=0) - throw.release.down_wind
    bank = np.arccos(np.clip(np.nan_to_num(watch.upright, nan=-1.0), -1.0, 1.0))
    clearance = np.maximum(np.nan_to_num(watch.clearance, nan=0.0), 0.0)
    low = height - throw.plane.half_span * np.abs(down[1])
    return Flown(
        clearance=clearance,
        height=height,
        airspeed=np.sqrt((speed**2).sum(axis=0)),
        climb=climb,
        bank=bank,
        time=watch.time,
        state=state,
        clean=(clearance > 0.0) & (bank < MOST_BANK) & (low + climb > 0.0),
    )

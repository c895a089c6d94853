"""A rate loop of known truth, many flights at once, independent of what reads it.

Plant and servo are first-order lags stepped exactly at 1 kHz, the dead time is whole steps, and the
controller turns the surface against the measured rate. Gusts are a torque with a memory of its own,
the gyro adds noise, the surface has ends. Nothing here is shared with the model under test; the
poles of the loop come from its characteristic equation, solved with the dead time as it is.
"""

from dataclasses import dataclass

import numpy as np
from scipy.signal import lfilter

from foamwright.debrief.recording import Gap, Recording

LOOP = 1e-3
"""Step of the loop [s]."""


@dataclass(frozen=True, kw_only=True)
class Loop:
    """One aeroplane with its stabiliser."""

    gain: float = 15.7
    """Roll rate for full aileron [rad/s], 900 degrees a second."""
    roll_in: float = 0.060
    """Time constant of the roll [s]."""
    servo: float = 0.018
    """Time constant of the servo [s]."""
    delay: float = 0.020
    """Dead time [s]."""
    turn: float = 0.05
    """Aileron per rate that is off [s]."""
    ahead: float = 0.03
    """Aileron per rate wanted [s]."""
    gust: float = 0.7
    """Roll rate that gusts alone would make, one sigma [rad/s]."""
    memory: float = 0.3
    """How long a gust lasts [s]."""
    noise: float = 0.03
    """Of the gyro, one sigma at 1 kHz [rad/s]."""

    @property
    def lag(self) -> float:
        """Total lag from aileron to roll rate [s]."""
        return self.roll_in + self.servo + self.delay


def unstable_turn(loop: Loop) -> float:
    """Return the gain at which the loop wobbles for ever: phase -180 degrees by bisection [s]."""
    low, high = 1.0, 500.0
    for _ in range(80):
        w = 0.5 * (low + high)
        phase = w * loop.delay + np.arctan(w * loop.roll_in) + np.arctan(w * loop.servo)
        low, high = (w, high) if phase < np.pi else (low, w)
    return float(np.hypot(1.0, w * loop.roll_in) * np.hypot(1.0, w * loop.servo) / loop.gain)


def pole(loop: Loop) -> tuple[float, float]:
    """Return frequency [Hz] and damping of the loop's slowest swing, by Newton's method."""
    a, b, d, k = loop.roll_in, loop.servo, loop.delay, loop.gain * loop.turn
    found = []
    for start in (x + 1j * y for x in (-2.0, -8.0, -20.0) for y in np.arange(5.0, 90.0, 5.0)):
        s = start
        for _ in range(60):
            late = k * np.exp(-s * d)
            f = (a * s + 1) * (b * s + 1) + late
            s = s - f / (a * (b * s + 1) + b * (a * s + 1) - d * late)
        f = (a * s + 1) * (b * s + 1) + k * np.exp(-s * d)
        if abs(f) < 1e-9 and s.imag > 1e-3:
            found.append(s)
    slowest = min(found, key=lambda s: (abs(s), s.real))
    size = abs(slowest)
    return float(slowest.imag / 2 / np.pi), float(-slowest.real / size)


@dataclass(frozen=True, kw_only=True)
class Flown:
    """Many flights of one loop (seeds, rows) at 1 kHz."""

    time: np.ndarray
    wanted: np.ndarray
    aileron: np.ndarray
    rate: np.ndarray

    def at(self, hertz: int, seed: int = 0, *, mean: bool = False) -> Recording:
        """Return one flight as a log writes it: rows picked, or means of all since the last."""
        every = round(1.0 / (hertz * LOOP))
        time = self.time[::every]
        channels = {}
        for name, values in (
            ("roll_rate", self.rate),
            ("roll_rate_wanted", self.wanted),
            ("aileron", self.aileron),
        ):
            row = values[seed]
            whole = row[: row.size // every * every].reshape(-1, every)
            channels[name] = (whole.mean(axis=1) if mean else whole[:, 0]).copy()
        return Recording(
            time=time[: channels["aileron"].size], channels=channels, step=every * LOOP
        )


def sticks(time: np.ndarray, seeds: int, random: np.random.Generator) -> np.ndarray:
    """Return rates a pilot asks for: a new one every second or so, up to 170 degrees a second."""
    held = np.zeros((seeds, time.size))
    for row in held:
        place = 0
        while place < row.size:
            last = int(random.uniform(300, 1500))
            row[place : place + last] = random.choice((0.0, 1.0)) * random.uniform(-3.0, 3.0)
            place += last
    share = np.exp(-LOOP / 0.04)
    smooth: np.ndarray = lfilter([1.0 - share], [1.0, -share], held, axis=1)
    return smooth


def fly(
    loop: Loop,
    seconds: float = 30.0,
    seeds: int = 1,
    *,
    start: int = 1,
    wanted: np.ndarray | None = None,
    turn: np.ndarray | None = None,
) -> Flown:
    """Return flights; `wanted` (rows,) replaces the sticks, `turn` (rows,) the gain."""
    random = np.random.default_rng(start)
    time = np.arange(round(seconds / LOOP)) * LOOP
    asked = sticks(time, seeds, random) if wanted is None else np.tile(wanted, (seeds, 1))
    turns = np.full(time.size, loop.turn) if turn is None else turn
    keeps = np.exp(-LOOP / loop.memory)
    push = random.normal(size=(seeds, time.size)) * loop.gust * np.sqrt(1.0 - keeps**2)
    gusts = lfilter([1.0], [1.0, -keeps], push, axis=1)
    noise = random.normal(size=(seeds, time.size)) * loop.noise
    late = round(loop.delay / LOOP)
    surface, rate = np.zeros(seeds), np.zeros(seeds)
    plant, servo = np.exp(-LOOP / loop.roll_in), np.exp(-LOOP / loop.servo)
    aileron, seen = np.zeros((2, time.size, seeds))
    asked_t, gusts_t, noise_t = asked.T.copy(), gusts.T.copy(), noise.T.copy()
    for i in range(time.size):
        seen[i] = rate + noise_t[i]
        wish = turns[i] * (asked_t[i] - seen[i]) + loop.ahead * asked_t[i]
        aileron[i] = np.clip(wish, -1.0, 1.0)
        old = aileron[i - late] if i >= late else 0.0
        # Both lags exactly over the step, the surface taken at the middle of it.
        moved = old + servo * (surface - old)
        rate = plant * rate + (1.0 - plant) * (loop.gain * 0.5 * (surface + moved) + gusts_t[i])
        surface = moved
    return Flown(time=time, wanted=asked, aileron=aileron.T.copy(), rate=seen.T.copy())


def with_holes(whole: Recording, share: float, seed: int = 3) -> Recording:
    """Return a recording with bursts of 0.1 to 1.5 s of rows missing."""
    random, kept = np.random.default_rng(seed), np.ones(whole.time.size, dtype=bool)
    while kept.mean() > 1.0 - share:
        begin = random.uniform(0.0, whole.time[-1] - 2.0)
        lost = (whole.time > begin) & (whole.time < begin + random.uniform(0.1, 1.5))
        kept[lost] = False
    time = whole.time[kept]
    holes = np.flatnonzero(np.diff(time) > 1.8 * whole.step)
    return Recording(
        time=time,
        channels={name: values[kept] for name, values in whole.channels.items()},
        gaps=tuple(Gap(start=float(time[i]), end=float(time[i + 1])) for i in holes),
        step=whole.step,
    )

"""How the roll answers the aileron: how fast, and how late, also while a stabiliser flies."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.even import Run, cut_up, even_runs, usual_step
from foamwright.debrief.outcome import Figure, Observation, Share
from foamwright.debrief.scene import Scene
from foamwright.physics.arrays import Grid
from foamwright.physics.numerics.normal import TENTH

CHANNELS = ("aileron", "roll_rate")
SHORTEST = 4.0
"""Shorter runs are not read [s]."""
PART, PARTS = 30.0, 8
"""Length of what is read at once [s], and of how many such: those with the most aileron."""
SLOWEST = 0.05
"""Rows further apart than this tell nothing of lags [s]."""
FINEST = 0.02
"""Rows closer than this are meant [s]: lags of a hundredth of a second want no finer."""
ORDER = 8
"""Rows back that what gusts and gyro do is foretold from [-]."""
SETTLE = 0.5
"""Start of a part in which the aileron of before it still works [s]."""
SERVO = (0.012, 0.006)
"""Lag of a small servo while it keeps up, and spread [s]; common practice, no source."""
START = (0.08, SERVO[0], 0.02)
"""Time constant, servo lag and dead time the search starts from [s]."""
LOWEST, HIGHEST = (0.005, 0.0, 0.0), (1.0, 0.06, 0.2)
"""Between which time constant, servo lag and dead time are looked for [s]."""
SHORTEST_LAG = 0.02
"""Nothing with a servo answers sooner: what looks so is a controller's answer to the roll, while
nothing is asked of it [s]; common practice, no source."""
SHORTEST_ROLL = 0.01
"""Shortest time constant of a roll, likewise [s]."""
ASKED = 0.05
"""Wanted roll rate, one sigma, below which nothing is asked of a stabiliser [rad s^-1]."""
VAGUE = 0.2
"""Relative one sigma from which a number is not told [-]."""
FILTER = 0.003
"""What a gyro's filter, which a log may hold before or after, makes of a lag [s]; common
practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class RollResponse:
    """How the roll answers the aileron, each value with one sigma."""

    gain: tuple[float, float]
    """Steady roll rate for full aileron [rad s^-1]."""
    lag: tuple[float, float]
    """Dead time, servo and roll together [s]."""
    start: tuple[float, float]
    """Roll acceleration for full aileron, gain over the roll's time constant [rad s^-2]."""

    @property
    def clear(self) -> bool:
        """Return whether gain and lag are told well enough to be said, and are an aeroplane's."""
        known = all(sd < VAGUE * value for value, sd in (self.gain, self.lag))
        return known and self.lag[0] > SHORTEST_LAG and self.gain[0] / self.start[0] > SHORTEST_ROLL


@dataclass(frozen=True, kw_only=True, slots=True)
class _Part:
    """One run of rows, ready for the search."""

    spectrum: np.ndarray
    """Of the aileron (f,)."""
    laplace: np.ndarray
    """i times the frequencies (f,) [rad s^-1]."""
    size: int
    """Rows the spectrum stands for."""
    rate: Grid
    """Roll rate without its mean (k,) [rad s^-1]."""

    def moved(self, lags: Grid) -> Grid:
        """Return the aileron behind two lags and a dead time (k,)."""
        roll, servo, dead = lags
        s = self.laplace
        late = self.spectrum * np.exp(-s * dead) / ((1.0 + s * roll) * (1.0 + s * servo))
        return np.asarray(np.fft.irfft(late, self.size)[: self.rate.size])


def read_response(scene: Scene) -> Share:
    """Return how the roll answers the aileron, where roll rate and aileron were logged."""
    if not scene.rates.has(*CHANNELS):
        return Share()
    step, runs = even_runs(scene, CHANNELS, finest=FINEST, shortest=SHORTEST)
    if step > SLOWEST:
        what = "how the roll answers the aileron"
        return Share(not_said=(f"{what}: that wants {1 / SLOWEST:.0f} rows a second or more",))
    parts = busiest([part for run in runs for part in cut_up(run, step, PART)])
    found = identify(parts, step) if parts and asked(scene) else None
    if found is None or not found.clear:
        why = "the aileron was not moved enough, or nothing but it moves the roll"
        return Share(not_said=(f"how the roll answers the aileron: {why}",))
    # Nobody knows whether a log writes means of both, or of one and not of the other.
    written = 0.5 * usual_step(scene.rates, CHANNELS) / np.sqrt(3.0)
    seen = Observation(
        name="roll_lag",
        value=found.lag[0],
        sd=float(np.linalg.norm((found.lag[1], FILTER, written))),
        segment="whole flight",
        speed=speed_of(scene, parts),
    )
    return Share(figures=figures_of(found), observations=(seen,))


def asked(scene: Scene) -> bool:
    """Return whether the roll was asked to change, as far as it was logged what was asked."""
    if not scene.rates.has("roll_rate_wanted"):
        return True
    wanted = scene.rates.channel("roll_rate_wanted")
    return bool(np.nanstd(wanted) > ASKED) if np.isfinite(wanted).any() else True


def busiest(parts: list[Run]) -> list[Run]:
    """Return the parts with the most aileron, in time order; none in which nothing moved."""
    moved = [part for part in parts if min(np.ptp(part.channels[name]) for name in CHANNELS) > 0.0]
    best = sorted(moved, key=lambda part: -float(part.channels["aileron"].std()))[:PARTS]
    return sorted(best, key=lambda part: float(part.time[0]))


def speed_of(scene: Scene, parts: list[Run]) -> float | None:
    """Return the usual airspeed of some parts [m s^-1]; none where it is not known."""
    if scene.airspeed is None:
        return None
    time = scene.recording.time
    inside = np.zeros(time.size, dtype=bool)
    for part in parts:
        inside |= (time >= part.time[0]) & (time <= part.time[-1])
    known = scene.airspeed[inside & np.isfinite(scene.airspeed)]
    return float(np.median(known)) if known.size else None


def identify(parts: list[Run], step: float) -> RollResponse | None:
    """Return the response that foretells each row best from the aileron and the rows before.

    What gusts and gyro do is foretold from the rows before it, fitted together with the response:
    that keeps a stabiliser, whose aileron answers gusts, from being taken for the aeroplane
    (prediction error method: ljung-1999). None where there is too little to fit.
    """
    skip = max(ORDER, round(SETTLE / step))
    ready = [_ready(part, step) for part in parts if part.time.size > skip + 10 * ORDER]
    if not ready:
        return None
    found = [_searched(ready, start, skip) for start in _starts(ready)]
    _, values, slopes = min(found, key=lambda one: one[0])
    return _with_spread(values, slopes)


def _searched(ready: list[_Part], start: Grid, skip: int) -> tuple[float, Grid, Grid]:
    """Return what is missed at best, where, and its slopes over that (rows, 4), from one start."""
    from scipy.optimize import least_squares  # noqa: PLC0415 - slow to import, only needed here

    noise = max(float(_foretold(ready, start, skip).std()), 1e-12)

    def missed(values: Grid) -> Grid:
        # What a servo usually is decides where the log does not.
        prior = (values[2] - SERVO[0]) / SERVO[1]
        return np.append(_foretold(ready, values, skip) / noise, prior)

    scale = np.array([max(abs(start[0]), 1e-6), 0.05, 0.01, 0.02])
    low, high = np.array((-np.inf, *LOWEST)), np.array((np.inf, *HIGHEST))
    found = least_squares(missed, start, bounds=(low, high), x_scale=scale, xtol=1e-6)
    left = max(float(_foretold(ready, found.x, skip).std()), 1e-12)
    return left, np.asarray(found.x), np.asarray(found.jac) * noise / left


def figures_of(found: RollResponse) -> tuple[Figure, ...]:
    """Return gain and roll acceleration with their 80 % bands; the lag is an observation."""
    rows = (
        ("roll_gain", "steady roll rate for full aileron", found.gain, "rad s^-1"),
        ("roll_start", "roll rate gained a second as full aileron bites", found.start, "rad s^-1"),
    )
    return tuple(
        Figure(
            name=name,
            label=label,
            value=value,
            low=max(value - TENTH * sd, 0.0),
            high=value + TENTH * sd,
            unit=unit,
        )
        for name, label, (value, sd), unit in rows
        if sd < VAGUE * value
    )


def _ready(part: Run, step: float) -> _Part:
    """Return a run ready for the search, with room behind it for what the aileron still does."""
    aileron, rate = (part.channels[name] - part.channels[name].mean() for name in CHANNELS)
    size = 1 << int(np.ceil(np.log2(aileron.size + 2.0 / step)))
    return _Part(
        spectrum=np.fft.rfft(aileron, size),
        laplace=2j * np.pi * np.fft.rfftfreq(size, step),
        size=size,
        rate=rate,
    )


def _starts(ready: list[_Part]) -> list[Grid]:
    """Return where the search starts: the aileron may be written either way round."""
    moved = np.concatenate([part.moved(np.array(START)) for part in ready])
    rate = np.concatenate([part.rate for part in ready])
    gain = float(np.sqrt(np.mean(rate**2) / max(np.mean(moved**2), 1e-30)))
    return [np.array((sign * gain, *START)) for sign in (1.0, -1.0)]


def _foretold(ready: list[_Part], values: Grid, skip: int) -> Grid:
    """Return by how much each row is missed, with the best rule for gusts and gyro (k,)."""
    rows = []
    for part in ready:
        left = part.rate - values[0] * part.moved(values[1:])
        rows.append(np.lib.stride_tricks.sliding_window_view(left, ORDER + 1)[skip - ORDER :])
    whole = np.vstack(rows)
    before = np.column_stack((whole[:, :-1], np.ones(len(whole))))
    squares = before.T @ before
    squares += 1e-9 * float(np.trace(squares)) / len(squares) * np.eye(len(squares))
    rule = np.linalg.solve(squares, before.T @ whole[:, -1])
    return np.asarray(whole[:, -1] - before @ rule)


def _with_spread(values: Grid, slopes: Grid) -> RollResponse:
    """Return gain, lag and start with the spread that the slopes of what is missed leave."""
    gain, roll = abs(float(values[0])), float(values[1])
    spread = np.linalg.pinv(slopes.T @ slopes)

    def told(value: float, by: tuple[float, ...]) -> tuple[float, float]:
        weights = np.array(by)
        return value, float(np.sqrt(max(weights @ spread @ weights, 0.0)))

    sign = float(np.sign(values[0]))
    return RollResponse(
        gain=told(gain, (1.0, 0.0, 0.0, 0.0)),
        lag=told(float(values[1:].sum()), (0.0, 1.0, 1.0, 1.0)),
        start=told(gain / roll, (sign / roll, -gain / roll**2, 0.0, 0.0)),
    )

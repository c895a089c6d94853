"""The swings of one axis beside what was asked of it: in each stretch, and by airspeed."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.even import Run, cut_up, even_runs
from foamwright.debrief.followed import Sums, memory, sums_of, without
from foamwright.debrief.pencil import Swing, autocorrelation, swings_of
from foamwright.debrief.scene import Scene
from foamwright.physics.arrays import Grid

FINEST = 0.01
"""Rows closer than this are meant [s]: a wobble of servos is slower than 12 Hz."""
SHORTEST, WINDOW = 3.0, 30.0
"""Shortest and longest stretch that is looked at as one [s]."""
MEMORY = 0.8
"""How long a wanted rate works on [s]."""
SPAN, LONG_SPAN, SLOW = 0.6, 1.5, 2.5
"""Lags of the autocorrelation that are read [s]: more for swings slower than the last [Hz]."""
POLES = 4
"""Poles a stretch is made of: one swing, and what gusts do."""
LOWEST, UNASKED = 1.0, 2.0
"""Slowest swing that is no flying of the pilot [Hz], and where it is not known what he asked."""
LEAST_SHARE, SLOW_SHARE, MOST_DAMPING = 0.1, 0.5, 0.35
"""Of the mean square, more for slow swings, of which a stretch holds few, and of critical damping:
beyond them nothing swings [-]."""
ASKED_FOR = 0.3
"""Share of the rate from which a swing is taken as real that was wanted as well [-]."""
UNDAMPED = 0.06
"""Damping of such a swing at most [-]."""
BLOCK = 2.0
"""Stretches that have one airspeed [s]."""
LEAST_CLASS = 10.0
"""Time at one third of the airspeeds that is enough to look at [s]."""
BAND = 0.25
"""How far from a swing's frequency it is still that swing, relative [-]."""
ONSET = 2.5
"""Ratio of swings above and below an airspeed from which they set in there [-]."""
LEAST_BLOCKS = 4
"""On either side of it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Beside:
    """One axis without what was asked of it."""

    step: float
    """[s]."""
    windows: tuple[Run, ...]
    """With the channels `left`, the rate without what was asked, and `rate`."""
    asked: bool
    """Whether it was logged what was asked."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Found:
    """A swing, and where it was found."""

    swing: Swing
    start: float
    """[s]."""
    end: float
    """[s]."""
    runs: tuple[Run, ...]
    """The stretches it was found in."""


def beside_of(scene: Scene, axis: str) -> Beside:
    """Return one axis without what was asked of it, window by window."""
    rate, wanted = f"{axis}_rate", f"{axis}_rate_wanted"
    asked = scene.rates.has(wanted) and bool(np.nanstd(scene.rates.channel(wanted)) > 1e-3)
    names = (rate, wanted) if asked else (rate,)
    step, runs = even_runs(scene, names, finest=FINEST, shortest=SHORTEST)
    cut = [part for run in runs for part in cut_up(run, step, WINDOW)]
    if not asked:
        left = [part.channels[rate] - part.channels[rate].mean() for part in cut]
    else:
        left = _without_wanted(cut, rate, wanted, round(MEMORY / step))
    windows = tuple(
        Run(time=part.time, channels={"left": values, "rate": part.channels[rate]})
        for part, values in zip(cut, left, strict=True)
    )
    return Beside(step=step, windows=windows, asked=asked)


def _without_wanted(cut: list[Run], rate: str, wanted: str, taps: int) -> list[Grid]:
    """Return rates without what was wanted: by each window's own answer, or that of all."""
    sums = [sums_of(part, wanted, rate, taps) for part in cut]
    known = [one for one in sums if one is not None]
    if not known:
        return [part.channels[rate] - part.channels[rate].mean() for part in cut]
    whole: Sums = known[0]
    for one in known[1:]:
        whole = whole + one
    left = []
    for part, own in zip(cut, sums, strict=True):
        long_enough = own is not None and part.time.size > 12 * taps
        answer = memory(own if own is not None and long_enough else whole)
        left.append(without(part, wanted, rate, answer))
    return left


def swing_in(runs: tuple[Run, ...], beside: Beside) -> Swing | None:
    """Return the swing of some stretches, none where nothing swings.

    A swing that was wanted as well, since an outer loop answered it, is taken off with the wanted
    rate: one that is hardly damped is looked for in the rate as it is, too.
    """
    lowest = LOWEST if beside.asked else UNASKED
    found = _largest([run.channels["left"] for run in runs], beside.step, lowest)
    if found is not None and found.damping < UNDAMPED:
        return found
    rates = [run.channels["rate"] - run.channels["rate"].mean() for run in runs]
    raw = _largest(rates, beside.step, UNASKED)
    if raw is not None and raw.damping < UNDAMPED and raw.share > ASKED_FOR:
        return raw
    return found


def _largest(parts: list[Grid], step: float, lowest: float) -> Swing | None:
    """Return the largest swing of some parts; slow ones are read over a longer span."""
    found = _read(parts, step, lowest, SPAN)
    if found is None or found.frequency < SLOW:
        longer = _read(parts, step, lowest, LONG_SPAN)
        return longer if longer is not None and longer.frequency < SLOW else found
    return found


def _read(parts: list[Grid], step: float, lowest: float, span: float) -> Swing | None:
    """Return the largest swing of some parts over a span of lags [s]."""
    lags = max(round(span / step), 2 * POLES + 2)
    parts = [part for part in parts if part.size > 2 * lags]
    together = autocorrelation(parts, lags)
    if not parts or together[0] <= 0.0:
        return None
    swings = (
        swing
        for swing in swings_of(together, step, POLES)
        if lowest < swing.frequency < 1.0 / (3.0 * step)
        and swing.damping < MOST_DAMPING
        and (LEAST_SHARE if swing.frequency > SLOW else SLOW_SHARE) < swing.share < 1.5
    )
    return next(swings, None)


def all_found(scene: Scene, beside: Beside) -> tuple[Found, ...]:
    """Return the swings of every window and of every third of the airspeeds."""
    sets: list[tuple[Run, ...]] = [(window,) for window in beside.windows]
    sets += by_airspeed(scene, beside)
    found = []
    for runs in sets:
        swing = swing_in(runs, beside)
        if swing is not None:
            start, end = float(runs[0].time[0]), float(runs[-1].time[-1])
            found.append(Found(swing=swing, start=start, end=end, runs=runs))
    return tuple(found)


def airspeed_at(scene: Scene, time: Grid) -> Grid:
    """Return the airspeed at some times (k,) [m s^-1]; not a number where it is not known."""
    if scene.airspeed is None:
        return np.full(time.shape, np.nan)
    known = np.isfinite(scene.airspeed)
    if np.count_nonzero(known) < 2:
        return np.full(time.shape, np.nan)
    at = scene.recording.time[known]
    found = np.interp(time, at, scene.airspeed[known])
    near = np.abs(at[np.clip(np.searchsorted(at, time), 1, at.size - 1)] - time)
    return np.where(near < BLOCK, found, np.nan)


def blocks(beside: Beside) -> list[Run]:
    """Return all windows in pieces that have one airspeed each."""
    rows = round(BLOCK / beside.step)
    return [
        window.part(first, first + rows)
        for window in beside.windows
        for first in range(0, window.time.size - rows + 1, rows)
    ]


def by_airspeed(scene: Scene, beside: Beside) -> list[tuple[Run, ...]]:
    """Return the pieces of the slowest, the middle and the fastest third of the airspeeds."""
    pieces = blocks(beside)
    speeds = np.array([float(airspeed_at(scene, piece.time).mean()) for piece in pieces])
    order = [n for n in np.argsort(speeds) if np.isfinite(speeds[n])]
    if len(order) * BLOCK < 3.0 * LEAST_CLASS:
        return []
    thirds = np.array_split(np.array(order), 3)
    return [tuple(pieces[n] for n in sorted(third)) for third in thirds]


def sizes_of(runs: tuple[Run, ...], step: float, frequency: float) -> tuple[Grid, Grid, Grid]:
    """Return start [s], end [s] and size, root mean square, of a swing in pieces of stretches."""
    rows = round(BLOCK / step)
    starts, ends, sizes = [], [], []
    for run in runs:
        spectrum = np.fft.rfft(run.channels["left"])
        at = np.fft.rfftfreq(run.time.size, step)
        spectrum[np.abs(at / frequency - 1.0) > BAND] = 0.0
        swing = np.fft.irfft(spectrum, run.time.size)
        for first in range(0, run.time.size - rows + 1, rows):
            piece = slice(first, first + rows)
            starts.append(run.time[piece][0])
            ends.append(run.time[piece][-1])
            sizes.append(float(np.sqrt(np.mean(swing[piece] ** 2))))
    return np.array(starts), np.array(ends), np.array(sizes)


def onset(speed: Grid, size: Grid) -> float | None:
    """Return the airspeed from which a swing is there [m s^-1]; none where it hangs on none.

    The airspeed that parts the logarithms of its sizes best tells whether it is so at all; below
    the end of its damping it rings after gusts already, so that it counts as there from half its
    full size on.
    """
    known = np.isfinite(speed) & (size > 0.0)
    order = np.argsort(speed[known])
    v, x = speed[known][order], np.log(size[known][order])
    places = range(LEAST_BLOCKS, v.size - LEAST_BLOCKS + 1)
    if not places or np.ptp(v) < 0.1 * float(np.median(v)):
        return None
    best = min(places, key=lambda n: float(x[:n].var() * n + x[n:].var() * (v.size - n)))
    if np.median(x[best:]) - np.median(x[:best]) < np.log(ONSET):
        return None
    there = x > np.log(0.5) + float(np.median(x[best:]))
    wrong = [np.count_nonzero(there[:n]) + np.count_nonzero(~there[n:]) for n in places]
    first = places[int(np.argmin(wrong))]
    return float(0.5 * (v[first - 1] + v[first]))

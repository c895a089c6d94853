"""How strong gusts are and how long they hang together, and what is left of them in a mean."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.outcome import Segment
from foamwright.debrief.recording import Recording
from foamwright.physics.arrays import Grid

FAR = 5.0
"""Gusts so many correlation times apart are taken as unrelated."""
LAG = 1.0
"""Correlations are read over this: sensor noise is gone in it, gusts are not [s]."""
SHORTEST, LONGEST = 0.5, 12.0
"""Correlation times that are believed [s]."""
STEADY = ("cruise", "turn")
"""Segments in which an airspeed that changes is more likely air than pilot."""
SETTLED, LEAST = 5.0, 8.0
"""What such a segment takes to settle, and what has to be left of it [s]."""
NEAR, APART = 1, 6
"""Changes over so many seconds are compared."""
ENOUGH = 40
"""Fewer changes tell no gusts."""
UPRIGHT = 0.4
"""Gusts up and down over those along, near the ground; common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Gusts:
    """Gusts of first order: their correlation falls exponentially."""

    strength: float
    """One sigma along one axis [m s^-1]."""
    time: float
    """In which the correlation falls to 1/e [s]."""


USUAL = Gusts(strength=0.8, time=2.5)
"""Taken where the flight shows none; common practice, no source."""


def gusts_of(residual: Grid, time: Grid, period: float, window: float) -> Gusts:
    """Return the first-order noise that residuals (k,) of rows a period apart show.

    The mean over a window [s] was taken out of them. The correlation of so short a series comes
    out too low by (1 + 3 r) / k (kendall-1954), k the number of seconds, and its variance by what
    the mean took with it; both are given back.
    """
    reach = max(1, round(LAG / period))
    near = (time[reach:] - time[:-reach]) <= 1.5 * LAG
    held = clipped(residual)
    square = float(held @ held) / max(held.size, 1)
    if np.count_nonzero(near) < reach or square <= 0.0:
        return Gusts(strength=float(np.sqrt(square)), time=USUAL.time)
    related = float(np.mean((held[reach:] * held[:-reach])[near])) / square
    related += (1.0 + 3.0 * related) / max(min(window, held.size * period) / LAG, 4.0)
    longest, shortest = (float(np.exp(-LAG / t)) for t in (LONGEST, SHORTEST))
    holds = float(-LAG / np.log(min(max(related, shortest), longest)))
    taken = left_in_mean(Gusts(strength=1.0, time=holds), min(window, held.size * period)) ** 2
    return Gusts(strength=float(np.sqrt(square / (1.0 - taken))), time=holds)


def around(values: Grid, time: Grid, window: float) -> Grid:
    """Return the mean of values (k,) in a window [s] around each row."""
    sums = np.concatenate([[0.0], np.cumsum(values)])
    first, last = (np.searchsorted(time, time + half) for half in (-0.5 * window, 0.5 * window))
    return np.asarray((sums[last] - sums[first]) / np.maximum(last - first, 1))


def clipped(values: Grid) -> Grid:
    """Return values (k,) with those far out drawn in to three sigma."""
    limit = 3.0 * 1.4826 * float(np.median(np.abs(values)))
    return np.clip(values, -limit, limit)


def gusts_in(recording: Recording, airspeed: Grid | None, segments: tuple[Segment, ...]) -> Gusts:
    """Return the gusts that the airspeed (k,) [m s^-1] shows in steady segments, or usual ones.

    Changes over one second are held against those over six: what a pilot or the aeroplane does
    slowly is taken out first, as a cubic in time.
    """
    if airspeed is None:
        return USUAL
    pieces = [
        flattened(recording.time[rows], airspeed[rows])
        for segment in segments
        if segment.kind in STEADY and segment.end - segment.start >= SETTLED + LEAST
        for rows in [slice_of(recording.time, segment)]
    ]
    short, long = (
        np.concatenate([np.zeros(0), *(piece[lag:] - piece[:-lag] for piece in pieces)])
        for lag in (NEAR, APART)
    )
    if long.size < ENOUGH:
        return USUAL
    grown = [float(np.mean(clipped(change) ** 2)) for change in (short, long)]
    times = np.geomspace(SHORTEST, APART, 60)  # changes over six seconds tell no longer time
    ratio = [change_of_means(t, APART) / change_of_means(t, NEAR) for t in times]
    time = float(np.interp(grown[1] / max(grown[0], 1e-12), ratio, times))
    return Gusts(strength=float(np.sqrt(grown[1] / change_of_means(time, APART))), time=time)


def slice_of(time: Grid, segment: Segment) -> slice:
    """Return the rows of a segment once it has settled."""
    first, last = np.searchsorted(time, [segment.start + SETTLED, segment.end])
    return slice(int(first), int(last) + 1)


def flattened(time: Grid, values: Grid) -> Grid:
    """Return means over a second of values (k,), less a cubic in time."""
    known = np.isfinite(values)
    if np.count_nonzero(known) < 2:
        return np.zeros(0)
    seconds = np.floor(time[known] - time[known][0]).astype(int)
    counts = np.bincount(seconds)
    full = counts > 0
    means = np.bincount(seconds, weights=values[known])[full] / counts[full]
    if means.size < LEAST or not full.all():
        return np.zeros(0)
    at = np.linspace(-1.0, 1.0, means.size)
    return np.asarray(means - np.polyval(np.polyfit(at, means, 3), at))


def change_of_means(time: float, lag: float) -> float:
    """Return the mean square of the change over a lag of gusts of unit strength.

    They are averaged over a second first; the lag is a second at least.
    """
    alone = 2.0 * time * (1.0 - time * (1.0 - np.exp(-1.0 / time)))
    shared = time**2 * np.exp(-lag / time) * (np.exp(1.0 / time) - 2.0 + np.exp(-1.0 / time))
    return float(2.0 * (alone - shared))


def left_in_mean(gusts: Gusts, seconds: float) -> float:
    """Return one sigma of the mean of gusts over a time [m s^-1]."""
    share = gusts.time / max(seconds, 1e-3)
    part = 2.0 * share * (1.0 - share * (1.0 - float(np.exp(-1.0 / share))))
    return gusts.strength * float(np.sqrt(part))


def left_in_slope(gusts: Gusts, time: Grid) -> float:
    """Return one sigma of the slope of a line through rows (k,) of first-order noise [m s^-2]."""
    centred = time - time.mean()
    weights = centred / float(centred @ centred)
    related = np.exp(-np.abs(time[:, None] - time[None, :]) / gusts.time)
    return gusts.strength * float(np.sqrt(weights @ related @ weights))

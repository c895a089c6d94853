"""How strong gusts are and how long they hang together, and what is left of them in a mean."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.debrief.outcome import Segment
from foamwright.debrief.recording import Recording
from foamwright.physics.arrays import Grid

FAR = 5.0
"""Gusts so many correlation times apart are taken as unrelated."""
STEADY = ("cruise", "turn")
"""Segments in which an airspeed that changes is more likely air than pilot."""
SETTLED, LEAST = 5.0, 8
"""What such a segment takes to settle, and what has to be left of it [s]."""
PIECE = 45.0
"""Longer segments are read in pieces of about so many seconds."""
NUGGET = 0.01
"""Share of a second's variance that is noise of the receiver."""
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
STRAYS = (0.5, 0.5)
"""How far strength and time lie off that from day to day, logarithms; common practice, no
source."""


def clipped(values: Grid) -> Grid:
    """Return values (k,) with those far out drawn in to three sigma."""
    limit = 3.0 * 1.4826 * float(np.median(np.abs(values)))
    return np.clip(values, -limit, limit)


def gusts_in(
    recording: Recording,
    airspeed: Grid | None,
    segments: tuple[Segment, ...],
    heading: Grid | None = None,
) -> Gusts:
    """Return the gusts that the airspeed (k,) [m s^-1] shows in steady segments, or usual ones.

    What a pilot or the aeroplane does slowly is taken out as a cubic in time; what that takes of
    the gusts is accounted for (restricted likelihood). Little flight leaves them near the usual.
    Gusts blow the same along and across: while the heading (k,) [rad] turns, one that lasts is
    felt along the way for a while only.

    Source: patterson-thompson-1971.
    """
    if airspeed is None:
        return USUAL
    pieces = [
        piece
        for segment in segments
        if segment.kind in STEADY and segment.end - segment.start >= SETTLED + LEAST
        for piece in _pieces(recording.time, airspeed, heading, segment)
    ]
    return likeliest(pieces) if pieces else USUAL


def likeliest(pieces: Sequence[tuple[Grid, Grid]]) -> Gusts:
    """Return the mean of gusts that agree with means over a second (k,) and headings (k,) [rad].

    Strength and time are weighed on a grid, by the usual gusts with their spread and by the
    likelihood of what a cubic leaves of every piece.
    """
    spread = np.exp(np.linspace(-2.5, 2.5, 41))
    strengths, times = USUAL.strength * spread ** STRAYS[0], USUAL.time * spread[::2] ** STRAYS[1]
    chance = -0.5 * np.log(spread)[:, None] ** 2 - 0.5 * np.log(spread[::2])[None, :] ** 2
    for means, heading in pieces:
        for column, time in enumerate(times):
            free, logs, square = _restricted(means, heading, float(time))
            chance[:, column] -= free * np.log(strengths) + 0.5 * (logs + square / strengths**2)
    weight = np.exp(chance - chance.max())
    weight /= weight.sum()
    squares = float(np.sum(weight * strengths[:, None] ** 2))
    lasting = float(np.sum(weight * strengths[:, None] ** 2 * times[None, :]))
    return Gusts(strength=float(np.sqrt(squares)), time=lasting / squares)


def _restricted(means: Grid, heading: Grid, time: float) -> tuple[int, float, float]:
    """Return what a cubic leaves free, the log of the determinant and the square of the rest."""
    at = np.linspace(-1.0, 1.0, means.size)
    cubic = np.vander(at, 4)
    factor = np.linalg.cholesky(covariance_of_means(heading, time))
    white = np.linalg.solve(factor, np.column_stack([cubic, means]))
    rotated, upper = np.linalg.qr(white[:, :4])
    rest = white[:, 4] - rotated @ (rotated.T @ white[:, 4])
    logs = 2.0 * float(np.log(np.diag(factor)).sum() + np.log(np.abs(np.diag(upper))).sum())
    return means.size - 4, logs, float(rest @ rest)


def covariance_of_means(heading: Grid, time: float) -> Grid:
    """Return how means over a second along headings (k,) [rad] of unit gusts vary (k, k)."""
    apart = np.abs(np.subtract.outer(np.arange(heading.size), np.arange(heading.size)))
    share = np.exp(1.0 / time) - 2.0 + np.exp(-1.0 / time)
    found = time**2 * share * np.exp(-apart / time)
    alone = 2.0 * time * (1.0 - time * (1.0 - np.exp(-1.0 / time)))
    found = np.where(apart == 0, alone * (1.0 + NUGGET), found)
    return np.asarray(found * np.cos(np.subtract.outer(heading, heading)))


def _pieces(
    time: Grid, airspeed: Grid, heading: Grid | None, segment: Segment
) -> list[tuple[Grid, Grid]]:
    """Return means over a second of a settled segment with headings, cut to handy lengths."""
    rows = slice_of(time, segment)
    means = seconds_of(time[rows], airspeed[rows])
    if means.size < LEAST:
        return []
    turned = np.zeros(means.size)
    if heading is not None:
        points = [seconds_of(time[rows], part[rows]) for part in (np.cos(heading), np.sin(heading))]
        if all(part.size == means.size for part in points):
            turned = np.arctan2(points[1], points[0])
    cuts = np.array_split(np.arange(means.size), max(1, round(means.size / PIECE)))
    return [(drawn_in(means[cut]), turned[cut]) for cut in cuts if cut.size >= LEAST]


def drawn_in(means: Grid) -> Grid:
    """Return means (k,) with those far off a cubic in time drawn in."""
    at = np.linspace(-1.0, 1.0, means.size)
    smooth = np.polyval(np.polyfit(at, means, 3), at)
    return np.asarray(smooth + clipped(means - smooth))


def slice_of(time: Grid, segment: Segment) -> slice:
    """Return the rows of a segment once it has settled."""
    first, last = np.searchsorted(time, [segment.start + SETTLED, segment.end])
    return slice(int(first), int(last) + 1)


def seconds_of(time: Grid, values: Grid) -> Grid:
    """Return means over a second of values (k,); none where a whole second is missing."""
    known = np.isfinite(values)
    if np.count_nonzero(known) < 2:
        return np.zeros(0)
    seconds = np.floor(time[known] - time[known][0]).astype(int)
    counts = np.bincount(seconds)
    if not (counts > 0).all():
        return np.zeros(0)
    return np.asarray(np.bincount(seconds, weights=values[known]) / counts)


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

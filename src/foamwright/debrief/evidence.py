"""Agreement between columns: what one column says of the unit and sign of another."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.debrief.logged_units import UNITS
from foamwright.debrief.positions import Track
from foamwright.physics.arrays import Grid

NEAR = 0.06
"""How far a ratio may be from a unit's, in the logarithm."""
FEWEST = 8
"""Pairs of values that can agree."""
CORRELATED = 0.6
ROUNDS = 30
"""Of the wind's square; each takes away all but (wind / airspeed)² of what is left."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Match:
    """A unit that another column bears out."""

    unit: str
    ratio: float
    """SI of the other column over what is written."""
    off: float
    """How far that is from the unit's factor, as a share."""


def unit_of_ratio(
    ratio: float, dimension: str, options: Sequence[str], near: float = NEAR
) -> Match | None:
    """Return the unit whose factor a ratio is; none if none is near, or two are about as near."""
    if not np.isfinite(ratio) or ratio <= 0.0:
        return None
    away = sorted((abs(np.log(ratio / UNITS[dimension][unit][0])), unit) for unit in options)
    if not away or away[0][0] > near or (len(away) > 1 and away[1][0] < 1.8 * away[0][0] + 0.01):
        return None
    unit = away[0][1]
    return Match(unit=unit, ratio=ratio, off=ratio / UNITS[dimension][unit][0] - 1.0)


def mean_between(time: Grid, values: Grid, start: Grid, end: Grid) -> Grid:
    """Return the mean of values between two times each, straight between rows."""
    known = np.isfinite(values)
    if np.count_nonzero(known) < 2:
        return np.full(start.shape, np.nan)
    at, held = time[known], values[known]
    sums = np.concatenate(([0.0], np.cumsum(0.5 * (held[1:] + held[:-1]) * np.diff(at))))
    whole = np.interp(end, at, sums) - np.interp(start, at, sums)
    return np.asarray(whole / np.maximum(end - start, 1e-9))


def speed_ratio(time: Grid, written: Grid, track: Track) -> float:
    """Return metres a second of the positions over a written speed; the median while moving."""
    if track.speed.size < FEWEST:
        return float("nan")
    said = mean_between(time, written, track.start, track.end)
    moving = track.speed > max(2.0, 0.3 * float(np.percentile(track.speed, 90)))
    use = moving & np.isfinite(said) & (said > 0)
    if np.count_nonzero(use) < FEWEST:
        return float("nan")
    return float(np.median(track.speed[use]) / np.median(said[use]))


def typical_ratio(known: Grid, written: Grid) -> float:
    """Return the ratio of two typical sizes where both are known: of the middle of the larger."""
    use = np.isfinite(known) & np.isfinite(written)
    if np.count_nonzero(use) < FEWEST:
        return float("nan")
    above = use & (known > np.median(known[use]))
    below = float(np.median(written[above])) if above.any() else 0.0
    return float(np.median(known[above]) / below) if below > 0 else float("nan")


def airspeed_factor(north: Grid, east: Grid, written: Grid) -> float:
    """Return metres a second of a written airspeed, from full circles in a steady wind.

    Solves |v - w| = s a for the wind w and the factor s, least squares on the squares, the wind's
    own square from the round before. Not a number where a quarter of the sky was not flown to.
    """
    use = np.isfinite(north) & np.isfinite(east) & np.isfinite(written) & (written > 0)
    use &= np.hypot(north, east) > 2.0
    quarters = np.floor(np.arctan2(east[use], north[use]) / (np.pi / 2)).astype(int) + 2
    if use.sum() < FEWEST or np.bincount(quarters, minlength=4)[:4].min() < 0.05 * use.sum():
        return float("nan")
    v, a = np.stack((north[use], east[use])), written[use]
    terms = np.column_stack((2.0 * v[0], 2.0 * v[1], a**2))
    wind = np.zeros(2)
    squared = 0.0
    for _ in range(ROUNDS):
        found, *_ = np.linalg.lstsq(terms, np.sum(v**2, axis=0) + float(wind @ wind), rcond=None)
        wind, squared = found[:2], float(found[2])
    return float(np.sqrt(squared)) if squared > 0 else float("nan")


def slope_over(time: Grid, values: Grid, span: float) -> Grid:
    """Return the rate of change of values over a span [s], centred on each row."""
    known = np.isfinite(values)
    if np.count_nonzero(known) < FEWEST:
        return np.full(time.shape, np.nan)
    at, held = time[known], values[known]
    after = np.interp(time + span / 2, at, held)
    before = np.interp(time - span / 2, at, held)
    return np.asarray((after - before) / span)


def fitted_slope(known: Grid, written: Grid) -> tuple[float, float]:
    """Return factor and correlation of known = factor x written, both taken without their mean."""
    use = np.isfinite(known) & np.isfinite(written)
    if np.count_nonzero(use) < FEWEST:
        return float("nan"), 0.0
    a, b = known[use] - np.median(known[use]), written[use] - np.median(written[use])
    spread = float(np.sqrt(np.sum(a * a) * np.sum(b * b)))
    if spread <= 0.0:
        return float("nan"), 0.0
    correlation = float(np.sum(a * b) / spread)
    size = float(np.sqrt(np.sum(a * a) / np.sum(b * b)))  # neither is free of noise
    return float(np.copysign(size, correlation)), correlation


def smoothed(time: Grid, values: Grid, span: float) -> Grid:
    """Return values averaged over a span [s] around each row."""
    return mean_between(time, values, time - span / 2, time + span / 2)


def turned(angle: Grid) -> Grid:
    """Return an angle [rad] without its jumps of a whole turn, gaps in it kept."""
    known = np.isfinite(angle)
    out = np.full(angle.shape, np.nan)
    out[known] = np.unwrap(angle[known])
    return out


def course_error(time: Grid, course: Grid, track: Track) -> float:
    """Return the median angle between a course [rad] and the path of the positions."""
    moving = track.speed > max(2.0, 0.3 * float(np.percentile(track.speed, 90)))
    if np.count_nonzero(moving) < FEWEST:
        return float("nan")
    known = np.isfinite(course)
    at = np.interp(track.middle, time[known], np.unwrap(course[known]))
    away = np.remainder(at - track.course + np.pi, 2 * np.pi) - np.pi
    return float(np.median(np.abs(away[moving])))


def charge_through(time: Grid, current: Grid, longest: float) -> float:
    """Return the integral of a current over its rows; pauses longer than `longest` are left out."""
    known = np.isfinite(current)
    at, held = time[known], current[known]
    steps = np.diff(at)
    steps = np.where(steps > longest, 0.0, steps)
    return float(np.sum(0.5 * (held[1:] + held[:-1]) * steps))

"""The clock of a log: its unit, its faults, its gaps."""

import itertools
from dataclasses import dataclass

import numpy as np

from foamwright.debrief.logged_units import UNITS
from foamwright.debrief.recording import Gap
from foamwright.physics.arrays import Grid

FASTEST, SLOWEST = 1 / 20000, 6.0
"""Time between rows a log may have [s]."""
SHORTEST, LONGEST = 2.0, 6 * 3600.0
"""Time a log may last [s]."""
MISSING = 1.75
"""Usual steps between two rows that mean a row is missing."""
LEAST_GAP = 0.03
"""A pause shorter than this is no gap [s]."""
COARSE = 0.3
"""Share of rows with the time of the one above that make the whole clock coarse."""
BACK = 30.0
"""Usual steps backwards that are a new start of the clock and not two rows swapped."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Clock:
    """Rows in the order of time."""

    time: Grid
    """Since the first row kept, rising [s] (k,)."""
    rows: np.ndarray
    """Which rows of the file they are (k,)."""
    gaps: tuple[Gap, ...]
    """Where rows are missing."""
    step: float
    """Usual time between rows [s]."""
    told: tuple[str, ...]
    """What was wrong with the clock and what was done."""


def usual_step(ticks: Grid) -> float:
    """Return the median step forward, as written; 0 where there is none."""
    steps = np.diff(ticks)
    forward = steps[steps > 0]
    return float(np.median(forward)) if forward.size else 0.0


def units_that_fit(ticks: Grid) -> tuple[str, ...]:
    """Return the units in which ticks are a log: rows neither too fast nor too slow, and long."""
    known = ticks[np.isfinite(ticks)]
    step, lasts = usual_step(known), float(np.ptp(known)) if known.size else 0.0
    return tuple(
        unit
        for unit in ("s", "ms", "us", "ns")
        if FASTEST <= step * UNITS["time"][unit][0] <= SLOWEST
        and SHORTEST <= lasts * UNITS["time"][unit][0] <= LONGEST
    )


def packed_clock(ticks: Grid) -> Grid | None:
    """Return hhmmss.f ticks as seconds; none where they are no such clock.

    Such a number never shows 60 to 99 in its last two digits or the two before, and jumps by 41
    at the full minute.
    """
    known = ticks[np.isfinite(ticks)]
    if known.size < 3 or known.max() >= 240000 or known.min() < 0:
        return None
    seconds, minutes = known % 100, known // 100 % 100
    jumps = np.diff(known)
    if (seconds >= 60).any() or (minutes >= 60).any() or not (np.abs(jumps % 100 - 41) < 1).any():
        return None
    return np.asarray(ticks // 10000 * 3600 + ticks // 100 % 100 * 60 + ticks % 100)


def runs_of(time: Grid) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return for each row its run of equal times, its place in it, and the length of each run."""
    first = np.concatenate(([True], np.diff(time) > 0))
    run = np.cumsum(first) - 1
    return run, np.arange(time.size) - np.flatnonzero(first)[run], np.bincount(run)


def spread_out(time: Grid, step: float, rows_from: float = 0.0) -> tuple[Grid, np.ndarray]:
    """Return times with equal ones spread up to the next, and which rows to keep.

    Rows of one time are spread where the next time is further than `rows_from` away, as behind a
    clock coarser than the rows; else all but the first are repeats. No row is spread further than
    its share of `step`.
    """
    run, place, counts = runs_of(time)
    starts = time[place == 0]
    ahead = np.append(np.diff(starts), step)
    coarse = ahead > rows_from
    share = np.minimum(ahead, step) / counts
    spread = time + np.where(coarse[run], share[run] * place, 0.0)
    return spread, (place == 0) | coarse[run]


def longest_piece(time: Grid, step: float) -> tuple[slice, int]:
    """Return the longest stretch between two new starts of the clock, and how many there are."""
    starts = np.flatnonzero(np.diff(time) < -BACK * max(step, 1e-9)) + 1
    edges = np.concatenate(([0], starts, [time.size]))
    lasts = [time[b - 1] - time[a] for a, b in itertools.pairwise(edges)]
    best = int(np.argmax(lasts))
    return slice(int(edges[best]), int(edges[best + 1])), len(lasts)


def gaps_in(time: Grid, step: float) -> tuple[Gap, ...]:
    """Return where rows are missing, jitter of the clock allowed for."""
    steps = np.diff(time)
    jitter = float(np.median(np.abs(steps - step))) if steps.size else 0.0
    limit = max(MISSING * step, step + 6.0 * jitter, LEAST_GAP)
    return tuple(
        Gap(start=float(time[at]), end=float(time[at + 1])) for at in np.flatnonzero(steps > limit)
    )


def without_repeats(time: Grid) -> tuple[Grid, np.ndarray, list[str]]:
    """Return times without equal ones, which rows they are, and what was done."""
    step = usual_step(time)
    same = int(np.count_nonzero(np.diff(time) == 0))
    everywhere = same > COARSE * time.size
    apart = max(step, float(np.percentile(np.diff(time), 99))) if not everywhere else step
    spread, kept = spread_out(time, apart, 0.0 if everywhere else 1.5 * step)
    told = []
    if same > np.count_nonzero(~kept):
        told.append("the clock is coarser than the rows: rows of one time are spread evenly")
    if not kept.all():
        told.append(f"{np.count_nonzero(~kept)} rows repeat the time above and are left out")
    return spread[kept], kept, told


def running(seconds: Grid) -> Clock:
    """Return the rows in the order of time: new starts, steps back and repeats taken care of."""
    rows = np.flatnonzero(np.isfinite(seconds))
    told = [f"{seconds.size - rows.size} rows have no time and are left out"]
    told = told if rows.size < seconds.size else []
    time = np.asarray(seconds, dtype=float)[rows]
    if time.size == 0:
        return Clock(time=time, rows=rows, gaps=(), step=0.1, told=tuple(told))
    piece, pieces = longest_piece(time, usual_step(time))
    if pieces > 1:
        told.append(
            f"the clock starts anew {'once' if pieces == 2 else f'{pieces - 1} times'}: "
            "the longest piece is read, "
            f"rows {rows[piece][0] + 1} to {rows[piece][-1] + 1}"
        )
    time, rows = time[piece], rows[piece]
    later = time >= np.maximum.accumulate(time)
    if not later.all():
        told.append(f"{np.count_nonzero(~later)} rows lie before the row above and are left out")
    time, rows = time[later], rows[later]
    if (np.diff(time) == 0).any():
        time, kept, remarks = without_repeats(time)
        rows = rows[kept]
        told += remarks
    step = usual_step(time)
    time = time - time[0] if time.size else time
    return Clock(time=time, rows=rows, gaps=gaps_in(time, step), step=step or 0.1, told=tuple(told))

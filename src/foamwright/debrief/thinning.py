"""Fast logs thinned to what the analysis needs: means of short bins, never across a gap."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid

FAST = 0.02
"""Rows closer than this are thinned [s]."""
BIN = 0.04
"""Length of a bin [s]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Bins:
    """Which rows are taken together."""

    starts: np.ndarray
    """First row of each bin (bins,)."""
    time: Grid
    """Mean time of its rows [s] (bins,)."""
    width: float
    """[s]."""


def bins_of(time: Grid, step: float) -> Bins | None:
    """Return the bins of a fast log; none for one that needs no thinning."""
    if step >= FAST or time.size < 2:
        return None
    number = np.floor(time / BIN + 1e-6).astype(np.int64)
    starts = np.flatnonzero(np.diff(number, prepend=number[0] - 1))
    counts = np.diff(np.append(starts, time.size))
    return Bins(starts=starts, time=np.add.reduceat(time, starts) / counts, width=BIN)


def meant(values: Grid, bins: Bins) -> Grid:
    """Return the mean of each bin, of the rows that hold a value."""
    known = np.isfinite(values)
    if known.all():
        sums = np.add.reduceat(values.astype(float), bins.starts)
        return np.asarray(sums / np.diff(np.append(bins.starts, values.size)))
    sums = np.add.reduceat(np.where(known, values, 0.0).astype(float), bins.starts)
    counts = np.add.reduceat(known.astype(np.int64), bins.starts)
    return np.where(counts > 0, sums / np.maximum(counts, 1), np.nan)


def picked(values: Grid, bins: Bins) -> Grid:
    """Return the last known value of each bin: for angles, whose mean lies across a turn's end."""
    rows = np.where(np.isfinite(values), np.arange(values.size), -1)
    last = np.maximum.reduceat(rows, bins.starts)
    return np.where(last >= 0, np.asarray(values, dtype=float)[np.maximum(last, 0)], np.nan)


def thinned(
    values: Mapping[str, Grid], bins: Bins | None, angles: frozenset[str]
) -> Mapping[str, Grid]:
    """Return columns thinned, those named as angles picked."""
    if bins is None:
        return {name: np.asarray(column, dtype=float) for name, column in values.items()}
    return {
        name: picked(column, bins) if name in angles else meant(column, bins)
        for name, column in values.items()
    }

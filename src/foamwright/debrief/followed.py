"""How a rate follows the wanted one: a short memory of it, found by ridge regression."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.even import Run
from foamwright.physics.arrays import Grid

RIDGE = 1e-3
"""Share of the mean square that is added to the squares, so that little is made of little [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sums:
    """Sums over rows from which the memory of a wanted rate is found; they add up."""

    squares: np.ndarray
    """Wanted rates by wanted rates before (taps, taps)."""
    products: np.ndarray
    """Wanted rates before by the follower (taps,)."""

    def __add__(self, other: "Sums") -> "Sums":
        """Return the sums over both."""
        return Sums(
            squares=self.squares + other.squares,
            products=self.products + other.products,
        )


def before(wanted: Grid, taps: int) -> np.ndarray:
    """Return each row's wanted rate and those before it (rows - taps + 1, taps), newest first."""
    return np.lib.stride_tricks.sliding_window_view(wanted, taps)[:, ::-1]


def sums_of(run: Run, wanted: str, follower: str, taps: int) -> Sums | None:
    """Return the sums over a run, means taken off; none where it is too short for the memory."""
    if run.time.size < 2 * taps:
        return None
    asked = run.channels[wanted]
    rows = before(asked - asked.mean(), taps)
    held = run.channels[follower][taps - 1 :]
    return Sums(
        squares=rows.T @ rows,
        products=rows.T @ (held - held.mean()),
    )


def memory(sums: Sums) -> Grid:
    """Return what the follower makes of a wanted rate so many rows ago (taps,)."""
    taps = len(sums.squares)
    ridge = RIDGE * float(np.trace(sums.squares)) / taps
    if ridge <= 0.0:
        return np.zeros_like(sums.products)
    found: Grid = np.linalg.solve(sums.squares + ridge * np.eye(taps), sums.products)
    return found


def without(run: Run, wanted: str, follower: str, found: Grid) -> Grid:
    """Return a follower without what it makes of the wanted rate (k,), without its mean.

    The first rows, whose memory lies before the run, take the run's first wanted rate for it.
    """
    asked = run.channels[wanted]
    asked = asked - asked.mean()
    padded = np.concatenate((np.full(found.size - 1, asked[0]), asked))
    left = run.channels[follower] - before(padded, found.size) @ found
    return np.asarray(left - left.mean())

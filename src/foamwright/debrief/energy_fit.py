"""Coefficients of an energy height that changes by integrated rates, gusts in both.

A gust along the way shows in the airspeed that the log tells: in the energy height at once, and in
the work against drag that is reckoned from it. Left alone, what it adds to the work would draw the
drag to zero, as an error in what is regressed on does; as gusts are known, that is taken out again.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid


@dataclass(frozen=True, kw_only=True, slots=True)
class Stretch:
    """One stretch of flight without a hole, by the second."""

    energy: Grid
    """Energy height (k,) [m]."""
    rates: Grid
    """By which it changes, over their coefficients (k, p)."""
    felt: Grid
    """How much each rate changes with the smoothed airspeed (k, p)."""
    smoothing: Grid
    """Which airspeeds make the smoothed one (k, k)."""
    gusts: Grid
    """Covariance of the gusts along the way (k, k) [m^2 s^-2]."""
    along: Grid
    """Energy height that a gust brings (k,) [s]."""
    noise: Grid
    """Covariance of the energy height by all else (k, k) [m^2]."""


def fitted(
    stretches: Sequence[Stretch], guess: Grid, spread: Grid, *, rounds: int = 2
) -> tuple[Grid, Grid] | None:
    """Return the coefficients (p,) and their covariance (p, p), or None where gusts drown them.

    They start from a guess with a spread. What the errors of the rates bring to the normal
    equations on average is subtracted (corrected score); how uneven the rest is follows from the
    coefficients, so that it is done in rounds.

    Source: fuller-1987.
    """
    known = np.diag(1.0 / spread**2)
    found = guess
    for _ in range(rounds):
        parts = [_normal(stretch, found) for stretch in stretches]
        information, toward, excess, drawn = (sum(part[i] for part in parts) for i in range(4))
        left = information - excess + known
        if np.linalg.eigvalsh(left).min() <= 0.0:
            return None
        inverse = np.linalg.inv(left)
        found = inverse @ (toward - drawn + known @ guess)
    return found, np.asarray(inverse @ (information + known) @ inverse)


def _normal(stretch: Stretch, guess: Grid) -> tuple[Grid, Grid, Grid, Grid]:
    """Return information, what it points to, and what errors of the rates bring to either."""
    size = stretch.energy.size
    # Trapezes, from the first row on.
    whole = np.tril(np.ones((size, size))) - 0.5 * np.eye(size)
    whole[:, 0] -= 0.5
    felt = [(whole * column) @ stretch.smoothing for column in stretch.felt.T]
    shared = [part @ stretch.gusts for part in felt]
    # What is left of the energy height: its own gust less what gusts bring by the rates.
    unlike = np.diag(stretch.along) - sum(a * part for a, part in zip(guess, felt, strict=True))
    factor = np.linalg.cholesky(stretch.noise + unlike @ stretch.gusts @ unlike.T)
    columns = np.column_stack([np.ones(size), whole @ stretch.rates, stretch.energy])
    white = np.linalg.solve(factor, columns)
    # Where a stretch begins is not known: that column is taken out of all others.
    base = white[:, 0] / float(white[:, 0] @ white[:, 0])
    rest = white[:, 1:] - np.outer(white[:, 0], base @ white[:, 1:])
    inverse = np.linalg.solve(factor.T, np.linalg.solve(factor, np.eye(size)))
    ones = inverse.sum(axis=0)
    weight = inverse - np.outer(ones, ones) / ones.sum()
    weighed = [weight @ part for part in shared]
    excess = np.array([[np.sum(one * other) for other in felt] for one in weighed])
    drawn = np.array([float(np.diag(part) @ stretch.along) for part in weighed])
    return rest[:, :-1].T @ rest[:, :-1], rest[:, :-1].T @ rest[:, -1], excess, drawn

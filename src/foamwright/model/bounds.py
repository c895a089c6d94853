"""Readings that bound from one side: what was flown slowly bounds the stall speed from above."""

import numpy as np

from foamwright.physics.arrays import Grid, Samples

NODES = 48
"""Points at which the error that all bounds share is looked at."""
LEAST = 1e-300
"""Chance below which several bounds count as no less likely."""
TELLS = 1e-6
"""Share of its variance that a bound has to take from a forecast to count in it."""


def log_chance_below(room: Samples, covariance: Grid) -> Samples:
    """Return the logarithm of the chance (n,) that errors stay below their room (n, b), all b.

    The errors are joint normal of covariance (b, b): their own, and one that all share, which is
    what a model misses. The chance never falls where a room grows.
    """
    from scipy.special import log_ndtr, ndtr  # noqa: PLC0415 - slow to import

    own = np.diag(covariance)
    if own.size == 1:
        return np.asarray(log_ndtr(room[:, 0] / np.sqrt(own[0])), np.float64)
    shared = max(float(np.min(covariance)), 0.0)
    alone = np.sqrt(np.maximum(own - shared, 1e-12))
    at, weights = np.polynomial.hermite_e.hermegauss(NODES)
    steps = room / alone
    chance = np.zeros(room.shape[0])
    for one, weight in zip(at, weights / weights.sum(), strict=True):
        chance += weight * ndtr(steps - np.sqrt(shared) * one / alone).prod(axis=1)
    # Plain numbers, for logarithms would take four times as long; so unlikely is all the same.
    return np.asarray(np.log(np.maximum(chance, LEAST)), np.float64)


def reading_like(middle: float, spread: float, bound: float) -> tuple[float, float] | None:
    """Return the plain reading, value and variance, that teaches a normal what a bound does.

    The normal cut off at the bound has a mean and a variance; the reading gives the same two
    (minka-2001). None where the bound lies so high that it cuts nothing off.
    """
    from scipy.special import log_ndtr  # noqa: PLC0415 - slow to import

    away = (bound - middle) / spread
    ratio = float(np.exp(-0.5 * away**2 - 0.5 * np.log(2.0 * np.pi) - log_ndtr(away)))
    taken = ratio * (away + ratio)
    if taken < TELLS:
        return None
    return middle - spread / (away + ratio), spread**2 * (1.0 / taken - 1.0)

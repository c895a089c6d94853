"""Thin-airfoil theory: what a mean line alone says of zero lift and moment."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid, Samples

QUADRATURE = 4000
"""Midpoints in the mean-line angle; four-digit lines are then exact to 1e-6."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ThinAirfoil:
    """Results of thin-airfoil theory for n mean lines."""

    zero_lift: Samples
    """(n,) [rad] angle of zero lift."""
    moment: Samples
    """(n,) moment coefficient about the quarter chord, nose up positive."""
    first: Samples
    """(n,) coefficient A1."""
    second: Samples
    """(n,) coefficient A2."""


def from_slope(slope: Samples) -> ThinAirfoil:
    """Return the theory's results for mean lines given by their slope.

    Parameters
    ----------
    slope : (n, q) [-]
        Slope of the mean line at the q stations of `stations`.

    Returns
    -------
    ThinAirfoil [-]

    Source
    ------
    abbott-1959
    """
    theta = angles(slope.shape[-1])
    mean = slope.mean(axis=-1)
    first = 2.0 * (slope * np.cos(theta)).mean(axis=-1)
    second = 2.0 * (slope * np.cos(2.0 * theta)).mean(axis=-1)
    return ThinAirfoil(
        zero_lift=mean - 0.5 * first,
        moment=np.pi / 4.0 * (second - first),
        first=first,
        second=second,
    )


def angles(count: int) -> Grid:
    """Return the midpoint angles theta of the stations x = (1 - cos theta) / 2.

    Parameters
    ----------
    count : int
        How many.

    Returns
    -------
    (q,) [rad]

    Source
    ------
    own-derivation
    """
    spaced: Grid = (np.arange(count, dtype=np.float64) + 0.5) * float(np.pi / count)
    return spaced


def stations(count: int) -> Grid:
    """Return the chord fractions at which `from_slope` wants the slope.

    Parameters
    ----------
    count : int
        How many.

    Returns
    -------
    (q,) [-]

    Source
    ------
    own-derivation
    """
    fractions: Grid = 0.5 * (1.0 - np.cos(angles(count)))
    return fractions


def four_digit(camber: Samples, position: Samples) -> ThinAirfoil:
    """Return the theory's results for two-parabola mean lines.

    Parameters
    ----------
    camber : (n,) [-]
        Greatest camber over chord.
    position : (n,) [-]
        Its place over chord.

    Returns
    -------
    ThinAirfoil [-]

    Source
    ------
    abbott-1959
    """
    x = stations(QUADRATURE)
    m, p = np.atleast_1d(camber)[:, None], np.atleast_1d(position)[:, None]
    slope = np.where(x < p, 2.0 * m / p**2 * (p - x), 2.0 * m / (1.0 - p) ** 2 * (p - x))
    return from_slope(slope)

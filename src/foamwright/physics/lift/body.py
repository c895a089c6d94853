"""Moment of a slender body at incidence; x aft, widths and heights of its stations."""

import numpy as np

from foamwright.physics.arrays import Samples
from foamwright.physics.validity import Range

FINENESS = Range(quantity="body length over mean diameter", unit="-", low=3.0, high=20.0)
"""Below it a body is not slender."""


def apparent_mass_factor(fineness: Samples) -> Samples:
    """Return k2 - k1 of a prolate spheroid, crosswise minus lengthwise apparent mass.

    Parameters
    ----------
    fineness : (n,) [-]
        Length over diameter, above one.

    Returns
    -------
    (n,) [-]

    Source
    ------
    munk-1924
    """
    e2 = 1.0 - fineness**-2.0
    e = np.sqrt(e2)
    logarithm = np.log((1.0 + e) / (1.0 - e))
    lengthwise = 2.0 * (1.0 - e2) / (e * e2) * (0.5 * logarithm - e)
    crosswise = 1.0 / e2 - (1.0 - e2) / (2.0 * e * e2) * logarithm
    return np.asarray(crosswise / (2.0 - crosswise) - lengthwise / (2.0 - lengthwise))


def body_fineness(place: Samples, width: Samples, height: Samples) -> Samples:
    """Return a body's length over the diameter of the spheroid of its volume.

    Parameters
    ----------
    place : (n, s) [m]
        Stations, front to back.
    width : (n, s) [m]
        Width of the stations.
    height : (n, s) [m]
        Height of the stations.

    Returns
    -------
    (n,) [-]

    Source
    ------
    own-derivation
    """
    length = place[:, -1] - place[:, 0]
    volume = np.pi / 4.0 * _integral(place, width, height)
    return np.asarray(length / np.sqrt(6.0 * volume / (np.pi * length)))


def body_moment_slope(place: Samples, breadth: Samples, factor: Samples) -> Samples:
    """Return a body's moment over dynamic pressure per angle of the flow across it.

    Positive drives the nose out of the wind: with widths it is the pitching moment per angle
    of attack, with heights minus the yawing moment per sideslip.

    Parameters
    ----------
    place : (n, s) [m]
        Stations, front to back.
    breadth : (n, s) [m]
        Size across the flow: widths for pitch, heights for yaw.
    factor : (n,) [-]
        Apparent mass factor k2 - k1.

    Returns
    -------
    (n,) [m^3]

    Valid
    -----
    Slender, closed at both ends, elliptic sections. The wing's upwash ahead and downwash behind
    are left out: with a long nose ahead of the wing the true moment is up to a half larger.

    Source
    ------
    munk-1924
    """
    return np.asarray(factor * np.pi / 2.0 * _integral(place, breadth, breadth))


def neutral_point_shift(body_slope: Samples, lift_slope: Samples, area: Samples) -> Samples:
    """Return how far a body's moment moves the neutral point aft; forward is negative.

    Parameters
    ----------
    body_slope : (n,) [m^3]
        Moment over dynamic pressure per angle of attack.
    lift_slope : (n,) [rad^-1]
        CL per angle of attack of the whole plane.
    area : (n,) [m^2]
        Reference area.

    Returns
    -------
    (n,) [m]

    Source
    ------
    own-derivation
    """
    return np.asarray(-body_slope / (lift_slope * area))


def _integral(place: Samples, one: Samples, other: Samples) -> Samples:
    """Integral of the product of two lengths that are straight between stations."""
    step = np.diff(place, axis=1)
    a, b, c, d = one[:, :-1], one[:, 1:], other[:, :-1], other[:, 1:]
    return np.asarray(np.sum(step / 6.0 * (2.0 * a * c + a * d + b * c + 2.0 * b * d), axis=1))

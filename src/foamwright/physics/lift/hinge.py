"""Moments about the hinge of a plain flap, as a servo has to hold them."""

import numpy as np

from foamwright.physics.arrays import Samples
from foamwright.physics.lift.flaps import hinge_moment_from_angle, hinge_moment_from_deflection

REAL_OVER_THIN = (0.70, 0.10)
"""Measured hinge moment over that of thin-aerofoil theory, and ln spread: plain flaps reach 60 to
80 % of it at low Reynolds number; common practice, no source."""


def hinge_coefficient(
    chord_fraction: Samples, angle_of_attack: Samples, deflection: Samples
) -> Samples:
    """Return the inviscid hinge moment coefficient on the flap's own chord squared.

    Parameters
    ----------
    chord_fraction : (n,) [-]
        Chord behind the hinge over the whole chord.
    angle_of_attack : (n,) [rad]
        Of the section against its zero-lift line.
    deflection : (n,) [rad]
        Trailing edge down positive.

    Returns
    -------
    (n,) [-]
        Positive: trailing edge goes down.

    Valid
    -----
    Sealed gap, no aerodynamic balance; multiply by `REAL_OVER_THIN`.

    Source
    ------
    glauert-1927
    """
    return (
        hinge_moment_from_angle(chord_fraction) * angle_of_attack
        + hinge_moment_from_deflection(chord_fraction) * deflection
    )


def mean_square_chord(inner: Samples, outer: Samples) -> Samples:
    """Return the mean of the square of a flap chord that tapers evenly.

    Parameters
    ----------
    inner : (n,) [m]
        At one end.
    outer : (n,) [m]
        At the other.

    Returns
    -------
    (n,) [m^2]

    Source
    ------
    own-derivation
    """
    return (inner**2 + inner * outer + outer**2) / 3.0


def hinge_moment(
    coefficient: Samples, pressure: Samples, square_chord: Samples, length: Samples
) -> Samples:
    """Return the moment about the hinge line.

    Parameters
    ----------
    coefficient : (n,) [-]
        Of the hinge moment.
    pressure : (n,) [Pa]
        Dynamic pressure.
    square_chord : (n,) [m^2]
        Mean of the flap chord squared.
    length : (n,) [m]
        Along the hinge.

    Returns
    -------
    (n,) [N m]

    Source
    ------
    own-derivation
    """
    return np.asarray(coefficient * pressure * square_chord * length)


def speed_held(held: Samples, moment: Samples, speed: Samples) -> Samples:
    """Return the speed at which a held moment is used up, the deflection kept.

    Parameters
    ----------
    held : (n,) [N m]
        What servo and linkage hold.
    moment : (n,) [N m]
        Hinge moment at some speed.
    speed : (n,) [m s^-1]
        That speed.

    Returns
    -------
    (n,) [m s^-1]

    Source
    ------
    own-derivation
    """
    return speed * np.sqrt(np.abs(held) / np.maximum(np.abs(moment), 1e-9))

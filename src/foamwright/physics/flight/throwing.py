"""How fast an arm throws other masses."""

from foamwright.physics.arrays import Samples

MASS_EXPONENT = 0.214
"""Sixty times the mass is thrown 2.4 times slower: ln 2.4 / ln 60."""


def thrown_speed(speed: Samples, mass: Samples, other: Samples) -> Samples:
    """Return how fast the same arm throws another mass.

    Parameters
    ----------
    speed : (n,) [m s^-1]
        Of the mass that was thrown.
    mass : (n,) [kg]
        That was thrown.
    other : (n,) [kg]
        To be thrown.

    Returns
    -------
    (n,) [m s^-1]

    Valid
    -----
    Overarm throws of 0.06 to 3.6 kg; elite players reach 19 to 21 m/s with 0.4 kg.

    Source
    ------
    cross-2004, tillaar-cabri-2012
    """
    found: Samples = speed * (mass / other) ** MASS_EXPONENT
    return found

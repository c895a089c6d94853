"""Slow flight: stall, approach, bank and glide."""

import numpy as np

from foamwright.physics.arrays import Grid, Samples

APPROACH_FACTOR = 1.3
"""Approach speed over stall speed: common practice."""

GUST_SHARE = 0.5
"""Share of a gust added to the approach speed: common practice."""


def stall_speed(wing_load: Samples, maximum_lift: Samples, density: Samples) -> Samples:
    """Return the speed at which the largest lift just carries the weight.

    Parameters
    ----------
    wing_load : (n,) [N m^-2]
        Weight over wing area.
    maximum_lift : (n,) [-]
        Largest lift coefficient on that area.
    density : (n,) [kg m^-3]
        Of the air.

    Returns
    -------
    (n,) [m s^-1]

    Source
    ------
    own-derivation
    """
    return np.sqrt(2.0 * wing_load / (density * maximum_lift))


def approach_speed(stall: Samples, gust: Samples) -> Samples:
    """Return the speed to come in at: 1.3 times the stall, and half the gust.

    Parameters
    ----------
    stall : (n,) [m s^-1]
        Stall speed.
    gust : (n,) [m s^-1]
        Gusts over the mean wind; zero in calm.

    Returns
    -------
    (n,) [m s^-1]

    Source
    ------
    common-practice
    """
    return APPROACH_FACTOR * stall + GUST_SHARE * gust


def banked_factor(bank: Samples) -> Samples:
    """Return stall speed in a level turn over that in straight flight.

    Parameters
    ----------
    bank : (n,) [rad]
        Angle of bank.

    Returns
    -------
    (n,) [-]

    Source
    ------
    own-derivation
    """
    return 1.0 / np.sqrt(np.cos(bank))


def glide(speed: Grid, drag: Samples, weight: Samples) -> tuple[Samples, Samples]:
    """Return the best glide ratio and its speed, motor off and propeller folded or stopped.

    Parameters
    ----------
    speed : (k,) [m s^-1]
        Rising.
    drag : (n, k) [N]
        In level flight; infinite where the wing does not carry.
    weight : (n,) [N]
        Of the plane.

    Returns
    -------
    (n,) [-], (n,) [m s^-1]

    Valid
    -----
    Shallow glides: lift is taken as weight.

    Source
    ------
    own-derivation
    """
    least = np.argmin(drag, axis=1)
    rows = np.arange(drag.shape[0])
    return weight / drag[rows, least], speed[least]


def sink(speed: Grid, drag: Samples, weight: Samples) -> tuple[Samples, Samples]:
    """Return the least rate of sink and its speed, motor off and propeller folded or stopped.

    Parameters
    ----------
    speed : (k,) [m s^-1]
        Rising.
    drag : (n, k) [N]
        In level flight; infinite where the wing does not carry.
    weight : (n,) [N]
        Of the plane.

    Returns
    -------
    (n,) [m s^-1], (n,) [m s^-1]
        Infinite where no speed carries.

    Valid
    -----
    Shallow glides: lift is taken as weight.

    Source
    ------
    own-derivation
    """
    rate = speed * drag / weight[:, None]
    least = np.argmin(rate, axis=1)
    return rate[np.arange(drag.shape[0]), least], speed[least]

"""How the rates of a plane answer its surfaces, for whoever turns surfaces against rates."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.flight.derivatives import Derivatives


@dataclass(frozen=True, kw_only=True, slots=True)
class Plant:
    """Rate over surface angle, (b1 s + b0) / (s^2 + a1 s + a0), of n samples at k speeds."""

    b1: Samples
    """(n, k) [s^-2]."""
    b0: Samples
    """(n, k) [s^-3]."""
    a1: Samples
    """(n, k) [s^-1]."""
    a0: Samples
    """(n, k) [s^-2]."""


def roll_plant(derivatives: Derivatives, inertia: Samples, density: Samples, speed: Grid) -> Plant:
    """Return roll rate over aileron.

    Parameters
    ----------
    derivatives : Derivatives
        About the centre of gravity.
    inertia : (n,) [kg m^2]
        In roll.
    density : (n,) [kg m^-3]
        Air density.
    speed : (k,) [m s^-1]
        Airspeeds.

    Returns
    -------
    Plant [-]
        A lag with time constant -Ix / Lp.

    Source
    ------
    nelson-1998
    """
    d = derivatives
    torque = 0.5 * density * d.area * d.span / inertia
    b1 = (np.abs(d.Clda) * torque)[:, None] * speed**2
    a1 = (-d.Clp * torque * 0.5 * d.span)[:, None] * speed
    return Plant(b1=b1, b0=np.zeros_like(b1), a1=a1, a0=np.zeros_like(b1))


def pitch_plant(
    derivatives: Derivatives, mass: Samples, inertia: Samples, *, density: Samples, speed: Grid
) -> Plant:
    """Return pitch rate over elevator, plane free to move up and down.

    Parameters
    ----------
    derivatives : Derivatives
        About the centre of gravity.
    mass : (n,) [kg]
        Mass.
    inertia : (n,) [kg m^2]
        In pitch.
    density : (n,) [kg m^-3]
        Air density.
    speed : (k,) [m s^-1]
        Airspeeds.

    Returns
    -------
    Plant [-]

    Source
    ------
    nelson-1998
    """
    d = derivatives
    rising = (0.5 * density * d.area / mass)[:, None] * speed
    torque = (0.5 * density * d.area * d.chord / inertia)[:, None] * speed**2
    Za, Ma = -d.CLa[:, None] * rising, d.Cma[:, None] * torque
    Mq = (d.Cmq * 0.5 * d.chord)[:, None] * torque / speed
    Zd, Md = -d.CLde[:, None] * rising, d.Cmde[:, None] * torque
    sign = np.where(Md < 0.0, -1.0, 1.0)  # a canard's elevator works the other way round
    return Plant(b1=sign * Md, b0=sign * (Ma * Zd - Za * Md), a1=-Za - Mq, a0=Za * Mq - Ma)


def yaw_plant(
    derivatives: Derivatives, mass: Samples, inertia: Samples, *, density: Samples, speed: Grid
) -> Plant:
    """Return yaw rate over rudder, plane free to move sideways, wings held level.

    Parameters
    ----------
    derivatives : Derivatives
        About the centre of gravity.
    mass : (n,) [kg]
        Mass.
    inertia : (n,) [kg m^2]
        In yaw.
    density : (n,) [kg m^-3]
        Air density.
    speed : (k,) [m s^-1]
        Airspeeds.

    Returns
    -------
    Plant [-]

    Source
    ------
    nelson-1998
    """
    d = derivatives
    aside = (0.5 * density * d.area / mass)[:, None] * speed
    torque = (0.5 * density * d.area * d.span / inertia)[:, None] * speed**2
    Yb, Nb = d.CYb[:, None] * aside, d.Cnb[:, None] * torque
    Nr = (d.Cnr * 0.5 * d.span)[:, None] * torque / speed
    Yd, Nd = d.CYdr[:, None] * aside, d.Cndr[:, None] * torque
    return Plant(b1=Nd, b0=Nb * Yd - Yb * Nd, a1=-Yb - Nr, a0=Yb * Nr + Nb)

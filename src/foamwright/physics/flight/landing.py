"""Flare, slide and go-around: what is left of a landing once the approach speed is known."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Samples

FREE_FALL = 9.80665
"""Standard acceleration of free fall [m s^-2]."""

TOUCHDOWN_FACTOR = 1.1
"""Speed at which a flare ends over stall speed: common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Flare:
    """From the end of the approach to the ground, level; all (n,)."""

    time: Samples
    """[s]."""
    distance: Samples
    """Over the ground [m]."""


def flare(approach: Samples, touchdown: Samples, glide_ratio: Samples, wind: Samples) -> Flare:
    """Return how far a plane floats above the ground until it is slow enough to sit down.

    Parameters
    ----------
    approach : (n,) [m s^-1]
        Airspeed it comes in at.
    touchdown : (n,) [m s^-1]
        Airspeed it sits down at.
    glide_ratio : (n,) [-]
        Lift over drag in between, motor off.
    wind : (n,) [m s^-1]
        On the nose.

    Returns
    -------
    Flare [m]

    Valid
    -----
    Level, drag over weight taken as constant; ground effect lengthens it.

    Source
    ------
    own-derivation
    """
    time = np.maximum(approach - touchdown, 0.0) * glide_ratio / FREE_FALL
    ground = 0.5 * (approach + touchdown) - wind
    return Flare(time=time, distance=np.maximum(ground, 0.0) * time)


def slide(ground_speed: Samples, friction: Samples) -> Samples:
    """Return how far it slides until it stands.

    Parameters
    ----------
    ground_speed : (n,) [m s^-1]
        Over the ground at touchdown; backwards counts as standing.
    friction : (n,) [-]
        Of belly on ground.

    Returns
    -------
    (n,) [m]

    Valid
    -----
    Level ground, no wheels, nothing that trips it; air drag left out.

    Source
    ------
    own-derivation
    """
    return np.asarray(np.maximum(ground_speed, 0.0) ** 2 / (2.0 * FREE_FALL * friction))


def held_lift(limit: Samples, at_none: Samples, per_lift: Samples) -> Samples:
    """Return the largest lift coefficient that a travel of the elevator can trim.

    Parameters
    ----------
    limit : (n,) [rad]
        Travel the way that holds the nose up, as a positive angle.
    at_none : (n,) [rad]
        Travel that way which trims no lift.
    per_lift : (n,) [rad]
        What each lift coefficient adds; negative where the plane noses up by itself.

    Returns
    -------
    (n,) [-]
        Infinite where the elevator never runs out.

    Source
    ------
    nelson-1998
    """
    stable = per_lift > 1e-9
    return np.where(stable, (limit - at_none) / np.where(stable, per_lift, 1.0), np.inf)


def speed_of_lift(wing_load: Samples, lift: Samples, density: Samples) -> Samples:
    """Return the speed of level flight at a lift coefficient.

    Parameters
    ----------
    wing_load : (n,) [N m^-2]
        Weight over wing area.
    lift : (n,) [-]
        Lift coefficient; none or less never carries.
    density : (n,) [kg m^-3]
        Of the air.

    Returns
    -------
    (n,) [m s^-1]
        Infinite where it never carries.

    Source
    ------
    own-derivation
    """
    carries = lift > 0.0
    speed = np.sqrt(2.0 * wing_load / (density * np.where(carries, lift, 1.0)))
    return np.where(carries, speed, np.inf)

"""A plane drawn off by a rubber: force, speed at release, what the hook has to bear."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples

GRAVITY = 9.80665
"""Standard acceleration of free fall [m s^-2]."""

LEAST_RUN = 1e-9
"""Energy below which nothing leaves the line [J]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Bungee:
    """The line and how the plane hangs on it; all (n,)."""

    length: Samples
    """Of the rubber without pull [m]."""
    stretch: Samples
    """How far it is drawn beyond that [m]."""
    pull: Samples
    """On the scale when fully drawn [N]."""
    returned: Samples
    """Share of the work that comes back: latex 0.70 to 0.85 [-]."""
    slope: Samples
    """Of the path while it pulls, above the horizon [rad]."""
    hook_ahead: Samples
    """How far the hook sits ahead of the centre of gravity [m]."""
    hook_below: Samples
    """How far it sits below [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawn:
    """How the plane leaves the line; all (n,)."""

    speed: Samples
    """At release [m s^-1]."""
    energy: Samples
    """Given by the rubber [J]."""
    acceleration: Samples
    """Largest along the path [m s^-2]."""
    hook_force: Samples
    """Largest on the hook [N]."""
    incidence: Samples
    """Nose above the line of the pull [rad]."""
    leaves: Flags
    """Whether it moves at all: the rubber lifts it up the slope."""
    steady: Flags
    """Whether the pull straightens it: the hook is ahead of the centre of gravity."""


def rubber_shape(stretch_ratio: Samples) -> Samples:
    """Return how the pull of a rubber grows: ratio less one over its square.

    Parameters
    ----------
    stretch_ratio : (n,) [-]
        Drawn over free length.

    Returns
    -------
    (n,) [-]

    Valid
    -----
    Natural rubber to a ratio of about three to four; beyond it the chains are straight and the
    pull rises more steeply.

    Source
    ------
    treloar-1975
    """
    found: Samples = stretch_ratio - stretch_ratio**-2.0
    return found


def pull_at(bungee: Bungee, drawn: Samples) -> Samples:
    """Return the pull at other stretches than the full one.

    Parameters
    ----------
    bungee : Bungee
        n lines.
    drawn : (n,) [m]
        How far it is drawn beyond its free length.

    Returns
    -------
    (n,) [N]

    Source
    ------
    treloar-1975
    """
    full = rubber_shape(1.0 + bungee.stretch / bungee.length)
    found: Samples = bungee.pull * rubber_shape(1.0 + drawn / bungee.length) / full
    return found


def stored_work(bungee: Bungee) -> Samples:
    """Return the work put in when drawing the rubber by hand.

    The closed integral of the pull; half of pull times stretch in a rubber much longer than its
    stretch, more in a short one, whose pull rises steeply at first.

    Parameters
    ----------
    bungee : Bungee
        n lines.

    Returns
    -------
    (n,) [J]

    Source
    ------
    treloar-1975, own-derivation
    """
    ratio = 1.0 + bungee.stretch / bungee.length
    # (ratio^2 / 2 + 1 / ratio - 3 / 2) written so that small stretches keep their digits.
    area = (ratio - 1.0) ** 2 * (ratio + 2.0) / (2.0 * ratio)
    found: Samples = bungee.pull * bungee.length * area / rubber_shape(ratio)
    return found


def drawn_off(bungee: Bungee, mass: Samples) -> Drawn:
    """Return how a plane leaves the line.

    Parameters
    ----------
    bungee : Bungee
        n lines.
    mass : (n,) [kg]
        Of the plane; the rubber's own is part of what it does not give back.

    Returns
    -------
    Drawn [-]

    Valid
    -----
    Drag and friction on the way are left out: a plane of 300 g loses some percent on 2 m.

    Source
    ------
    treloar-1975, own-derivation
    """
    given = bungee.returned * stored_work(bungee)
    lifted = mass * GRAVITY * bungee.stretch * np.sin(bungee.slope)
    left = given - lifted
    along = bungee.pull / mass - GRAVITY * np.sin(bungee.slope)
    return Drawn(
        speed=np.sqrt(2.0 * np.maximum(left, 0.0) / mass),
        energy=given,
        acceleration=np.maximum(along, 0.0),
        hook_force=bungee.pull,
        incidence=np.arctan2(bungee.hook_below, np.maximum(bungee.hook_ahead, 1e-6)),
        leaves=left > LEAST_RUN,
        steady=bungee.hook_ahead > 0.0,
    )

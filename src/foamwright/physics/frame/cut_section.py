"""What is left of a cross-section when a pocket is cut out of it.

Axes in the plane of the section: first to the right, second up.
"""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Samples

AREA, RIGHT, UP, RIGHT_RIGHT, UP_UP, RIGHT_UP = range(6)
"""Order of the moments of an area: itself, first moments, second moments."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SectionProperties:
    """One section, or n of them."""

    area: Samples
    """(n,) [m^2]."""
    centre: Samples
    """Right and up (n, 2) [m]."""
    inertia_right: Samples
    """About the level axis through the centre, bending up and down (n,) [m^4]."""
    inertia_up: Samples
    """About the upright axis through the centre, bending sideways (n,) [m^4]."""
    product: Samples
    """Product of the two distances over the area (n,) [m^4]."""


def ring_moments(ring: Samples) -> Samples:
    """Return the moments of the area inside a closed ring, by Green's theorem.

    Parameters
    ----------
    ring : (n, k, 2) [m]
        Corners in order, the first not repeated; clockwise rings count negative.

    Returns
    -------
    (n, 6) [m^4]
        Area [m^2], first moments [m^3], second moments [m^4], in the order of the constants.

    Source
    ------
    own-derivation
    """
    x, y = ring[..., 0], ring[..., 1]
    xn, yn = np.roll(x, -1, axis=-1), np.roll(y, -1, axis=-1)
    cross = x * yn - xn * y
    return np.stack(
        [
            cross.sum(axis=-1) / 2.0,
            ((x + xn) * cross).sum(axis=-1) / 6.0,
            ((y + yn) * cross).sum(axis=-1) / 6.0,
            ((x * x + x * xn + xn * xn) * cross).sum(axis=-1) / 12.0,
            ((y * y + y * yn + yn * yn) * cross).sum(axis=-1) / 12.0,
            ((x * yn + 2.0 * x * y + 2.0 * xn * yn + xn * y) * cross).sum(axis=-1) / 24.0,
        ],
        axis=-1,
    )


def spot_moments(area: Samples, place: Samples) -> Samples:
    """Return the moments of a small area, such as a rod, about the axes.

    Parameters
    ----------
    area : (n,) [m^2]
        Its area, times the ratio of its modulus to that of the section it is counted with.
    place : (n, 2) [m]
        Right and up.

    Returns
    -------
    (n, 6) [m^4]

    Valid
    -----
    Its own stiffness about its own middle is left out.

    Source
    ------
    own-derivation
    """
    x, y = place[..., 0], place[..., 1]
    return area[..., None] * np.stack([np.ones_like(x), x, y, x * x, y * y, x * y], axis=-1)


def properties(moments: Samples) -> SectionProperties:
    """Return centre and second moments about it, from moments about the axes.

    Parameters
    ----------
    moments : (n, 6) [m^4]
        Of the whole section: added for what is there, taken off for what is cut out.

    Returns
    -------
    SectionProperties [m^4]

    Source
    ------
    own-derivation
    """
    area = moments[..., AREA]
    safe = np.where(np.abs(area) > 1e-12, area, np.nan)
    right, up = moments[..., RIGHT] / safe, moments[..., UP] / safe
    return SectionProperties(
        area=area,
        centre=np.stack([right, up], axis=-1),
        inertia_right=moments[..., UP_UP] - area * up**2,
        inertia_up=moments[..., RIGHT_RIGHT] - area * right**2,
        product=moments[..., RIGHT_UP] - area * right * up,
    )

"""Velocity that horseshoe vortices with legs along x cause normal to the surfaces."""

import numpy as np

from foamwright.physics.arrays import Samples
from foamwright.physics.lift.panels import Panels, Strips

CORE = 0.5
"""Radius of a vortex core seen by other surfaces, in widths of its strip [-].

A leg that passes close to a control point of the tail stands for a sheet as wide as its strip.
"""


def normalwash(strips: Strips, panels: Panels, *, twin: bool) -> Samples:
    """Return the normal velocity at each control point per unit circulation of each horseshoe.

    Parameters
    ----------
    strips : Strips
        The strips the panels stand on.
    panels : Panels
        Right halves and fins.
    twin : bool [-]
        Whether the horseshoes are those of the twins at -y, with the same circulation.

    Returns
    -------
    (g, p, p) [m^-1]

    Source
    ------
    katz-plotkin-2001
    """
    surface = strips.surface[panels.strip]
    width = strips.width[:, panels.strip]
    core = np.where(surface[:, None] == surface, 0.0, CORE * width[:, None, :]) ** 2
    # The twin's flow is the mirrored flow of the original: it is read at the mirrored point
    # along the mirrored direction.
    mirror = -1.0 if twin else 1.0
    control = panels.control * np.asarray([1.0, mirror, 1.0])
    along = strips.along[:, panels.strip] * np.asarray([1.0, mirror])
    return _horseshoe(control, along, (panels.start, panels.end), core)


def wakewash(strips: Strips, *, twin: bool) -> Samples:
    """Return the normal velocity far behind each strip per unit circulation of each strip.

    Parameters
    ----------
    strips : Strips
        Right halves and fins.
    twin : bool [-]
        Whether the wakes are those of the twins at -y, with the same circulation.

    Returns
    -------
    (g, m, m) [m^-1]

    Source
    ------
    katz-plotkin-2001
    """
    other = strips.surface[:, None] != strips.surface
    core = np.where(other, CORE * strips.width[:, None, :], 0.0) ** 2
    mirror = np.asarray([1.0, -1.0 if twin else 1.0])
    point = strips.middle * mirror[::-1]
    along = strips.along * mirror
    ends = [
        _leg(*_seen(point[..., 0], point[..., 1], along, edge), core)
        for edge in (strips.start, strips.end)
    ]
    return np.asarray((ends[1] - ends[0]) / (2.0 * np.pi))


def _seen(y: Samples, z: Samples, along: Samples, end: Samples) -> tuple[Samples, Samples, Samples]:
    """Offset in y and z from each vortex end to each point, and its share along the span."""
    dy = y[:, :, None] - end[:, None, :, 0]
    dz = z[:, :, None] - end[:, None, :, 1]
    return dy, dz, along[..., 0, None] * dy + along[..., 1, None] * dz


def _leg(dy: Samples, dz: Samples, share: Samples, core: Samples) -> Samples:
    return np.asarray(share / (dy * dy + dz * dz + core))


def _horseshoe(
    control: Samples, along: Samples, ends: tuple[Samples, Samples], core: Samples
) -> Samples:
    """Bound vortex from start to end, one leg aft from the end, one coming in to the start."""
    x = [control[..., 0, None] - end[:, None, :, 0] for end in ends]
    y, z, share = zip(
        *(_seen(control[..., 1], control[..., 2], along, end[..., 1:]) for end in ends),
        strict=True,
    )
    aside = [y[k] * y[k] + z[k] * z[k] + core for k in (0, 1)]
    far = [np.sqrt(x[k] * x[k] + aside[k]) for k in (0, 1)]
    legs = [share[k] / aside[k] * (1.0 + x[k] / far[k]) for k in (0, 1)]
    product = far[0] * far[1]
    scalar = x[0] * x[1] + y[0] * y[1] + z[0] * z[1] + core
    bound = (x[0] * share[1] - x[1] * share[0]) * (far[0] + far[1]) / (product * (product + scalar))
    return np.asarray((bound + legs[1] - legs[0]) / (4.0 * np.pi))

"""Velocity that horseshoe vortices with legs along x cause normal to the surfaces.

A leg stands for a sheet as wide as a strip. Between surfaces, whose strips do not meet edge to
edge, its flow is therefore averaged over the strip it meets, in closed form; taken at a point
it would blow up wherever a tail lies in a wing's wake.
"""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Grid, Samples
from foamwright.physics.lift.panels import Panels, Strips

CORE = 0.5 / np.e
"""Radius at which a point vortex has the stream function of a sheet of width one [-]."""

TOUCH = 0.5
"""Distance from a strip edge, in core radii, up to which a vortex lies on it [-]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Crosswise:
    """Strips seen from strips in the y-z plane: first the one met, then the one that acts."""

    aside: tuple[Samples, Samples]
    """Squared distance from the start and the end of the acting strip, (g, m, m) [m^2]."""
    share: tuple[Samples, Samples]
    """Distances along the span of the strip met, (g, m, m) [m]."""
    pull: tuple[Samples, Samples]
    """Normal velocity times 2 pi over circulation of a line there, (g, m, m) [m^-1]."""
    product: Samples
    """Scalar product of both distances and the core, (g, m, m) [m^2]."""


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
    katz-plotkin-2001, own-derivation
    """
    seen = _crosswise(strips, twin=twin)
    met, acting = panels.strip[:, None], panels.strip
    x = [panels.control[..., 0, None] - end[:, None, :, 0] for end in (panels.start, panels.end)]
    share = [part[:, met, acting] for part in seen.share]
    far = [np.sqrt(x[k] * x[k] + seen.aside[k][:, met, acting]) for k in (0, 1)]
    legs = [seen.pull[k][:, met, acting] * (1.0 + x[k] / far[k]) for k in (0, 1)]
    size = far[0] * far[1]
    divisor = size * (size + x[0] * x[1] + seen.product[:, met, acting])
    bound = (x[0] * share[1] - x[1] * share[0]) * (far[0] + far[1]) / divisor
    return np.asarray((bound + legs[1] - legs[0]) / (4.0 * np.pi))


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
    katz-plotkin-2001, own-derivation
    """
    start, end = _crosswise(strips, twin=twin).pull
    return np.asarray((end - start) / (2.0 * np.pi))


def _crosswise(strips: Strips, *, twin: bool) -> _Crosswise:
    # The twin's flow is the mirrored flow of the original: it is read at the mirrored point
    # along the mirrored direction.
    mirror = -1.0 if twin else 1.0
    place, along = np.asarray([mirror, 1.0]), strips.along * np.asarray([1.0, mirror])
    other = strips.surface[:, None] != strips.surface
    core = (_core(strips) ** 2)[:, None, :]
    ends = (strips.start, strips.end)
    offset = [_offset(strips.middle * place, end) for end in ends]
    share = [(offset[k] * along[:, :, None, :]).sum(axis=-1) for k in (0, 1)]
    aside = [(offset[k] ** 2).sum(axis=-1) for k in (0, 1)]
    pull = []
    for k, end in enumerate(ends):
        inner, outer = ((_offset(edge * place, end) ** 2).sum(axis=-1) for edge in ends)
        meets = other & ~_touched(strips, np.minimum(inner, outer)[0])
        squares = np.where(meets, (outer + core) / (inner + core), 1.0)
        averaged = mirror * np.log(squares) / (2.0 * strips.width[:, :, None])
        pull.append(np.where(meets, averaged, share[k] / aside[k]))
    return _Crosswise(
        aside=(aside[0], aside[1]),
        share=(share[0], share[1]),
        pull=(pull[0], pull[1]),
        product=(offset[0] * offset[1]).sum(axis=-1) + core * other,
    )


def _offset(point: Samples, end: Samples) -> Samples:
    return np.asarray(point[:, :, None, :] - end[:, None, :, :])


def _touched(strips: Strips, distance: Grid) -> Flags:
    """Whether a vortex end lies on a strip edge of the surface met: then they are one sheet.

    Decided by the first geometry, lest a batch jump.
    """
    on_edge = distance <= (TOUCH * _core(strips)[0]) ** 2
    same = strips.surface[:, None] == strips.surface
    return np.asarray((same.astype(float) @ on_edge) > 0.0)


def _core(strips: Strips) -> Samples:
    """Core radius, one a surface so that legs which share an edge cancel, (g, m)."""
    same = strips.surface[:, None] == strips.surface
    return np.asarray(CORE * strips.width @ (same / same.sum(axis=0)))

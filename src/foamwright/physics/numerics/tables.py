"""Look-up in rectangular tables: multilinear, held at the edge, the outside flagged."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from foamwright.physics.arrays import Flags, Grid, Samples

FEW = 8
"""Nodes up to which an axis is counted through."""


def bracket(axis: Grid, values: Samples) -> tuple[NDArray[np.intp], Samples, Flags]:
    """Return the left node, the fraction to the next one, and who lies outside.

    Parameters
    ----------
    axis : (k,) [unit]
        Rising nodes of one table axis.
    values : (n,) [unit]
        Where to look; any shape is kept.

    Returns
    -------
    (n,) [-], (n,) [-], (n,) [-]

    Source
    ------
    own-derivation
    """
    inside = np.minimum(np.maximum(values, axis[0]), axis[-1])
    left = _left_node(axis, inside)
    fraction = (inside - axis.take(left)) / np.diff(axis).take(left)
    return left, fraction, (values < axis[0]) | (values > axis[-1])


def _left_node(axis: Grid, inside: Samples) -> NDArray[np.intp]:
    """Return the left node of values inside an axis; few nodes are counted, not searched."""
    if axis.size > FEW:
        return np.clip(np.searchsorted(axis, inside, side="right") - 1, 0, axis.size - 2)
    left = np.zeros(np.shape(inside), dtype=np.intp)
    for node in axis[1:-1]:
        left += inside >= node
    return left


def look_up(axes: Sequence[Grid], table: Grid, points: Sequence[Samples]) -> tuple[Samples, Flags]:
    """Interpolate a table linearly along every axis, held constant beyond its edge.

    Parameters
    ----------
    axes : (d,) [unit]
        The nodes of each of the d axes.
    table : (k1, ..., kd, ...) [unit]
        The values; trailing axes beyond the d-th are carried along.
    points : (d,) [unit]
        One array of coordinates for each axis; they broadcast together.

    Returns
    -------
    (n, ...) [unit], (n,) [-]

    Source
    ------
    own-derivation
    """
    shaped = np.broadcast_arrays(*points)
    cells = [bracket(axis, values) for axis, values in zip(axes, shaped, strict=True)]
    outside = np.zeros(shaped[0].shape, dtype=bool)
    for _, _, beyond in cells:
        outside |= beyond
    sizes, trailing = table.shape[: len(axes)], table.shape[len(axes) :]
    flat = table.reshape((-1, *trailing))
    total: Samples = np.zeros(shaped[0].shape + trailing)
    for corner in range(2 ** len(axes)):
        weight: Samples = np.ones(shaped[0].shape)
        index = np.zeros(shaped[0].shape, dtype=np.intp)
        for dimension, (left, fraction, _) in enumerate(cells):
            upper = (corner >> dimension) & 1
            weight = weight * (fraction if upper else 1.0 - fraction)
            index = index * sizes[dimension] + (left + upper)
        spread = weight.reshape(weight.shape + (1,) * len(trailing))
        total += spread * np.take(flat, index, axis=0)
    return total, outside

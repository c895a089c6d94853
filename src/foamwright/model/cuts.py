"""Cross-sections read at a place: from where to where there is foam along a line."""

from collections.abc import Callable, Hashable
from typing import Any, TypeVar

import numpy as np
from shapely.geometry.base import BaseGeometry

from foamwright.model.solid import Solid, millimetres
from foamwright.physics.arrays import Grid

RIGHT, UP = 0, 1
"""Axes of a section."""

Span = tuple[float, float]

T = TypeVar("T")


def edges_of(section: BaseGeometry) -> Grid:
    """Return all edges of a section (k, 2, 2): ends, right and up [m]."""
    found = []
    for part in getattr(section, "geoms", [section]):
        if part.is_empty:
            continue
        for ring in (part.exterior, *part.interiors):
            points = np.asarray(ring.coords)
            found.append(np.stack([points[:-1], points[1:]], axis=1))
    return np.concatenate(found) if found else np.zeros((0, 2, 2))


class Cuts:
    """The sections of a solid as edges, remembered."""

    def __init__(self, solid: Solid) -> None:
        """Remember the solid."""
        self.solid = solid
        self._edges: dict[int, Grid] = {}
        self.remembered: dict[Hashable, Any] = {}
        """What was worked out from these cuts alone, by what it was worked out for."""

    def once(self, key: Hashable, work: Callable[[], T]) -> T:
        """Return what `work` gives, done once for a key: a part that stays needs no new pocket."""
        if key not in self.remembered:
            self.remembered[key] = work()
        found: T = self.remembered[key]
        return found

    def edges(self, x: float) -> Grid:
        """Return the edges of the cut at x (k, 2, 2) [m]."""
        at = millimetres(x)
        if at not in self._edges:
            self._edges[at] = edges_of(self.solid.section(at))
        return self._edges[at]

    def spans(self, x: float, axis: int, at: float) -> list[Span]:
        """Return where foam lies along one axis, on the line where the other axis is `at` [m]."""
        edges = self.edges(x)
        if not edges.size:
            return []
        across = edges[:, :, 1 - axis] - at
        crossed = (across[:, 0] > 0.0) != (across[:, 1] > 0.0)
        start, end = edges[crossed, 0, axis], edges[crossed, 1, axis]
        first, second = across[crossed, 0], across[crossed, 1]
        places = np.sort(start + (end - start) * first / (first - second))
        return [(float(a), float(b)) for a, b in zip(places[::2], places[1::2], strict=False)]

    def span(self, x: float, axis: int, at: float, near: float) -> Span | None:
        """Return the foam along that line that holds the place `near`, or none."""
        for low, high in self.spans(x, axis, at):
            if low <= near <= high:
                return low, high
        return None

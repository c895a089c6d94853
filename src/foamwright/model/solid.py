"""The airframe as solid foam: its cross-section (y, z) at any place along the plane.

Bodies are rounded boxes between their stations, wings and tails strips of foil section; fins stand
on top and are left out. Everything is as drawn; what the ruler got wrong is carried elsewhere.
"""

from collections.abc import Callable
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from foamwright.model.foam import is_mirrored, relative_thickness
from foamwright.model.outlines import NO_OUTLINES, Outlines
from foamwright.model.surfaces import geometry_of
from foamwright.physics.arrays import Flags, Grid
from foamwright.plane.airframe import Airframe, Body, Surface

CORNER = 0.2
"""Radius of a body's corners over its smaller side, where none is written; common practice, no
source."""

SPANWISE = 24
"""Places across a half surface at which its thickness is read."""

MEAN_LINE_TOP = 0.4
"""Where a mean line that is only known by its camber is highest [chord]."""

ROUNDED = 1e-3
"""Sections are made at whole millimetres and remembered [m]."""

Places = np.ndarray[tuple[int, ...], np.dtype[np.intp]]
"""Indices of places across a surface."""

QUARTER = np.stack(
    [np.cos(np.linspace(0, np.pi / 2, 6)), np.sin(np.linspace(0, np.pi / 2, 6))], axis=-1
)
"""A quarter of a circle (6, 2)."""

EMPTY = shapely.Polygon()


def half_thickness(share: Grid) -> Grid:
    """Return half the thickness of a four-digit section over its thickness.

    `share` (k,) is the place over the chord, from 0 to 1; NACA report 460, with the trailing edge
    left 0.2 % of the thickness blunt, as printed.
    """
    x = np.clip(share, 0.0, 1.0)
    found: Grid = 5.0 * (
        0.2969 * np.sqrt(x) - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4
    )
    return found


def mean_line(share: Grid) -> Grid:
    """Return the height of a four-digit mean line over its camber, at places over the chord."""
    x, p = np.clip(share, 0.0, 1.0), MEAN_LINE_TOP
    front = (2.0 * p * x - x**2) / p**2
    rear = (1.0 - 2.0 * p + 2.0 * p * x - x**2) / (1.0 - p) ** 2
    return np.where(x < p, front, rear)


def rounded_box(size: tuple[float, float], middle: tuple[float, float], corner: float) -> Grid:
    """Return the outline of a box with round corners (k, 2) [m], anticlockwise."""
    half = np.array(size) / 2.0
    radius = min(corner, float(half.min()))
    arcs = []
    for turn, (side, up) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        angle = turn * np.pi / 2
        turned = QUARTER @ np.array(
            [[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]]
        )
        arcs.append((half - radius) * np.array([side, up]) + radius * turned)
    outline: Grid = np.concatenate(arcs) + np.array(middle)
    return outline


class BodySolid:
    """One body between its stations."""

    def __init__(self, body: Body) -> None:
        """Read the stations."""
        self.name = body.name
        self.y = 0.0 if body.y is None else body.y.value
        self.wall = None if body.wall is None else body.wall.value
        self.x = np.array([s.x.value for s in body.stations])
        self._width = np.array([s.width.value for s in body.stations])
        self._height = np.array([s.height.value for s in body.stations])
        self._z = np.array([0.0 if s.z is None else s.z.value for s in body.stations])
        small = np.minimum(self._width, self._height)
        self.corner_written = any(s.corner is not None for s in body.stations)
        self._corner = np.array(
            [
                CORNER * low if s.corner is None else s.corner.value
                for s, low in zip(body.stations, small, strict=True)
            ]
        )

    def holds(self, x: float) -> bool:
        """Return whether the body reaches a place along the plane."""
        return bool(self.x[0] <= x <= self.x[-1])

    def size_at(self, x: float) -> tuple[float, float, float]:
        """Return width, height and height of the middle [m]."""
        return (
            float(np.interp(x, self.x, self._width)),
            float(np.interp(x, self.x, self._height)),
            float(np.interp(x, self.x, self._z)),
        )

    def outline(self, x: float, inset: float = 0.0) -> Grid:
        """Return the outline of the cut at x (k, 2) [m], shrunk by an inset."""
        width, height, z = self.size_at(x)
        corner = float(np.interp(x, self.x, self._corner))
        size = (max(width - 2 * inset, 1e-6), max(height - 2 * inset, 1e-6))
        return rounded_box(size, (self.y, z), max(corner - inset, 0.0))


class SurfaceSolid:
    """One wing, tail or canard with its twin."""

    def __init__(self, surface: Surface, points: Grid | None) -> None:
        """Read the stations; `points` is the surface's own section, if it has one."""
        self.name, self.role = surface.name, surface.role
        self.mirrored, self.flat = is_mirrored(surface), surface.profile != "foil"
        geometry = geometry_of(surface)
        edge = geometry.leading_edge
        thick = np.array([relative_thickness(s) for s in surface.stations])
        along = np.linspace(0.0, 1.0, len(thick))
        fine = np.union1d(np.linspace(0.0, 1.0, SPANWISE), along)

        def at(values: Grid) -> Grid:
            return np.asarray(np.interp(fine, along, values))

        self.y, self.z = at(edge[:, 1]), at(edge[:, 2])
        self.edge, self.chord = at(edge[:, 0]), at(geometry.chord)
        self.twist, self.camber, self.thick = at(geometry.twist), at(geometry.camber), at(thick)
        self._shape = None if points is None else sides_of(points)

    def station(self, y: float) -> tuple[float, float]:
        """Return leading edge and chord at a distance from the middle [m]; beyond the tip: 0."""
        if not self.y[0] <= y <= self.y[-1]:
            return 0.0, 0.0
        return float(np.interp(y, self.y, self.edge)), float(np.interp(y, self.y, self.chord))

    def sides(self, share: Grid, where: Flags | Places) -> tuple[Grid, Grid]:
        """Return upper and lower side over the chord at places over the chord (k,)."""
        if self._shape is not None:
            upper, lower = self._shape
            return np.interp(share, *upper), np.interp(share, *lower)
        thick = self.thick[where]
        half = 0.5 * thick if self.flat else thick * half_thickness(share)
        line = self.camber[where] * mean_line(share)
        return line + half, line - half

    def outline(self, x: float) -> Grid | None:
        """Return the outline of the right half's cut at x (k, 2) [m]; none where it has no foam."""
        share = (x - self.edge) / self.chord
        inside = (share >= 0.0) & (share <= 1.0)
        if inside.sum() < 2:
            return None
        upper, lower = self.sides(share[inside], inside)
        base = self.z[inside] - np.tan(self.twist[inside]) * (x - self.edge[inside])
        chord, y = self.chord[inside], self.y[inside]
        return np.concatenate(
            [
                np.stack([y, base + chord * upper], axis=-1),
                np.stack([y, base + chord * lower], axis=-1)[::-1],
            ]
        )


def sides_of(points: Grid) -> tuple[tuple[Grid, Grid], tuple[Grid, Grid]]:
    """Return upper and lower side of an outline (k, 2) as places and heights over the chord."""
    shift, length = points[:, 0].min(), np.ptp(points[:, 0])
    unit = (points - np.array([shift, points[0, 1]])) / length
    nose = int(np.argmin(unit[:, 0]))
    upper, lower = unit[: nose + 1][::-1], unit[nose:]
    if upper[:, 1].mean() < lower[:, 1].mean():
        upper, lower = lower, upper
    return (upper[:, 0], upper[:, 1]), (lower[:, 0], lower[:, 1])


class Solid:
    """All foam of a plane; its cuts are made when asked for and remembered."""

    def __init__(self, airframe: Airframe, outlines: Outlines = NO_OUTLINES) -> None:
        """Read the airframe."""
        self.bodies = tuple(BodySolid(body) for body in airframe.bodies)
        self.surfaces = tuple(
            SurfaceSolid(s, outlines[i].points if i in outlines else None)
            for i, s in enumerate(airframe.surfaces)
            if s.role != "fin"
        )
        self.section: Callable[[int], BaseGeometry] = lru_cache(maxsize=4096)(self._section)
        self.body_section: Callable[[int], BaseGeometry] = lru_cache(maxsize=4096)(
            self._body_section
        )
        self.cavity: Callable[[int], BaseGeometry] = lru_cache(maxsize=4096)(self._cavity)

    def _surface_cuts(self, x: float) -> list[BaseGeometry]:
        cuts = []
        for surface in self.surfaces:
            outline = surface.outline(x)
            if outline is None:
                continue
            right = shapely.Polygon(outline).buffer(0)
            cuts.append(right)
            if surface.mirrored:
                cuts.append(shapely.Polygon(outline * np.array([-1.0, 1.0])).buffer(0))
        return cuts

    def _body_cuts(self, x: float) -> list[BaseGeometry]:
        return [shapely.Polygon(body.outline(x)) for body in self.bodies if body.holds(x)]

    def _section(self, millimetres: int) -> BaseGeometry:
        x = millimetres * ROUNDED
        cuts = self._body_cuts(x) + self._surface_cuts(x)
        return shapely.union_all(cuts) if cuts else EMPTY

    def _body_section(self, millimetres: int) -> BaseGeometry:
        """Return the body with what of the wing lies within its width."""
        x = millimetres * ROUNDED
        bodies = self._body_cuts(x)
        if not bodies:
            return self.section(millimetres)
        body = shapely.union_all(bodies)
        left, _, right, _ = body.bounds
        inside = shapely.box(left, -1.0, right, 1.0)
        return shapely.union_all([body, self.section(millimetres).intersection(inside)])

    def _cavity(self, millimetres: int) -> BaseGeometry:
        """Return the room inside the hollow bodies."""
        x = millimetres * ROUNDED
        rooms = [
            shapely.Polygon(body.outline(x, body.wall))
            for body in self.bodies
            if body.wall is not None and body.holds(x)
        ]
        return shapely.union_all(rooms) if rooms else EMPTY

    def extent(self) -> tuple[float, float]:
        """Return foremost and rearmost x of the foam [m]."""
        fronts = [body.x[0] for body in self.bodies] + [s.edge.min() for s in self.surfaces]
        rears = [body.x[-1] for body in self.bodies]
        rears += [(s.edge + s.chord).max() for s in self.surfaces]
        return float(min(fronts)), float(max(rears))


def millimetres(x: float) -> int:
    """Return a place along the plane in whole millimetres."""
    return round(x / ROUNDED)

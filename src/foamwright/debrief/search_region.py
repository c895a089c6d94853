"""Where to look: the densest places that hold a share of all falls, and in which order."""

from dataclasses import dataclass

import numpy as np
from scipy.ndimage import gaussian_filter
from shapely import MultiPolygon, Point, Polygon, polygonize, union_all
from shapely.geometry import LineString

from foamwright.physics.arrays import Grid, Samples

CELLS = 120
"""Of the density, along its longer side."""
MARGIN = 4.0
"""Of the density around the falls, in widths of the smoothing."""
TAIL = 0.01
"""Share of the falls at each end, north and east, that the density leaves out."""
MOST_INNER, MOST_OUTER, SIGHT = 15, 35, 15.0
"""About how many stops the walk has in the inner and the outer region; how far one looks around
oneself [m]; common practice, no source."""
WIDENING = (0.7, 1.0, 1.5, 2.2, 3.3, 5.0, 7.5)
"""Steps of the smoothing, narrow where falls lie close, wide where they lie alone."""
CORNER = 1e-3
"""Corners of a boundary that stand off less are left out, of its extent."""


Corner = tuple[float, float]
"""East and north [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Density:
    """How densely the falls lie, on a grid."""

    north: Grid
    """(p,) [m]."""
    east: Grid
    """(q,) [m]."""
    value: Samples
    """Share of all falls a square metre (p, q) [m^-2]."""

    def at(self, north: Samples, east: Samples) -> Samples:
        """Return the density at places (n,) [m^-2]: 0 beyond the grid, linear between nodes."""
        rows, down = node(self.north, north)
        columns, right = node(self.east, east)
        inside = (north >= self.north[0]) & (north <= self.north[-1])
        inside &= (east >= self.east[0]) & (east <= self.east[-1])
        low = self.value[rows, columns] * (1 - right) + self.value[rows, columns + 1] * right
        high = self.value[rows + 1, columns] * (1 - right)
        high = high + self.value[rows + 1, columns + 1] * right
        return np.where(inside, low * (1 - down) + high * down, 0.0)


@dataclass(frozen=True, kw_only=True, slots=True)
class Region:
    """The smallest area that holds a share of all falls."""

    share: float
    """Of all falls [-]."""
    shape: MultiPolygon
    """Its parts; x is east, y is north of the last fix [m]."""

    @property
    def size(self) -> float:
        """[m^2]."""
        return float(self.shape.area)

    def holds(self, north: float, east: float) -> bool:
        """Return whether a place lies in it or on its edge."""
        return bool(self.shape.covers(Point(east, north)))


def node(axis: Grid, places: Samples) -> tuple[np.ndarray, Samples]:
    """Return the node below each place (n,), and how far on the next one lies, 0 to 1."""
    step = axis[1] - axis[0]
    along = np.clip((places - axis[0]) / step, 0.0, axis.size - 1 - 1e-9)
    below = along.astype(int)
    return below, along - below


def smoothing(north: Samples, east: Samples) -> float:
    """Return the width of the smoothing [m], by the rule of Silverman for two dimensions.

    The narrower of the two directions sets it, and of deviation and quartiles the smaller, so that
    a few falls far off do not blur the many.

    Source: silverman-1986
    """
    widths = []
    for values in (north, east):
        low, high = np.quantile(values, (0.25, 0.75))
        widths.append(min(float(values.std()), float(high - low) / 1.349))
    return float(max(0.96 * min(widths) * north.size ** (-1.0 / 6.0), 0.5))


def density_of(north: Samples, east: Samples) -> Density:
    """Return how densely falls (n,) lie."""
    width = smoothing(north, east)
    ends = []
    for values in (north, east):
        low, high = np.quantile(values, (TAIL, 1.0 - TAIL))
        ends.append((low - MARGIN * width, high + MARGIN * width))
    step = max(high - low for low, high in ends) / CELLS
    # A cell no wider than the smoothing, or its grid would show.
    step = min(step, 1.0 * width) if step < 3.0 * width else step / 2.0
    edges = [np.arange(low, high + step, step) for low, high in ends]
    middles = [0.5 * (edge[1:] + edge[:-1]) for edge in edges]
    pilot = Density(
        north=middles[0],
        east=middles[1],
        value=smoothed(binned(north, east, edges), width / step),
    )
    value = np.zeros_like(pilot.value)
    for widening, mine in classes(pilot.at(north, east)):
        counted = binned(north[mine], east[mine], edges)
        value += smoothed(counted, widening * width / step)
    return Density(north=middles[0], east=middles[1], value=value / (north.size * step**2))


def binned(north: Samples, east: Samples, edges: list[Grid]) -> Samples:
    """Return how many falls lie in each cell."""
    counted, _, _ = np.histogram2d(north, east, bins=edges)
    return counted


def smoothed(counted: Samples, cells: float) -> Samples:
    """Return counts smoothed by a Gaussian so many cells wide."""
    found: Samples = gaussian_filter(counted, max(cells, 0.8), mode="constant", truncate=4.0)
    return found


def classes(density: Samples) -> list[tuple[float, np.ndarray]]:
    """Return how much wider than usual falls are smoothed, and which: those that lie alone more.

    By the square root of how much thinner they lie than the many, in steps.

    Source: silverman-1986
    """
    held = np.maximum(density, 1e-12)
    usual = float(np.exp(np.mean(np.log(held[density > 0.0]))))
    wanted = np.clip(np.sqrt(usual / held), WIDENING[0], WIDENING[-1])
    near = np.abs(np.log(wanted)[:, None] - np.log(WIDENING)).argmin(axis=1)
    return [(wide, near == k) for k, wide in enumerate(WIDENING) if np.any(near == k)]


def level_of(density: Density, north: Samples, east: Samples, share: float) -> float:
    """Return the density above which a share of the falls (n,) lies.

    Source: hyndman-1996
    """
    return float(np.quantile(density.at(north, east), 1.0 - share))


def region_of(density: Density, level: float, share: float) -> Region:
    """Return the places denser than a level."""
    padded = np.pad(density.value, 1)
    step = density.north[1] - density.north[0]
    north = np.concatenate([[density.north[0] - step], density.north, [density.north[-1] + step]])
    east = np.concatenate([[density.east[0] - step], density.east, [density.east[-1] + step]])
    frame = Density(north=north, east=east, value=padded)
    pieces = polygonize([LineString(ends) for ends in crossings(frame, level)])
    dense = []
    for piece in pieces.geoms:
        inner = piece.representative_point()
        if frame.at(np.array([inner.y]), np.array([inner.x]))[0] > level:
            dense.append(piece)
    whole = union_all(dense)
    parts = [part for part in getattr(whole, "geoms", [whole]) if isinstance(part, Polygon)]
    shape = MultiPolygon(parts)
    extent = max(np.ptp(north), np.ptp(east))
    slim = shape.simplify(CORNER * extent, preserve_topology=True)
    return Region(
        share=share, shape=slim if isinstance(slim, MultiPolygon) else MultiPolygon([slim])
    )


def crossings(density: Density, level: float) -> list[tuple[Corner, Corner]]:
    """Return the pieces of the line at a level, one or two in each cell (marching squares)."""
    value, north, east = density.value, density.north, density.east
    high = value > level
    mixed = high[:-1, :-1].astype(int) + high[1:, :-1] + high[:-1, 1:] + high[1:, 1:]
    found: list[tuple[Corner, Corner]] = []
    for i, j in np.argwhere((mixed > 0) & (mixed < 4)):
        corners = [(i, j), (i, j + 1), (i + 1, j + 1), (i + 1, j)]
        ends: list[Corner] = []
        for a, b in zip(corners, corners[1:] + corners[:1], strict=True):
            if high[a] != high[b]:
                first, last = min(a, b), max(a, b)
                share = (level - value[first]) / (value[last] - value[first])
                ends.append(
                    (
                        float(east[first[1]] + share * (east[last[1]] - east[first[1]])),
                        float(north[first[0]] + share * (north[last[0]] - north[first[0]])),
                    )
                )
        if len(ends) == 4:  # a saddle: the middle says which corners hang together
            middle = float(np.mean([value[corner] for corner in corners])) > level
            if middle != bool(high[corners[0]]):
                ends = [ends[3], *ends[:3]]
        found += [(ends[k], ends[k + 1]) for k in range(0, len(ends), 2)]
    return found


def densest(density: Density) -> tuple[float, float]:
    """Return the densest place, north and east [m]."""
    row, column = np.unravel_index(int(np.argmax(density.value)), density.value.shape)
    return float(density.north[row]), float(density.east[column])


def walk(
    density: Density, start: tuple[float, float], inner: Region, outer: Region
) -> list[tuple[float, float]]:
    """Return stops, north and east [m], from a start outwards: the likely ones that are near first.

    The inner region is walked before the outer, and closer. Each next stop is the one with the most
    chance for the way to it.
    """
    stops = [start]
    for region, most in ((inner, MOST_INNER), (outer, MOST_OUTER)):
        spacing = max(2.0 * SIGHT, float(np.sqrt(region.size / most)))
        spots = [
            spot
            for spot in lattice(start, region, spacing)
            if spot != start and (region is inner or not inner.holds(*spot))
        ]
        stops += ordered(density, stops[-1], spots)
    return stops


def lattice(
    start: tuple[float, float], region: Region, spacing: float
) -> list[tuple[float, float]]:
    """Return the places of a square lattice through a start that lie in a region."""
    west, south, right, top = region.shape.bounds
    axes = [
        middle
        + spacing * np.arange(np.floor((low - middle) / spacing), (high - middle) / spacing + 1.0)
        for middle, low, high in ((start[0], south, top), (start[1], west, right))
    ]
    return [(float(n), float(e)) for n in axes[0] for e in axes[1] if region.holds(n, e)]


def ordered(
    density: Density, start: tuple[float, float], spots: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    """Return spots in the order of the most chance for the way to each, from a start.

    The way counts cubed, so that none is long.
    """
    if not spots:
        return []
    places = np.array(spots)
    chance = density.at(places[:, 0], places[:, 1]) + 1e-12
    left, here, found = np.ones(len(spots), dtype=bool), np.array(start), []
    while left.any():
        way = np.hypot(*(places - here).T)
        best = int(np.argmax(np.where(left, chance / np.maximum(way, 1e-3) ** 3, -1.0)))
        left[best], here = False, places[best]
        found.append(spots[best])
    return found

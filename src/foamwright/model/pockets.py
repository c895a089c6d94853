"""The pocket of each part: how large, how deep, and what skin it leaves."""

from dataclasses import dataclass, replace

import numpy as np
import shapely

from foamwright.model.cuts import RIGHT, UP, Cuts
from foamwright.physics.arrays import Grid
from foamwright.plane.airframe import Airframe, Foam
from foamwright.plane.boxes import Box, Side
from foamwright.plane.gear import Item

CLEARANCE: dict[Foam, float] = {"EPS": 0.5e-3, "XPS": 0.5e-3, "EPP": 0.2e-3, "EPO": 0.2e-3}
"""Air between a part and each wall of its pocket [m]: EPP and EPO grip, 0 to 0.3 mm; EPS and XPS
crumble, 0.3 to 0.5 mm; common practice, no source."""

EXTRA: dict[str, tuple[float, float]] = {
    "pack": (5.0e-3, 0.5e-3),
    "esc": (3.0e-3, 1.5e-3),
    "video transmitter": (2.0e-3, 1.5e-3),
}
"""Room at the end for leads, and least air at each wall, by kind [m]; common practice, no source:
a pack slides, and what gets hot wants air."""

CORNER = 3.0e-3
"""Radius of a pocket's corners: a square one starts a crack [m]; common practice, no source."""

LEVELS = (0.0, 0.3, 0.6)
"""Where the walls beside a part are measured, from the closed end of its pocket to its mouth: any
round body runs out of skin nearer the mouth."""

STATION_EVERY = 8.0e-3
"""Distance of the cuts at which skin is measured [m]."""

CLEARLY = 0.1
"""How far off the middle a part lies clearly nearer one surface, as a share of the foam there."""

FARTHEST = 10
"""How far the foam before and behind a pocket is followed [mm]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Pocket:
    """The hole for one piece."""

    name: str
    """The item, with left or right for a pair."""
    item: str
    """The item."""
    kind: str
    """What it is."""
    side: Side
    """Where it opens to."""
    low: tuple[float, float, float]
    """Smallest x, y, z of the hole [m]."""
    high: tuple[float, float, float]
    """Largest x, y, z [m]; at the mouth as far as the part reaches."""
    depth: float
    """From the surface to the floor at the middle [m]."""
    corner_radius: float
    """Of its corners [m]."""
    host: str
    """The body or surface it is cut into."""
    in_surface: bool
    """Whether that is a wing or tail outside the body."""
    skin: float
    """Thinnest skin left [m]; negative where it breaks through."""
    skin_where: str
    """Which skin that is: side, floor, front, rear; or outside where there is no foam at all."""
    skin_at: float
    """x of that place [m]."""
    volume: float
    """Foam to be cut out [m^3]."""
    centre: tuple[float, float, float]
    """Centre of that foam [m]."""
    declared: bool
    """Whether the builder wrote the pocket."""
    box: Box
    """The part, its height filled in."""

    @property
    def outline(self) -> Grid:
        """Corners of the mouth (4, 2) [m]: in x and y, or in x and z for a side pocket."""
        axis = 2 if self.side in ("left", "right") else 1
        (x0, x1), (a, b) = ((self.low[i], self.high[i]) for i in (0, axis))
        return np.array([[x0, a], [x1, a], [x1, b], [x0, b]])


def clearances(item: Item, foam: Foam) -> tuple[float, float]:
    """Return the air along x and across between a part and the walls of its pocket [m]."""
    if item.clearance is not None:
        return item.clearance.value, item.clearance.value
    length, least = EXTRA.get(str(getattr(item, "kind", "")), (0.0, 0.0))
    across = max(CLEARANCE[foam], least)
    return across + length / 2.0, across


def surface_at(cuts: Cuts, x: float, place: tuple[float, float], side: Side) -> float | None:
    """Return where the surface lies on a side, above, below or beside a place (y, z) [m]."""
    y, z = place
    if side in ("left", "right"):
        spans = cuts.spans(x, RIGHT, z)
        if not spans:
            return None
        return spans[-1][1] if side == "right" else spans[0][0]
    spans = cuts.spans(x, UP, y)
    if not spans:
        return None
    return spans[0][0] if side == "bottom" else spans[-1][1]


def nearest(box: Box, cuts: Cuts) -> Box:
    """Return a box whose proposed pocket opens to the surface that is clearly nearer.

    A pack keeps its side: it has to come out again.
    """
    x, y, z = box.middle
    if box.declared or z is None or box.side not in ("top", "bottom") or box.kind == "pack":
        return box
    top, bottom = (surface_at(cuts, x, (y, 0.0), s) for s in ("top", "bottom"))
    if top is None or bottom is None:
        return box
    off = (z - (top + bottom) / 2.0) / max(top - bottom, 1e-6)
    if abs(off) < CLEARLY:
        return box
    return replace(box, side="top" if off > 0.0 else "bottom")


def placed(box: Box, cuts: Cuts) -> Box:
    """Return a box with its height: as written, else flush with the surface it opens to.

    What opens to a side, to the front or nowhere lies in the middle of the foam.
    """
    x, y, z = box.middle
    if z is not None:
        return nearest(box, cuts)
    half = box.size[2] / 2.0
    top, bottom = (surface_at(cuts, x, (y, 0.0), s) for s in ("top", "bottom"))
    if top is None or bottom is None:
        height = 0.0
    elif box.side == "top":
        height = top - half + box.protrudes
    elif box.side == "bottom":
        height = bottom + half - box.protrudes
    else:
        height = (top + bottom) / 2.0
    return replace(box, middle=(x, y, height))


def hole(box: Box, along: float, across: float) -> tuple[Grid, Grid]:
    """Return the least and greatest x, y, z of the hole for a placed box (3,) [m]."""
    middle = np.array([0.0 if value is None else value for value in box.middle])
    air = np.array([along, across, across])
    half = np.array(box.size) / 2.0 + air
    low, high = middle - half, middle + half
    # At the mouth there is no wall, so no air either.
    open_to = {"top": (high, 2), "bottom": (low, 2), "right": (high, 1), "left": (low, 1)}
    if box.side in open_to:
        end, axis = open_to[box.side]
        end[axis] = middle[axis] + (np.array(box.size)[axis] / 2.0) * (1 if end is high else -1)
    if box.side == "front":
        low[0] = middle[0] - box.size[0] / 2.0
    return low, high


Found = tuple[float, str, float]
"""A skin, which it is, and where."""


def floors(cuts: Cuts, x: float, ends: tuple[Grid, Grid], side: Side) -> list[Found]:
    """Return the skins under (over, behind) a hole in the cut at x; none where there is no foam."""
    low, high = ends[0][1:], ends[1][1:]
    into = RIGHT if side in ("left", "right") else UP
    beside = 1 - into
    found: list[Found] = []
    for at in (low[beside], (low[beside] + high[beside]) / 2.0, high[beside]):
        spans = cuts.spans(x, into, at)
        if not spans:
            continue
        if side in ("top", "right", "inside", "front"):
            found.append((float(low[into] - spans[0][0]), "floor", x))
        if side in ("bottom", "left", "inside", "front"):
            found.append((float(spans[-1][1] - high[into]), "floor", x))
    return found


def in_wing(cuts: Cuts, x: float, ends: tuple[Grid, Grid], side: Side) -> list[Found]:
    """Return the skin over or under a hole in a wing at x; it has no sides."""
    found = floors(cuts, x, ends, side)
    return found or [(-float(ends[1][2] - ends[0][2]), "outside", x)]


def walls(cuts: Cuts, x: float, ends: tuple[Grid, Grid], side: Side) -> list[Found]:
    """Return the skins beside and under a hole in the cut at x."""
    low, high = ends[0][1:], ends[1][1:]
    into = RIGHT if side in ("left", "right") else UP
    beside = 1 - into
    middle = (low + high) / 2.0
    found: list[Found] = []
    closed_low = side in ("top", "right")
    for level in LEVELS if side != "front" else (0.2, 0.5, 0.8):
        share = level if closed_low else 1.0 - level
        at = low[into] + share * (high[into] - low[into])
        span = cuts.span(x, beside, at, middle[beside])
        if span is None:
            if level == 0.0:
                return [(-float(high[beside] - low[beside]) / 2.0, "outside", x)]
            continue  # the part stands out of the foam here: there is no wall
        found.append((float(low[beside] - span[0]), "side", x))
        found.append((float(span[1] - high[beside]), "side", x))
    return found + floors(cuts, x, ends, side)


def ends_left(cuts: Cuts, ends: tuple[Grid, Grid], side: Side) -> list[Found]:
    """Return how far foam reaches before and behind a hole, up to ten millimetres."""
    middle = (ends[0] + ends[1]) / 2.0
    low = side in ("top", "right")
    into = 1 if side in ("left", "right") else 2
    probe = middle.copy()
    # Near the floor, where the hole is surely inside the foam.
    share = 0.25 if low else 0.75 if side in ("bottom", "left") else 0.5
    probe[into] = ends[0][into] + share * (ends[1][into] - ends[0][into])
    found: list[Found] = []
    for start, step, words in ((ends[0][0], -1, "front"), (ends[1][0], 1, "rear")):
        if side == "front" and step < 0:
            continue
        left = FARTHEST
        for far in range(1, FARTHEST + 1):
            x = start + step * far * 1e-3
            if cuts.span(x, UP, probe[1], probe[2]) is None:
                left = far - 1
                break
        if left < FARTHEST:
            found.append((left * 1e-3, words, float(start)))
    return found


def stations_of(ends: tuple[Grid, Grid]) -> Grid:
    """Return the places along a hole at which it is measured [m]."""
    count = max(3, int(np.ceil((ends[1][0] - ends[0][0]) / STATION_EVERY)) + 1)
    return np.linspace(ends[0][0], ends[1][0], count)


def removed(cuts: Cuts, ends: tuple[Grid, Grid], box: Box) -> tuple[float, Grid]:
    """Return the volume of foam in a hole and its centre [m^3, (3,) m].

    Five lines across and the walls of a hollow body are followed at each cut; what is cavity is
    no foam.
    """
    stations = stations_of(ends)
    low, high = ends[0].copy(), ends[1].copy()
    up = {"top": (high, 2, 1.0), "bottom": (low, 2, -1.0), "right": (high, 1, 1.0)}
    up["left"] = (low, 1, -1.0)
    if box.side in up:  # a part set deeper than the surface takes the foam above it too
        end, axis, far = up[box.side]
        end[axis] += far * 0.2
    window = shapely.box(low[1], low[2], high[1], high[2])
    areas, centres = [], []
    for x in stations:
        at = round(x * 1e3)
        foam = cuts.solid.section(at).intersection(window)
        cavity = cuts.solid.cavity(at)
        if not cavity.is_empty:
            foam = foam.difference(cavity)
        areas.append(foam.area)
        middle = foam.centroid if foam.area > 0.0 else window.centroid
        centres.append((middle.x, middle.y))
    area = np.array(areas)
    volume = float(np.trapezoid(area, stations))
    if volume <= 0.0:
        return 0.0, (ends[0] + ends[1]) / 2.0
    places = np.column_stack([stations, np.array(centres)])
    weights = np.gradient(stations) * area
    return volume, (weights[:, None] * places).sum(axis=0) / max(float(weights.sum()), 1e-15)


def host_of(cuts: Cuts, box: Box) -> tuple[str, bool]:
    """Return the name of the body or surface a part sits in, and whether it is a surface."""
    x, y, _ = box.middle
    for body in cuts.solid.bodies:
        if body.holds(x):
            width, _, _ = body.size_at(x)
            if abs(y - body.y) <= width / 2.0:
                return body.name, False
    for surface in cuts.solid.surfaces:
        edge, chord = surface.station(abs(y))
        if chord > 0.0 and edge <= x <= edge + chord:
            return surface.name, True
    return "", False


def pocket_of(box: Box, item: Item, cuts: Cuts, airframe: Airframe) -> Pocket:
    """Return the pocket of one piece and the thinnest skin it leaves."""
    air = clearances(item, airframe.foam)
    pair = item.count == 2 and box.middle[1] != 0.0
    word = ("", " right", " left")[0 if not pair else 1 + (box.middle[1] < 0)]
    return cuts.once((box, air), lambda: new_pocket(box, item.name + word, air, cuts))


def new_pocket(box: Box, name: str, air: tuple[float, float], cuts: Cuts) -> Pocket:
    """Return the pocket of a box with some air along and across [m]."""
    whole = placed(box, cuts)
    ends = hole(whole, *air)
    host, in_surface = host_of(cuts, whole)
    around = in_wing if in_surface else walls
    found = [skin for x in stations_of(ends) for skin in around(cuts, float(x), ends, whole.side)]
    outside = [skin for skin in found if skin[1] == "outside"]
    if whole.side == "front" and outside:
        # The nose is cut off flat where the camera looks out.
        found = [skin for skin in found if skin[1] != "outside"] or outside
    found += ends_left(cuts, ends, whole.side)
    skin, where, at = min(found, default=(0.0, "outside", whole.middle[0]))
    volume, centre = removed(cuts, ends, whole)
    depth = depth_of(cuts, whole, ends)
    low, high = ((float(v[0]), float(v[1]), float(v[2])) for v in ends)
    return Pocket(
        name=name,
        item=box.item,
        kind=box.kind,
        side=whole.side,
        low=low,
        high=high,
        depth=depth,
        corner_radius=CORNER,
        host=host,
        in_surface=in_surface,
        skin=skin,
        skin_where=where,
        skin_at=at,
        volume=volume,
        centre=(float(centre[0]), float(centre[1]), float(centre[2])),
        declared=box.declared,
        box=whole,
    )


def depth_of(cuts: Cuts, box: Box, ends: tuple[Grid, Grid]) -> float:
    """Return how deep a pocket is cut at its middle [m]; the whole height of one inside."""
    x, y, z = box.middle
    if box.side in ("inside", "front", "none"):
        return float(ends[1][2] - ends[0][2])
    surface = surface_at(cuts, x, (y, 0.0 if z is None else z), box.side)
    axis = 1 if box.side in ("left", "right") else 2
    floor = ends[0][axis] if box.side in ("top", "right") else ends[1][axis]
    return 0.0 if surface is None else abs(float(surface - floor))

"""A plane's cutting templates: its outlines, pockets, channels and marks in millimetres."""

from collections.abc import Iterator

import numpy as np
import shapely

from foamwright.model.pockets import Pocket
from foamwright.model.solid import BodySolid, SurfaceSolid
from foamwright.paper.template_shapes import CutLine, Outline, Point, Template
from foamwright.physics.arrays import Grid
from foamwright.plane.airframe import Surface
from foamwright.plane.gear import Rod
from foamwright.questions.case import Case

MM = 1e3

CURVE = 81
"""Points along a section, crowded to both edges."""

BETWEEN = 12.0
"""Between sections on one sheet [mm]."""

ROUND = 8
"""Pieces of a quarter circle at a pocket's corner."""

SEEN = {"top": "pocket", "bottom": "hidden pocket", "inside": "hidden pocket"}
"""How a pocket is drawn in the view from above."""


def millimetres(points: Grid) -> tuple[Point, ...]:
    """Return points (k, 2) [m] in millimetres."""
    return tuple((float(x) * MM, float(y) * MM) for x, y in points)


def rounded(low: Point, high: Point, radius: float) -> tuple[Point, ...]:
    """Return a rectangle with round corners, as it is cut [mm]."""
    radius = min(radius, 0.49 * (high[0] - low[0]), 0.49 * (high[1] - low[1]))
    box = shapely.box(*low, *high)
    shape = box.buffer(-radius).buffer(radius, quad_segs=ROUND)
    return tuple((float(x), float(y)) for x, y in shape.exterior.coords[:-1])


def deep(pocket: Pocket) -> str:
    """Return how deep a pocket is, and from where."""
    side = {"inside": "closed in", "front": "from the nose"}.get(
        pocket.side, f"from the {pocket.side}"
    )
    return f"{pocket.depth * MM:.1f} deep, {side}"


def numbered(case: Case) -> dict[str, int]:
    """Return the number that each pocket has in the cut list."""
    return {pocket.name: number for number, pocket in enumerate(case.computed.fit.pockets, 1)}


def across(pocket: Pocket, axis: int, number: int, *, along_y: bool) -> Outline:
    """Return a pocket seen along one axis: from above, or from the left.

    It carries its number in the cut list, since two may lie over each other.

    `axis` is 1 for y and 2 for z; `along_y` lays the span to the right, as in a wing's view.
    """
    low = (pocket.low[0] * MM, pocket.low[axis] * MM)
    high = (pocket.high[0] * MM, pocket.high[axis] * MM)
    points = rounded(low, high, pocket.corner_radius * MM)
    if along_y:
        points = tuple((y, -x) for x, y in points)
    seen_side = {1: SEEN.get(pocket.side, "pocket"), 2: "hidden pocket"}[axis]
    if axis == 2 and pocket.side == "left":
        seen_side = "pocket"
    return Outline(kind=seen_side, points=points, label=f"{number}: {deep(pocket)}")  # type: ignore[arg-type]


def wing_outline(solid: SurfaceSolid) -> tuple[Point, ...]:
    """Return the right half seen from above: span to the right, nose up [mm]."""
    leading = np.stack([solid.y, -solid.edge], axis=-1)
    trailing = np.stack([solid.y, -(solid.edge + solid.chord)], axis=-1)[::-1]
    return millimetres(np.concatenate([leading, trailing]))


def stations(surface: Surface, solid: SurfaceSolid) -> Iterator[Outline]:
    """Yield the station lines of a half wing."""
    for station in surface.stations:
        y = 0.0 if station.y is None else station.y.value
        edge, chord = solid.station(min(max(y, float(solid.y[0])), float(solid.y[-1])))
        ends = ((y * MM, -edge * MM), (y * MM, -(edge + chord) * MM))
        yield Outline(kind="station", points=ends, closed=False)


def hinges(surface: Surface, solid: SurfaceSolid) -> Iterator[Outline]:
    """Yield the hinge lines and the ends of the controls."""
    tip = float(solid.y[-1])
    for control in surface.controls:
        points, ends = [], []
        for share in (control.start.value, control.end.value):
            y = share * tip
            edge, chord = solid.station(max(y, float(solid.y[0])))
            hinge = edge + (1.0 - control.chord_fraction.value) * chord
            points.append((y * MM, -hinge * MM))
            ends.append((y * MM, -(edge + chord) * MM))
        line = (ends[0], points[0], points[1], ends[1])
        yield Outline(kind="hinge", points=line, closed=False, label=control.name)


def channels(case: Case, view: int, *, right: bool = False) -> Iterator[Outline]:
    """Yield the channels of rods with ends, as wide as the rod and half a millimetre more.

    `view` is 1 from above and 2 from the left; `right` keeps to the right half, span to the right.
    """
    for rod in case.plane.items:
        if not isinstance(rod, Rod) or rod.starts is None or rod.ends is None:
            continue
        wide = (0.0 if rod.diameter is None else rod.diameter.value * MM) + 0.5
        ends = []
        for place in (rod.starts, rod.ends):
            other = place.y if view == 1 else place.z
            ends.append((place.x.value * MM, 0.0 if other is None else other.value * MM))
        if ends[0] == ends[1]:
            continue  # seen end on
        line = shapely.LineString([(y, -x) for x, y in ends] if right else ends)
        shape = line.buffer(wide / 2.0, cap_style="flat")
        if right:
            shape = shape.intersection(shapely.box(0.0, -1e4, 1e4, 1e4))
        if not shape.is_empty and shape.geom_type == "Polygon":
            points = tuple((float(x), float(y)) for x, y in shape.exterior.coords[:-1])
            label = f"{rod.name}: {wide:.1f} wide and deep"
            yield Outline(kind="channel", points=points, label=label)


def balance_at(case: Case) -> tuple[float, float, float]:
    """Return where the plane balances, and its band [mm]."""
    low, middle, high = np.quantile(case.computed.masses.centre[:, 0], (0.1, 0.5, 0.9)) * MM
    return float(low), float(middle), float(high)


def wing_template(case: Case, surface: Surface, solid: SurfaceSolid) -> Template:
    """Return the right half of a surface from above with all that is cut into it."""
    pockets = [
        p
        for p in case.computed.fit.pockets
        if p.host == solid.name and p.in_surface and p.low[1] > 0
    ]
    numbers = numbered(case)
    outlines = [Outline(kind="foam", points=wing_outline(solid))]
    outlines += [*stations(surface, solid), *hinges(surface, solid)]
    outlines += [across(pocket, 1, numbers[pocket.name], along_y=True) for pocket in pockets]
    if surface.role == "wing":
        outlines += channels(case, 1, right=True)
        outlines += balance_marks(case, float(solid.y[-1]) * MM)
    title = f"{solid.name}, right half from above (true scale); left half: the sheet turned over"
    return Template(name=slug(solid.name), title=title, outlines=tuple(outlines))


def balance_marks(case: Case, tip: float) -> Iterator[Outline]:
    """Yield the balance mark at the root of a half wing, and the ends of its band."""
    low, middle, high = balance_at(case)
    reach = min(40.0, tip / 3.0)
    label = f"balance {middle:.0f} ({low:.0f} to {high:.0f})"
    yield Outline(
        kind="balance", points=((0.0, -middle), (reach, -middle)), closed=False, label=label
    )
    for end in (low, high):
        yield Outline(kind="station", points=((0.0, -end), (reach / 2, -end)), closed=False)


def body_outline(solid: BodySolid, axis: int) -> tuple[Point, ...]:
    """Return a body from above (axis 1) or from the left (axis 2), nose to the left [mm]."""
    sizes = np.array([solid.size_at(float(x)) for x in solid.x])
    middle = np.full(len(solid.x), solid.y) if axis == 1 else sizes[:, 2]
    half = sizes[:, 0 if axis == 1 else 1] / 2.0
    upper = np.stack([solid.x, middle + half], axis=-1)
    lower = np.stack([solid.x, middle - half], axis=-1)[::-1]
    return millimetres(np.concatenate([upper, lower]))


def body_templates(case: Case, solid: BodySolid) -> Iterator[Template]:
    """Yield a body from above and from the left, with its pockets and the balance mark."""
    pockets = [p for p in case.computed.fit.pockets if p.host == solid.name and not p.in_surface]
    low, middle, high = balance_at(case)
    numbers = numbered(case)
    for axis, view in ((1, "from above"), (2, "from the left")):
        outline = body_outline(solid, axis)
        bottom = min(y for _, y in outline)
        top = max(y for _, y in outline)
        outlines = [Outline(kind="foam", points=outline)]
        outlines += [
            across(pocket, axis, numbers[pocket.name], along_y=False) for pocket in pockets
        ]
        outlines += channels(case, axis)
        nose = (outline[0][0], (outline[0][1] + outline[-1][1]) / 2.0)
        front = ((nose[0] - 3.0, nose[1]), nose)
        outlines.append(Outline(kind="station", points=front, closed=False, label="nose"))
        if float(solid.x[0]) * MM <= middle <= float(solid.x[-1]) * MM:
            mark = ((middle, bottom - 6.0), (middle, top + 6.0))
            outlines.append(Outline(kind="balance", points=mark, closed=False))
            for end in (low, high):
                points = ((end, bottom - 3.0), (end, bottom))
                outlines.append(Outline(kind="station", points=points, closed=False))
        title = f"{solid.name}, {view} (true scale)"
        yield Template(
            name=f"{slug(solid.name)}-{view.split()[-1]}", title=title, outlines=tuple(outlines)
        )


def section_points(solid: SurfaceSolid, y: float) -> Grid:
    """Return the outline of the section at a station (k, 2) [m], from the trailing edge around."""
    share = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, CURVE)))
    index = int(np.argmin(np.abs(solid.y - y)))
    upper, lower = solid.sides(share, np.full(len(share), index))
    chord = solid.chord[index]
    over = np.stack([share, upper], axis=-1)[::-1]
    under = np.stack([share, lower], axis=-1)[1:]
    found: Grid = np.concatenate([over, under]) * chord
    return found


def section_template(surface: Surface, solid: SurfaceSolid) -> Template:
    """Return the sections of a surface at its stations, for a sanding gauge."""
    outlines, down = [], 0.0
    for station in surface.stations:
        y = 0.0 if station.y is None else station.y.value
        points = section_points(solid, y)
        top, bottom = float(points[:, 1].max()) * MM, float(points[:, 1].min()) * MM
        down += top
        moved = tuple((px, py - down) for px, py in millimetres(points))
        thick = (top - bottom) / (float(np.ptp(points[:, 0])) * MM)
        label = f"y = {y * MM:.0f}: chord {np.ptp(points[:, 0]) * MM:.0f}, {thick:.1%} thick"
        outlines.append(Outline(kind="section", points=moved, label=label))
        down += -bottom + BETWEEN
    title = f"{solid.name}: sections for a sanding gauge (true scale)"
    return Template(name=f"{slug(solid.name)}-sections", title=title, outlines=tuple(outlines))


def slug(name: str) -> str:
    """Return a name as part of a file or layer name."""
    return "-".join("".join(c if c.isalnum() else " " for c in name.lower()).split())


def templates_of(case: Case) -> tuple[Template, ...]:
    """Return every template of a plane."""
    found: list[Template] = []
    airframe = case.plane.airframe
    by_name = {surface.name: surface for surface in airframe.surfaces}
    for solid in case.computed.solid.surfaces:
        found.append(wing_template(case, by_name[solid.name], solid))
        if not solid.flat:
            found.append(section_template(by_name[solid.name], solid))
    for body in case.computed.solid.bodies:
        found += body_templates(case, body)
    return tuple(found)


def cut_line(number: int, pocket: Pocket) -> CutLine:
    """Return a pocket as a line of the cut list."""
    size = [(high - low) * MM for low, high in zip(pocket.low, pocket.high, strict=True)]
    other = 2 if pocket.side in ("left", "right") else 1
    middle = [(high + low) / 2.0 * MM for low, high in zip(pocket.low, pocket.high, strict=True)]
    return CutLine(
        what=f"{number}  {pocket.name}",
        host=pocket.host or "no foam",
        side={"inside": "closed in", "front": "the nose"}.get(pocket.side, pocket.side),
        depth=f"{pocket.depth * MM:.1f}",
        size=f"{size[0]:.1f} x {size[other]:.1f}",
        at=f"x {middle[0]:.0f}, y {middle[1]:.0f}",
    )


def cuts_of(case: Case) -> tuple[CutLine, ...]:
    """Return the cut list, pockets first, then the channels of rods."""
    found = [cut_line(number, p) for number, p in enumerate(case.computed.fit.pockets, 1)]
    for rod in case.plane.items:
        if isinstance(rod, Rod) and rod.starts is not None and rod.ends is not None:
            wide = (0.0 if rod.diameter is None else rod.diameter.value * MM) + 0.5
            found.append(
                CutLine(
                    what=rod.name,
                    host="channel",
                    side="as marked",
                    depth=f"{wide:.1f}",
                    size=f"{wide:.1f} wide",
                    at=f"x {rod.starts.x.value * MM:.0f} to {rod.ends.x.value * MM:.0f}",
                )
            )
    return tuple(found)

"""A plane on squared paper, at true size: from above, from the side, from the front."""

import statistics
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from foamwright.paper import marks, views
from foamwright.paper.labels import Field, Label, Span, placed
from foamwright.paper.marks import PEN, THIN, dashes, words
from foamwright.paper.shapes import Part, Point, Sheet
from foamwright.paper.svg import INK, PAPER, Pen, Spot, element, group, line, number, polygon, tame

Outline = list[Spot]


@dataclass(frozen=True, kw_only=True, slots=True)
class View:
    """The plane from one direction, not yet on its place on the paper."""

    name: str
    foam: tuple[Outline, ...]
    """Outlines, the rearmost first."""
    seen: Callable[[Point], Spot]
    """Where a point is seen."""
    sides: tuple[int, int]
    """Which of length, width and height run across and down."""

    @property
    def frame(self) -> tuple[Span, Span]:
        """The ranges of the foam across and down [mm]."""
        return frame_of(spot for outline in self.foam for spot in outline)


def frame_of(spots: Iterable[Spot]) -> tuple[Span, Span]:
    """Return the ranges across and down that hold some spots."""
    xs, ys = zip(*spots, strict=True)
    return (min(xs), max(xs)), (min(ys), max(ys))


def upright_last(sheet: Sheet, outlines: Callable[..., list[Outline]]) -> list[list[Outline]]:
    """Return the outlines of the lying surfaces, then those of the fins."""
    lying = [s for s in sheet.surfaces if s.role != "fin"]
    standing = [s for s in sheet.surfaces if s.role == "fin"]
    return [[o for s in some for o in outlines(s)] for some in (lying, standing)]


def from_above(sheet: Sheet) -> View:
    """Return the plane from above."""
    lying, standing = upright_last(sheet, views.surface_top)
    bodies = [views.body_top(body) for body in sheet.bodies]
    return View(name="top", foam=(*lying, *bodies, *standing), seen=views.top, sides=(0, 1))


def from_the_side(sheet: Sheet) -> View:
    """Return the plane from the left."""
    lying, standing = upright_last(sheet, views.surface_side)
    bodies = [views.body_side(body) for body in sheet.bodies]
    return View(name="side", foam=(*standing, *bodies, *lying), seen=views.side, sides=(0, 2))


def from_the_front(sheet: Sheet) -> View:
    """Return the plane from the front."""
    lying, standing = upright_last(sheet, views.surface_front)
    bodies = [
        [
            (-body.y - cut.width / 2, -cut.z - cut.height / 2),
            (-body.y + cut.width / 2, -cut.z - cut.height / 2),
            (-body.y + cut.width / 2, -cut.z + cut.height / 2),
            (-body.y - cut.width / 2, -cut.z + cut.height / 2),
        ]
        for body in sheet.bodies
        for cut in (max(body.cuts, key=lambda c: c.width * c.height),)
    ]
    return View(name="front", foam=(*standing, *lying, *bodies), seen=views.front, sides=(1, 2))


def drawn_foam(view: View, size: float) -> str:
    """Return the outlines of the foam."""
    pen: Pen = {"fill": PAPER, "stroke": INK, "stroke_linejoin": "round"}
    return group([polygon(o, **pen, stroke_width=PEN * size) for o in view.foam], class_="foam")


def drawn_parts(sheet: Sheet, view: View, size: float) -> str:
    """Return all parts, the largest first so that no box hides another."""

    def extent(part: Part) -> float:
        return 0.0 if part.size is None else -part.size[view.sides[0]] * part.size[view.sides[1]]

    boxes = []
    for part in sorted(sheet.parts, key=extent):
        spots = tuple(dict.fromkeys(view.seen(place) for place in part.places))
        sides = part.size and (part.size[view.sides[0]], part.size[view.sides[1]])
        boxes.append(marks.part_boxes(part, spots, sides or None, THIN * size))
    return group(boxes, class_="parts")


def drawn_holes(sheet: Sheet, view: View, size: float) -> str:
    """Return the pockets as dashed outlines around their parts."""
    pen: Pen = {
        "fill": "none",
        "stroke": INK,
        "stroke_width": THIN * size,
        "stroke_dasharray": f"{number(1.6 * size)} {number(size)}",
    }
    found = []
    for hole in sheet.holes:
        (x0, y0), (x1, y1) = view.seen(hole.low), view.seen(hole.high)
        found.append(polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], **pen))
    return group(found, class_="pockets")


def drawn_rods(sheet: Sheet, view: View, size: float) -> str:
    """Return rods as bars as wide as they are, never too thin to see."""
    return group(
        [
            line(
                view.seen(rod.start),
                view.seen(rod.end),
                stroke=INK,
                stroke_width=max(rod.diameter, 2.0 * THIN * size),
                stroke_linecap="butt",
            )
            for rod in sheet.rods
        ],
        class_="rods",
    )


def drawn_hinges(sheet: Sheet, view: View, size: float) -> str:
    """Return the lines around the control surfaces."""
    lines = [
        element(
            "polyline",
            points=" ".join(f"{number(x)},{number(y)}" for x, y in map(view.seen, points)),
            fill="none",
            stroke=INK,
            stroke_width=THIN * size,
            stroke_dasharray=dashes("hinge", size),
        )
        for surface in sheet.surfaces
        if (surface.role == "fin") == (view.name == "side")
        for points in views.hinge_lines(surface)
    ]
    return group(lines, class_="hinges")


def drawn_discs(sheet: Sheet, view: View, size: float) -> str:
    """Return what propellers sweep: a line edge on, a circle from the front."""
    pen: Pen = {
        "stroke": INK,
        "stroke_width": THIN * size,
        "stroke_dasharray": dashes("sweep", size),
    }
    drawn = []
    for disc in sheet.discs:
        x, y = view.seen(disc.place)
        half = disc.diameter / 2
        if view.name == "front":
            drawn.append(element("circle", cx=x, cy=y, r=half, fill="none", **pen))
        else:
            drawn.append(line((x, y - half), (x, y + half), **pen))
    return group(drawn, class_="sweep")


def drawn_thrust(sheet: Sheet, view: View, size: float) -> str:
    """Return the thrust lines, and the word at the nose."""
    (left, right), _ = view.frame
    drawn = []
    for disc in sheet.discs[:4]:
        x, _, z = disc.place
        ends = [(left - size, 0.0), (max(right, x) + size, 0.0)]
        ends = [(a, -(z + disc.slope * (x - a))) for a, _ in ends]
        pen: Pen = {"stroke": INK, "stroke_dasharray": dashes("thrust", size)}
        drawn.append(line(ends[0], ends[1], **pen, stroke_width=THIN * size))
        at = (ends[0][0] - 0.3 * size, ends[0][1] + 0.35 * size)
        drawn.append(words("thrust line", at, size, text_anchor="end"))
    return group(drawn, class_="thrust")


def crossing(outline: Outline, low: float, high: float) -> Span | None:
    """Return the range across of an outline between two heights."""
    found = [x for x, y in outline if low <= y <= high]
    for (x, y), (u, v) in zip(outline, outline[1:] + outline[:1], strict=True):
        for level in (low, high):
            if (y - level) * (v - level) < 0.0:
                found += [x + (level - y) / (v - y) * (u - x)]
    return (min(found), max(found)) if found else None


def feet(part: Part, view: View) -> tuple[Spot, ...]:
    """Return where on a part its leader may start, the middle first."""
    reach = 0.0 if part.size is None else part.size[view.sides[0]]
    shares = (0.0, -0.2, 0.2, -0.4, 0.4)
    spots = map(view.seen, part.places)
    return tuple(dict.fromkeys((x + share * reach, y) for x, y in spots for share in shares))


def names(sheet: Sheet, view: View, size: float, taken: tuple[Outline, ...]) -> tuple[Label, ...]:
    """Return the names of all parts, from both ends inwards: leaders then nest.

    `taken` are places that dimensions need.
    """
    middle = statistics.median([p.places[0][0] for p in sheet.parts] or [0.0])
    obstacles = [*view.foam, *taken]
    for disc in sheet.discs:
        x, y = view.seen(disc.place)
        half = disc.diameter / 2
        obstacles.append(
            [(x - 1, y - half), (x + 1, y - half), (x + 1, y + half), (x - 1, y + half)]
        )

    def foam(low: float, high: float) -> list[Span]:
        found = (crossing(outline, low, high) for outline in obstacles)
        return [span for span in found if span is not None]

    field = Field(
        foam=foam, ends=frame_of(spot for outline in obstacles for spot in outline)[1], size=size
    )
    named = tuple(
        (tame(part.name), feet(part, view))
        for part in sorted(sheet.parts, key=lambda p: -abs(p.places[0][0] - middle))
    )
    return placed(named, field)

"""The drawing in the middle: the paper's own views, with parts that can be taken hold of."""

import dataclasses
from dataclasses import dataclass
from functools import lru_cache

from foamwright.jobs.ask import Settings
from foamwright.jobs.draw import LOOSE, MM, body_shape, mm, part_of, sheet_of, surface_shape
from foamwright.model.outlines import outlines_of, with_outlines
from foamwright.paper import composition, marks
from foamwright.paper import drawing as d
from foamwright.paper.marks import THIN
from foamwright.paper.shapes import Part, Sheet
from foamwright.paper.svg import Spot, box, element, group, number
from foamwright.plane.document import LoadedPlane
from foamwright.plane.gear import AnyItem
from foamwright.plane.placement import Place
from foamwright.questions.case import Case

SMALLEST_GRAB = 26.0
"""Least side of what can be taken hold of [mm on the plane]."""

FAR = 3000.0
"""How far the squared paper goes on around the plane [mm]."""

Range = tuple[float, float]


@dataclass(frozen=True, kw_only=True, slots=True)
class Movable:
    """One part that can be moved on the drawing."""

    name: str
    """As in the plane file."""
    words: str
    """As on the drawing."""
    part: Part
    """Its box."""
    x: Range
    """Where its middle may lie along the body [mm]."""
    y: Range
    """Sideways [mm]."""
    z: Range
    """Up and down [mm]."""
    reach: bool
    """Whether the range along the body is the builder's own."""

    @property
    def place(self) -> tuple[float, float, float]:
        """The middle of its first piece [mm]."""
        return self.part.places[0]


def movable(case: Case, item: AnyItem) -> Movable | None:
    """Return an item as something to move; none where it has no place."""
    part = part_of(item)
    if part is None:
        return None
    computed = case.computed
    x, y, z = part.places[0]
    ends = (computed.nose * MM, computed.tail * MM)
    if item.reach is not None:
        ends = (mm(item.reach.foremost), mm(item.reach.rearmost))
    half = max(
        abs(mm(station.y))
        for surface in case.plane.airframe.surfaces
        for station in surface.stations
    )
    heights = [
        mm(s.z) + sign * mm(s.height) / 2
        for body in case.plane.airframe.bodies
        for s in body.stations
        for sign in (-1.0, 1.0)
    ] or [-50.0, 50.0]
    return Movable(
        name=item.name,
        words=part.name,
        part=part,
        x=(min(x, ends[0]), max(x, ends[1])),
        y=(min(y, -half), max(y, half)) if len(part.places) == 1 else (1.0, max(y, half)),
        z=(min(z, min(heights) - 30.0), max(z, max(heights) + 30.0)),
        reach=item.reach is not None,
    )


def movables(case: Case) -> tuple[Movable, ...]:
    """Return everything that can be moved, in the order of the plane file."""
    found = (movable(case, item) for item in case.plane.items if item.kind not in LOOSE)
    return tuple(part for part in found if part is not None)


def handle(item: Movable, view: d.View, size: float) -> str:
    """Return a part as something that can be taken hold of by mouse, finger and keys."""
    spots = tuple(dict.fromkeys(view.seen(place) for place in item.part.places))
    across, down = view.sides
    sides = item.part.size and (item.part.size[across], item.part.size[down])
    grabs = [grab(spot, sides or (0.0, 0.0)) for spot in spots]
    boxes = marks.part_boxes(item.part, spots, sides or None, THIN * size)
    seen_from = "from above" if view.name == "top" else "from the side"
    x = item.place[0]
    return group(
        [*grabs, boxes],
        class_="handle",
        data_part=item.name,
        data_view=view.name,
        data_x=number(x),
        data_y=number(item.place[1]),
        data_z=number(item.place[2]),
        data_reach_x=ends(item.x),
        data_reach_y=ends(item.y),
        data_reach_z=ends(item.z),
        data_twin="yes" if len(item.part.places) > 1 else None,
        tabindex="0",
        role="slider",
        aria_label=f"{item.words}, {seen_from}",
        aria_valuemin=item.x[0],
        aria_valuemax=item.x[1],
        aria_valuenow=x,
        aria_valuetext=f"{number(round(x, 1))} mm from the nose",
        aria_describedby="how-to-move",
    )


def ends(found: Range) -> str:
    """Return a range as an attribute."""
    return f"{number(found[0])} {number(found[1])}"


def grab(spot: Spot, sides: Spot) -> str:
    """Return the unseen area around a part that takes hold of it."""
    wide, tall = (max(side + 6.0, SMALLEST_GRAB) for side in sides)
    corner = (spot[0] - wide / 2, spot[1] - tall / 2)
    return box(corner, (wide, tall), class_="grab", fill="transparent", stroke="none")


def strips(sheet: Sheet, plan: composition.Layout) -> str:
    """Return the rows under the view from above."""
    u = plan.size
    rows = [marks.strip(row, plan.row + 1.7 * u * at, u) for at, row in enumerate(sheet.strips)]
    return composition.guides(sheet, plan) + "\n".join(rows)


def view_of(sheet: Sheet, view: d.View, parts: tuple[Movable, ...], size: float) -> list[str]:
    """Return foam, hinges, propeller, parts and balance from one direction."""

    def extent(item: Movable) -> float:
        box_ = item.part.size
        return 0.0 if box_ is None else -box_[view.sides[0]] * box_[view.sides[1]]

    drawn = [d.drawn_hinges(sheet, view, size)]
    if view.name == "side":
        drawn.append(d.drawn_thrust(sheet, view, size))
    drawn.append(d.drawn_discs(sheet, view, size))
    drawn.append(group([handle(part, view, size) for part in sorted(parts, key=extent)]))
    x, y = view.seen(sheet.centre)
    centre = group([marks.balance((0.0, 0.0), size)], transform=f"translate({x:.2f} {y:.2f})")
    return [*drawn, group([centre], class_="centre", data_view=view.name)]


def measured(sheet: Sheet, plan: composition.Layout) -> str:
    """Return span and length."""
    u = plan.size
    wing = composition.wing_of(sheet)
    half = abs(wing.cuts[-1].edge[1])
    start, span = (-half, 2 * half) if wing.mirrored else (0.0, half)
    (nose, tail), (_, floor) = plan.side.frame
    below = plan.side_at + floor + 2.4 * u
    told = f"span {number(span)} mm"
    return group(
        [
            marks.dimension((plan.span_at, start), (plan.span_at, start + span), told, u),
            marks.dimension((nose, below), (tail, below), f"length {number(tail - nose)} mm", u),
        ],
        class_="dimensions",
    )


def extent_of(plan: composition.Layout) -> tuple[Spot, Spot]:
    """Return the upper left corner of the drawing and its size."""
    u = plan.size
    lowest = min([plan.top.frame[1][0] - u, *(label.elbow[1] - u for label in plan.labels)])
    (_, _), (_, floor) = plan.side.frame
    highest = plan.side_at + floor + 4.2 * u
    left = plan.corner[0]
    right = plan.span_at + 2.0 * u
    return (left, lowest - u), (right - left, highest - lowest + u)


@dataclass(frozen=True, kw_only=True, slots=True)
class Sketch:
    """The drawing, and what of it moves with a part."""

    svg: str
    """All of it."""
    strips: str
    """The rows under the view from above."""
    centre: tuple[Spot, Spot]
    """The centre of gravity from above and from the side."""


@lru_cache(maxsize=8)
def layout_of(sheet: Sheet) -> composition.Layout:
    """Return where everything stands; finding places for the names takes its time."""
    return composition.layout(sheet)


def beside(plan: composition.Layout) -> str:
    """Return how far below the view from above the view from the side stands."""
    return f"translate(0 {number(plan.side_at)})"


def bare(sheet: Sheet, plan: composition.Layout) -> list[str]:
    """Return squared paper, foam and dimensions: what no part changes."""
    u = plan.size
    endless = dataclasses.replace(plan, corner=(-FAR, -FAR), extent=(3 * FAR, 3 * FAR))
    side = group([d.drawn_foam(plan.side, u)], class_="view side", transform=beside(plan))
    return [
        composition.squares(endless),
        group([d.drawn_foam(plan.top, u)], class_="view top"),
        side,
        measured(sheet, plan),
    ]


def framed(content: list[str], frame: tuple[Spot, Spot], name: str) -> str:
    """Return a drawing, one unit a millimetre."""
    return element(
        "svg",
        "\n".join(content),
        xmlns="http://www.w3.org/2000/svg",
        class_="plane",
        viewBox=" ".join(map(number, (*frame[0], *frame[1]))),
        role="group",
        aria_label=f"{name} from above and from the side",
        font_family="sans-serif",
    )


def outline(loaded: LoadedPlane) -> str:
    """Return the bare foam, which needs no computing: what is seen first."""
    airframe = loaded.plane.airframe
    airframe = with_outlines(airframe, outlines_of(airframe, loaded.folder))
    sheet = Sheet(
        name=loaded.plane.name,
        notes=(),
        surfaces=tuple(surface_shape(s) for s in airframe.surfaces),
        bodies=tuple(body_shape(b) for b in airframe.bodies),
        parts=(),
        discs=(),
        centre=(0.0, 0.0, 0.0),
        strips=(),
    )
    plan = layout_of(sheet)
    return framed(bare(sheet, plan), extent_of(plan), loaded.plane.name)


def sketch(case: Case, variant: str | None) -> Sketch:
    """Return the drawing of a case."""
    sheet = sheet_of(case, Settings(variant=variant))
    plan = layout_of(sheet)
    u, parts = plan.size, movables(case)
    leaders = [marks.leader(label, u) for label in plan.labels]
    rows = strips(sheet, plan)
    content = [
        *bare(sheet, plan),
        group([rows], class_="strips"),
        group(view_of(sheet, plan.top, parts, u), class_="view top"),
        group(leaders, class_="leaders"),
        group(view_of(sheet, plan.side, parts, u), class_="view side", transform=beside(plan)),
    ]
    svg = framed(content, extent_of(plan), case.plane.name)
    return Sketch(
        svg=svg,
        strips=rows,
        centre=(plan.top.seen(sheet.centre), plan.side.seen(sheet.centre)),
    )


def moved(case: Case, drawn: Case, variant: str | None) -> Sketch:
    """Return only what of the drawing moves with a part; the rest stays as it is `drawn`."""
    settings = Settings(variant=variant)
    sheet, plan = sheet_of(case, settings), layout_of(sheet_of(drawn, settings))
    return Sketch(
        svg="",
        strips=strips(sheet, plan),
        centre=(plan.top.seen(sheet.centre), plan.side.seen(sheet.centre)),
    )


def placed(place: Place | None, axis: str, to: float) -> str:
    """Return a new place on one axis as text, with the spread that was written."""
    quantity = None if place is None else getattr(place, axis)
    spread = ""
    if quantity is not None and quantity.spread is not None:
        spread = f" ± {quantity.spread * MM:.3g}"
    return f"{to:.1f}".removesuffix(".0") + f"{spread} mm"

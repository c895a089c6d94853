"""Where everything stands on the sheet, and the sheet as SVG."""

from dataclasses import dataclass

from foamwright.paper import drawing as d
from foamwright.paper import marks
from foamwright.paper.labels import Label
from foamwright.paper.marks import THIN, dashes
from foamwright.paper.shapes import Cut, Sheet, SurfaceShape
from foamwright.paper.svg import (
    COARSE,
    FINE,
    INK,
    PAPER,
    SOFT,
    Pen,
    Spot,
    box,
    element,
    group,
    hatch,
    line,
    number,
    tame,
    text,
    width_of,
)

LETTERS = 0.024
"""Size of the letters over the longer of length and span."""

SMALLEST = 6.0
"""Least size of the letters [mm]."""

FOOT = "Squares 10 mm, heavy lines 50 mm; true size at 100 %."
CROSSES = " × no size known."


@dataclass(frozen=True, kw_only=True, slots=True)
class Layout:
    """The places of views and rows; x of the sheet is x of the plane [mm]."""

    size: float
    """Of the letters."""
    top: d.View
    side: d.View
    front: d.View
    labels: tuple[Label, ...]
    span_at: float
    """x of the dimension of the span."""
    row: float
    """y of the first row of the strip."""
    side_at: float
    """y of the reference line from the side."""
    front_at: Spot
    """Place of the reference line from the front."""
    corner: Spot
    """Upper left corner of the sheet."""
    extent: Spot
    """Its width and height."""


def letters(top: d.View) -> float:
    """Return the size of the letters for a plane."""
    (left, right), (low, high) = top.frame
    return max(SMALLEST, LETTERS * max(right - left, high - low))


def chord_places(sheet: Sheet, top: d.View, size: float) -> tuple[d.Outline, ...]:
    """Return the boxes that the dimensions of root and tip chord need, with their words."""
    wing, (low, high) = wing_of(sheet), top.frame[1]
    found = []
    for cut, name, ends in (
        (wing.cuts[-1], "tip", (low - 2.4 * size, low)),
        (wing.cuts[0], "root", (high, high + 2.7 * size)),
    ):
        half = max(cut.chord, width_of(chord_words(name, cut), size)) / 2 + 0.7 * size
        middle = cut.edge[0] + cut.chord / 2
        left, right = middle - half, middle + half
        found.append([(left, ends[0]), (right, ends[0]), (right, ends[1]), (left, ends[1])])
    return tuple(found)


def chord_words(name: str, cut: Cut) -> str:
    """Return the words on a chord's dimension."""
    return f"{name} {number(cut.chord)} mm"


def layout(sheet: Sheet) -> Layout:
    """Return the places of everything."""
    top, side, front = d.from_above(sheet), d.from_the_side(sheet), d.from_the_front(sheet)
    u = letters(top)
    labels = d.names(sheet, top, u, chord_places(sheet, top, u))
    (left, right), (low, high) = top.frame
    low = min([low - 2.6 * u, *(label.elbow[1] - u for label in labels)])
    row = max([high + 3.6 * u, *(label.elbow[1] + 2 * u for label in labels)])
    (_, _), (roof, floor) = side.frame
    rise = max([-roof, *(disc.place[2] + disc.diameter / 2 for disc in sheet.discs)])
    drop = max([floor, *(disc.diameter / 2 - disc.place[2] for disc in sheet.discs)])
    side_at = row + 1.7 * u * len(sheet.strips) + 2.0 * u + rise
    (near, far), (crown, sole) = front.frame
    below = max(sole, drop)
    front_at = ((left + right) / 2, side_at + drop + 4.5 * u + max(-crown, rise))
    span_at = max([right, *(label.left + label.width for label in labels)]) + 2.2 * u
    xs = [left - 8.5 * u, span_at + 1.3 * u, front_at[0] + near - u, front_at[0] + far + u]
    xs += [x for label in labels for x in (label.left - u, label.left + label.width + u)]
    xs += [strip.high + 1.6 * u + width_of(strip.label, u) for strip in sheet.strips]
    head = max([width_of(note, u) for note in (*sheet.notes, FOOT + CROSSES)])
    first = min(xs)
    last = max(*xs, first + head + 2 * u, first + 1.7 * width_of(tame(sheet.name), u) + 2 * u)
    corner = (first, low - (2.6 + 1.5 * len(sheet.notes)) * u - u)
    bottom = front_at[1] + below + 4.2 * u + (1.5 * u if sheet.unplaced else 0.0)
    return Layout(
        size=u,
        top=top,
        side=side,
        front=front,
        labels=labels,
        span_at=span_at,
        row=row,
        side_at=side_at,
        front_at=front_at,
        corner=corner,
        extent=(last - corner[0], bottom - corner[1]),
    )


def squares(plan: Layout) -> str:
    """Return the squared paper; its lines fall on whole centimetres of the plane."""
    (x, y), (wide, tall) = plan.corner, plan.extent
    patterns = [
        element(
            "pattern",
            element("path", d=f"M{gap},0 H0 V{gap}", fill="none", stroke=ink, stroke_width=width),
            id=name,
            width=gap,
            height=gap,
            patternUnits="userSpaceOnUse",
        )
        for name, gap, ink, width in (("fine", 10.0, FINE, 0.5), ("coarse", 50.0, COARSE, 0.9))
    ]
    sheets = [box((x, y), (wide, tall), fill=f) for f in (PAPER, "url(#fine)", "url(#coarse)")]
    defined = element("defs", "\n".join([*patterns, hatch("wanted", 0.35 * plan.size, 45.0)]))
    return "\n".join([defined, *sheets])


def title(sheet: Sheet, plan: Layout) -> str:
    """Return name and notes at the head."""
    u, (x, y) = plan.size, plan.corner
    head = text(
        tame(sheet.name),
        (x + u, y + 2.2 * u),
        1.7 * u,
        font_family="serif",
        font_weight="bold",
        fill=INK,
    )
    notes = [
        marks.words(note, (x + u, y + (3.9 + 1.5 * row) * u), u)
        for row, note in enumerate(sheet.notes)
    ]
    return group([head, *notes], class_="title")


def foot(sheet: Sheet, plan: Layout) -> str:
    """Return what the squares mean, and which parts have no place yet."""
    u = plan.size
    x, y = plan.corner[0] + u, plan.corner[1] + plan.extent[1] - 0.8 * u
    told = [FOOT + (CROSSES if any(part.size is None for part in sheet.parts) else "")]
    if sheet.unplaced:
        told.append("No place yet: " + ", ".join(tame(name) for name in sheet.unplaced))
    return group(
        [
            text(words, (x, y - 1.4 * u * row), 0.85 * u, fill=SOFT)
            for row, words in enumerate(told)
        ],
        class_="foot",
    )


def guides(sheet: Sheet, plan: Layout) -> str:
    """Return the lines that carry balance and neutral point through the view from above."""
    u = plan.size
    drawn = []
    for place, strip in enumerate(sheet.strips):
        if strip.middle is None or strip.kind not in ("balance", "neutral"):
            continue
        ends = (plan.top.frame[1][0] - 0.8 * u, plan.row + 1.7 * u * place)
        dash = dashes(strip.kind, u)
        pen: Pen = {"stroke": INK, "stroke_width": THIN * u, "stroke_dasharray": dash}
        drawn.append(line((strip.middle, ends[0]), (strip.middle, ends[1]), **pen))
    return group(drawn, class_="guides")


def chord(cut: Cut, y: float, told: str, size: float) -> str:
    """Return a chord's dimension at a height of the sheet, its extension lines with it."""
    start, end = cut.edge[0], cut.edge[0] + cut.chord
    pen: Pen = {"stroke": SOFT, "stroke_width": 0.6 * THIN * size}
    reach = [
        line((x, -abs(cut.edge[1]) if y < 0 else abs(cut.edge[1])), (x, y), **pen)
        for x in (start, end)
    ]
    return group([*reach, marks.dimension((start, y), (end, y), told, size)])


def wing_of(sheet: Sheet) -> SurfaceShape:
    """Return the surface with the widest span, mirrored ones first."""
    return max(sheet.surfaces, key=lambda s: (s.mirrored, abs(s.cuts[-1].edge[1])))


def dimensions(sheet: Sheet, plan: Layout) -> str:
    """Return span, length, root and tip chord."""
    u = plan.size
    _, (low, high) = plan.top.frame
    wing = wing_of(sheet)
    root, tip = wing.cuts[0], wing.cuts[-1]
    half = abs(tip.edge[1])
    (nose, tail), (_, floor) = plan.side.frame
    below = plan.side_at + floor + 2.4 * u
    span = 2 * half if wing.mirrored else half
    start = -half if wing.mirrored else 0.0
    return group(
        [
            marks.dimension(
                (plan.span_at, start), (plan.span_at, start + span), f"span {number(span)} mm", u
            ),
            chord(tip, low - 1.0 * u, chord_words("tip", tip), u),
            chord(root, high + 2.0 * u, chord_words("root", root), u),
            marks.dimension((nose, below), (tail, below), f"length {number(tail - nose)} mm", u),
        ],
        class_="dimensions",
    )


def one_view(sheet: Sheet, view: d.View, size: float) -> list[str]:
    """Return foam, hinges, propeller, parts and balance from one direction."""
    drawn = [d.drawn_foam(view, size)]
    if view.name != "front":
        drawn.append(d.drawn_hinges(sheet, view, size))
    if view.name == "side":
        drawn.append(d.drawn_thrust(sheet, view, size))
    drawn += [d.drawn_discs(sheet, view, size), d.drawn_rods(sheet, view, size)]
    drawn += [d.drawn_parts(sheet, view, size), d.drawn_holes(sheet, view, size)]
    return [*drawn, marks.balance(view.seen(sheet.centre), size)]


def drawing(sheet: Sheet) -> str:
    """Return the whole sheet as SVG, one unit a millimetre, width and height in millimetres."""
    plan = layout(sheet)
    u = plan.size
    (x, y), (wide, tall) = plan.corner, plan.extent
    across, down = plan.front_at
    strips = [
        marks.strip(row, plan.row + 1.7 * u * place, u) for place, row in enumerate(sheet.strips)
    ]
    top = [*one_view(sheet, plan.top, u), *(marks.leader(label, u) for label in plan.labels)]
    shift = f"translate(0 {number(plan.side_at)})"
    ahead = f"translate({number(across)} {number(down)})"
    content = [
        squares(plan),
        title(sheet, plan),
        group(top[:1], class_="view top foam-only"),
        guides(sheet, plan),
        dimensions(sheet, plan),
        group(top[1:], class_="view top"),
        group(strips, class_="strips"),
        group(one_view(sheet, plan.side, u), class_="view side", transform=shift),
        group(one_view(sheet, plan.front, u), class_="view front", transform=ahead),
        foot(sheet, plan),
    ]
    return (
        element(
            "svg",
            "\n".join(content),
            xmlns="http://www.w3.org/2000/svg",
            width=f"{number(wide)}mm",
            height=f"{number(tall)}mm",
            viewBox=" ".join(map(number, (x, y, wide, tall))),
            font_family="sans-serif",
        )
        + "\n"
    )

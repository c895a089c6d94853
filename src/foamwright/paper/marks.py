"""Marks on a drawing: boxes, balance, bands and dimensions, told apart without colour."""

from foamwright.paper.labels import Label
from foamwright.paper.shapes import Part, Strip
from foamwright.paper.svg import BOX, INK, PAPER, SOFT, Pen, Spot, box, element, group, line, text

THIN, PEN, BOLD = 0.05, 0.08, 0.14
"""Widths of lines over the size of the letters."""

DASHES = {
    "balance": "",
    "wanted": "",
    "neutral": "0.5 0.3",
    "reach": "",
    "thrust": "1.4 0.3 0.15 0.3",
    "hinge": "0.25 0.25",
    "sweep": "0.7 0.4",
}
"""Dashes and gaps of each kind of line over the size of the letters."""


def dashes(kind: str, size: float) -> str | None:
    """Return the dashes of a kind of line; none for a solid one."""
    steps = [float(part) * size for part in DASHES[kind].split()]
    return " ".join(f"{step:.2f}" for step in steps) or None


def words(told: str, at: Spot, size: float, **attributes: str | float | None) -> str:
    """Return words that stay readable across a line."""
    return text(
        told,
        at,
        size,
        fill=INK,
        stroke=PAPER,
        stroke_width=0.3 * size,
        stroke_linejoin="round",
        paint_order="stroke",
        **attributes,
    )


def part_boxes(part: Part, spots: tuple[Spot, ...], size: Spot | None, pen: float) -> str:
    """Return a part as boxes of its size, or as crosses where no size is known."""
    drawn = []
    for x, y in spots:
        if size is None:
            arm = 7 * pen
            drawn += [
                line((x - arm, y - arm), (x + arm, y + arm), stroke=INK, stroke_width=1.5 * pen),
                line((x - arm, y + arm), (x + arm, y - arm), stroke=INK, stroke_width=1.5 * pen),
            ]
            continue
        corner = (x - size[0] / 2, y - size[1] / 2)
        face: Pen = {"fill": BOX, "fill_opacity": 0.75, "stroke": INK}
        drawn.append(box(corner, size, **face, stroke_width=pen))
    return group(drawn, class_="part", data_part=part.name)


def leader(label: Label, size: float) -> str:
    """Return a name with its leader and a dot on the part."""
    (x, y), (turn, level) = label.foot, label.elbow
    near = label.side
    before = near > label.left
    pen: Pen = {"stroke": SOFT, "stroke_width": THIN * size}
    return group(
        [
            element("circle", cx=x, cy=y, r=0.13 * size, fill=INK),
            line((x, y), (turn, level), **pen),
            line((turn, level), (near, level), **pen),
            words(
                label.words,
                (near + (-0.2 if before else 0.2) * size, level + 0.35 * size),
                size,
                text_anchor="end" if before else "start",
            ),
        ],
        class_="label",
    )


def balance(at: Spot, size: float) -> str:
    """Return the mark of a centre of gravity: a disc with two quarters inked."""
    x, y = at
    r = 0.45 * size
    quarters = f"M{x},{y} h{r} a{r},{r} 0 0 0 {-r},{-r} z M{x},{y} h{-r} a{r},{r} 0 0 0 {r},{r} z"
    return group(
        [
            element("circle", cx=x, cy=y, r=r, fill=PAPER, stroke=INK, stroke_width=PEN * size),
            element("path", d=quarters, fill=INK),
        ],
        class_="balance",
    )


def strip(row: Strip, y: float, size: float) -> str:
    """Return one row of the strip: its bar in a pattern of its own, and its words."""
    half, pen = 0.32 * size, PEN * size
    wide = max(row.high - row.low, 2 * pen)
    corner, extent = (row.low, y - half), (wide, 2 * half)
    if row.kind == "reach":
        drawn = [
            line((row.low, y), (row.high, y), stroke=INK, stroke_width=pen),
            *(
                line((x, y - half), (x, y + half), stroke=INK, stroke_width=pen)
                for x in (row.low, row.high)
            ),
        ]
    else:
        fill = {"balance": INK, "wanted": "url(#wanted)", "neutral": PAPER}[row.kind]
        dash = dashes(row.kind, size)
        ink: Pen = {"fill": fill, "stroke": INK, "stroke_dasharray": dash}
        drawn = [box(corner, extent, **ink, stroke_width=pen)]
    if row.middle is not None:
        reach = 2 * half
        drawn.append(
            line((row.middle, y - reach), (row.middle, y + half), stroke=INK, stroke_width=pen)
        )
    drawn.append(words(row.label, (row.high + 0.6 * size, y + 0.35 * size), size))
    return group(drawn, class_=f"strip {row.kind}")


def dimension(start: Spot, end: Spot, told: str, size: float) -> str:
    """Return a dimension line with ticks; the words stand on it, turned where it stands upright."""
    (x, y), (u, v) = start, end
    upright = x == u
    tick = 0.35 * size
    pen: Pen = {"stroke": INK, "stroke_width": THIN * size}
    drawn = [line(start, end, **pen)]
    for a, b in (start, end):
        drawn.append(line((a - tick, b + tick), (a + tick, b - tick), **pen))
    middle = ((x + u) / 2, (y + v) / 2)
    turned = f"rotate(-90 {middle[0]:.2f} {middle[1]:.2f})" if upright else None
    at = (middle[0], middle[1] - 0.4 * size)
    drawn.append(words(told, at, size, text_anchor="middle", transform=turned))
    return group(drawn, class_="dimension")

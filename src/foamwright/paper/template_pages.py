"""Pages of cutting templates as SVG in millimetres: the cut list, and tiles with their rulers."""

from foamwright.paper.svg import element, group, line, number, text, width_of
from foamwright.paper.template_shapes import CutLine, Kind, Outline, Point, Template
from foamwright.paper.tiling import FOOT, HEAD, MARGIN, Tile, pieces, shows
from foamwright.paper.typeset import PAPERS

PENS: dict[Kind, tuple[float, str]] = {
    "foam": (0.5, ""),
    "pocket": (0.35, ""),
    "hidden pocket": (0.35, "3 1.5"),
    "channel": (0.35, "6 1.5 1 1.5"),
    "hinge": (0.25, "1 1"),
    "station": (0.15, "2 2"),
    "balance": (0.35, "8 2"),
    "section": (0.3, ""),
}
"""Width of the line [mm] and its dashes: kinds differ without colour."""

INK, QUIET = "#000000", "#444444"

FACE = "Libertinus Serif, serif"
"""A face the typesetter brings along."""

SMALL, PLAIN, LARGE = 2.6, 3.4, 5.2
"""Sizes of words [mm]."""

ROW = SMALL * 1.25
"""Height of a row of small words [mm]."""

Box = tuple[float, float, float, float]
"""Left, top, right and bottom on a page [mm]."""

CROSS = 4.0
"""Half the size of a registration cross [mm]."""

RULERS = (250, 200, 150, 100)
"""Lengths of check rulers [mm]: the longest that fits is drawn."""

WORDS = (
    'Print at 100 %, no "fit to page". Measure this ruler: {length} mm. If it is not, do not cut.'
)


def words(said: str, at: Point, size: float, **more: str | float | None) -> str:
    """Return words on a page."""
    return text(said, at, size, font_family=FACE, fill=INK, **more)


def ruler(start: Point, length: int, *, upright: bool = False) -> list[str]:
    """Return a check ruler with a tick every 10 mm; both ends are long, thin and exact."""
    x, y = start
    parts = []
    for mm in range(0, length + 1, 10):
        tall = 4.0 if mm % 50 == 0 else 2.0
        a = (x, y + mm) if upright else (x + mm, y)
        b = (x + tall, y + mm) if upright else (x + mm, y - tall)
        parts.append(line(a, b, stroke=INK, stroke_width=0.2))
        if mm % 50 == 0:
            at = (x + 5.0, y + mm + 0.9) if upright else (x + mm, y - 4.8)
            anchor = "start" if upright else "middle"
            parts.append(words(str(mm), at, SMALL, text_anchor=anchor))
    end = (x, y + length) if upright else (x + length, y)
    parts.append(line(start, end, stroke=INK, stroke_width=0.2))
    return parts


def longest(room: float) -> int:
    """Return the longest check ruler that fits some room [mm]."""
    return next((length for length in RULERS if length <= room), RULERS[-1])


def placed(point: Point, tile: Tile) -> Point:
    """Return a point of the template on the page of a tile, y down [mm]."""
    return (MARGIN + point[0] - tile.left, MARGIN + HEAD + tile.top - point[1])


def path(points: list[Point]) -> str:
    """Return an open line as path data."""
    return "M" + " L".join(f"{number(x)} {number(y)}" for x, y in points)


def drawn(outlines: tuple[Outline, ...], tile: Tile) -> list[str]:
    """Return what a tile shows of some outlines, and their words where their place is on it."""
    lines: list[str] = []
    said: list[str] = []
    taken: list[Box] = []
    for outline in outlines:
        found = lines_of(outline, tile)
        lines += found
        if outline.label and found:
            said += label_of(outline, tile, taken)
    return lines + said


def lines_of(outline: Outline, tile: Tile) -> list[str]:
    """Return the lines a tile shows of an outline."""
    width, dashes = PENS[outline.kind]
    return [
        element(
            "path",
            d=path([placed(point, tile) for point in piece]),
            fill="none",
            stroke=INK,
            stroke_width=width,
            stroke_dasharray=dashes or None,
            stroke_linejoin="round",
        )
        for piece in pieces(outline, tile)
    ]


def label_of(outline: Outline, tile: Tile, taken: list[Box]) -> list[str]:
    """Return the words of an outline at its middle, clear of words already there.

    `taken` gets their place: a depth printed over another depth is read wrong at the bench.
    """
    xs, ys = zip(*outline.points, strict=True)
    middle = ((min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0)
    if not shows(tile, middle):
        return []
    x, y = placed(middle, tile)
    y -= 0.0 if outline.closed else 2.0
    rows = outline.label.split("\n")
    tall = len(rows) * ROW
    half = max(width_of(said, SMALL * 0.8) for said in rows) / 2.0
    top = clear((x - half, y - tall / 2.0, x + half, y + tall / 2.0), taken)
    taken.append((x - half, top, x + half, top + tall))
    return [
        words(said, (x, top + index * ROW + SMALL * 0.85), SMALL, text_anchor="middle")
        for index, said in enumerate(rows)
    ]


def clear(box: Box, taken: list[Box]) -> float:
    """Return the top of a box moved down or up, the nearest way, until it covers no other."""
    left, top, right, bottom = box

    def free(shift: float) -> bool:
        return all(
            right <= a or left >= c or bottom + shift <= b or top + shift >= d
            for a, b, c, d in taken
        )

    step = 0.0
    while not (free(step) or free(-step)):
        step += ROW / 4.0
    return top + (step if free(step) else -step)


def cross(at: Point) -> list[str]:
    """Return a registration cross on the page."""
    x, y = at
    thin: dict[str, str | float | None] = {"stroke": INK, "stroke_width": 0.15}
    return [
        line((x - CROSS, y), (x + CROSS, y), **thin),
        line((x, y - CROSS), (x, y + CROSS), **thin),
        element("circle", cx=x, cy=y, r=1.5, fill="none", **thin),
    ]


def edges(tile: Tile, paper: str) -> list[str]:
    """Return which tile each edge joins, beside the edge."""
    width, _ = PAPERS[paper]
    middle = (MARGIN + tile.width / 2.0, MARGIN + HEAD + tile.height / 2.0)
    places = {
        "left": ((MARGIN - 3.0, middle[1]), -90.0),
        "right": ((width - MARGIN + 3.0, middle[1]), 90.0),
        "top": ((middle[0], MARGIN + HEAD - 1.5), 0.0),
        "bottom": ((middle[0], MARGIN + HEAD + tile.height + 3.0), 0.0),
    }
    parts = []
    for edge, other in tile.joins():
        (x, y), turn = places[edge]
        spin = f"rotate({number(turn)} {number(x)} {number(y)})" if turn else None
        said = words(f"joins {other}", (x, y), SMALL, text_anchor="middle", transform=spin)
        parts.append(said)
    return parts


def tile_page(template: Template, tile: Tile, paper: str, title: str) -> str:
    """Return one tile as a page."""
    width, height = PAPERS[paper]
    field = {"stroke": QUIET, "stroke_width": 0.1, "fill": "none"}
    parts = [
        words(title, (MARGIN, MARGIN + 2.0), PLAIN, font_weight="bold"),
        words(template.title, (MARGIN, MARGIN + 7.0), PLAIN),
        words(
            f"sheet {tile.name} of {tile.rows} x {tile.columns}",
            (width - MARGIN, MARGIN + 2.0),
            PLAIN,
            text_anchor="end",
        ),
        element(
            "rect",
            x=MARGIN,
            y=MARGIN + HEAD,
            width=tile.width,
            height=tile.height,
            stroke_dasharray="1 3",
            **field,  # type: ignore[arg-type]
        ),
    ]
    parts += drawn(template.outlines, tile)
    if len(tile.joins()) > 0:
        for at in tile.crosses():
            parts += cross(placed(at, tile))
        parts += edges(tile, paper)
    foot = height - MARGIN
    parts += ruler((MARGIN, foot), 100)
    first, second = WORDS.format(length=100).split(" Measure")
    parts.append(words(first, (MARGIN + 106.0, foot - 4.0), SMALL))
    parts.append(words("Measure" + second, (MARGIN + 106.0, foot - 0.5), SMALL))
    return page("\n".join(parts), paper)


def page(content: str, paper: str) -> str:
    """Return a page of a paper's size, millimetres as units."""
    width, height = PAPERS[paper]
    return element(
        "svg",
        content,
        xmlns="http://www.w3.org/2000/svg",
        width=f"{number(width)}mm",
        height=f"{number(height)}mm",
        viewBox=f"0 0 {number(width)} {number(height)}",
    )


def list_page(title: str, cuts: tuple[CutLine, ...], notes: tuple[str, ...], paper: str) -> str:
    """Return the first page: what is cut, and the rulers to check the print with."""
    width, height = PAPERS[paper]
    right = width - MARGIN - 14.0
    y = MARGIN + 6.0
    parts = [words(f"{title}: cutting templates", (MARGIN, y), LARGE, font_weight="bold")]
    y += 9.0
    length = longest(height - 2 * MARGIN)
    across = longest(right - MARGIN - 6.0)
    for said in (
        WORDS.format(length=length).replace("this ruler", "the ruler on the right"),
        f"The ruler at the foot reads {across} mm. Check both: printers stretch one way only.",
        "A cut cannot be undone: ask balance and fit again before the knife.",
        *notes,
    ):
        for row in wrapped(said, right - MARGIN, PLAIN):
            parts.append(words(row, (MARGIN, y), PLAIN))
            y += PLAIN * 1.35
        y += 1.2
    parts += cut_table(cuts, (MARGIN, y + 4.0))
    parts += ruler((width - MARGIN - 10.0, MARGIN), length, upright=True)
    parts += ruler((MARGIN, height - MARGIN), across)
    return page("\n".join(parts), paper)


def cut_table(cuts: tuple[CutLine, ...], at: Point) -> list[str]:
    """Return the cut list as a table."""
    x, y = at
    columns = (0.0, 42.0, 66.0, 88.0, 104.0, 134.0)
    heads = ("what", "cut into", "from", "depth", "mouth", "middle")
    parts = [
        words(said, (x + left, y), SMALL + 0.4, font_weight="bold")
        for left, said in zip(columns, heads, strict=True)
    ]
    y += 2.0
    parts.append(line((x, y), (x + 158.0, y), stroke=INK, stroke_width=0.3))
    for cut in cuts:
        y += 5.0
        cells = (cut.what, cut.host, cut.side, cut.depth, cut.size, cut.at)
        for left, said, following in zip(columns, cells, (*columns[1:], 162.0), strict=True):
            parts.append(words(fitted(said, following - left - 2.0), (x + left, y), SMALL + 0.2))
    return parts


def fitted(said: str, room: float) -> str:
    """Return words shortened to some room [mm]."""
    size = (SMALL + 0.2) * 0.8
    while len(said) > 2 and width_of(said, size) > room:
        said = said[:-2] + "…"
    return said


def wrapped(said: str, room: float, size: float) -> list[str]:
    """Return words in rows that fit some room [mm]."""
    rows: list[str] = [""]
    for word in said.split():
        longer = f"{rows[-1]} {word}".strip()
        if width_of(longer, size * 0.78) > room and rows[-1]:
            rows.append(word)
        else:
            rows[-1] = longer
    return rows


def whole(templates: tuple[Template, ...], title: str) -> str:
    """Return all templates under each other in one picture of true size, with a ruler."""
    gap = 14.0
    wide = max(*(t.extent[2] - t.extent[0] for t in templates), 120.0) + 2 * gap
    parts, y = [words(title, (gap, 8.0), LARGE, font_weight="bold")], 16.0
    for template in templates:
        x0, y0, x1, y1 = template.extent
        tile = Tile(
            row=0,
            column=0,
            rows=1,
            columns=1,
            left=x0 - ROOM_AROUND,
            top=y1 + ROOM_AROUND,
            width=x1 - x0 + 2 * ROOM_AROUND,
            height=y1 - y0 + 2 * ROOM_AROUND,
        )
        body = [words(template.title, (MARGIN, MARGIN + HEAD - 3.0), PLAIN)]
        body += drawn(template.outlines, tile)
        shift = f"translate({number(gap - MARGIN)} {number(y - MARGIN)})"
        parts.append(group(body, id=template.name, transform=shift))
        y += HEAD + tile.height + gap
    parts += ruler((gap, y + FOOT), 100)
    y += FOOT + gap
    return element(
        "svg",
        "\n".join(parts),
        xmlns="http://www.w3.org/2000/svg",
        width=f"{number(wide)}mm",
        height=f"{number(y)}mm",
        viewBox=f"0 0 {number(wide)} {number(y)}",
    )


ROOM_AROUND = 2.0
"""Around a template in the picture of all [mm]."""

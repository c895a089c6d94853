"""A search area on squared paper, north up, at a scale that fits a sheet."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from foamwright.paper.search_marks import (
    LIGHT,
    SIZE,
    Inks,
    arrow,
    fix_mark,
    likely_mark,
    pattern,
    start_mark,
    words,
)
from foamwright.paper.svg import Pen, Spot, box, element, group, line, number, tame, text

WIDE, FIELD, MARGIN = 190.0, 170.0, 10.0
"""Of the sheet, of the squared field in it, around it [mm]."""
HEAD, FOOT = 24.0, 38.0
"""Heights of title and key [mm]."""
ROUND = (1.0, 2.0, 2.5, 5.0)
"""Bars and squares are these times a power of ten."""
SCALES = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.5)
"""Scales are these times a power of ten."""
SHARE_ROOM = 0.92
"""Of the field that may be filled."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Patch:
    """A part of an area: its edge and its holes, (east, north) of the last fix [m]."""

    edge: tuple[Spot, ...]
    holes: tuple[tuple[Spot, ...], ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class SearchSheet:
    """Everything on the drawing; places are (east, north) of the last fix [m]."""

    title: str
    notes: tuple[str, ...]
    """Lines under the title."""
    inner: tuple[Patch, ...]
    """Half of the falls."""
    outer: tuple[Patch, ...]
    """Nine tenths."""
    track: tuple[tuple[Spot, ...], ...]
    """The last of the path, in pieces without a hole."""
    likely: Spot
    start: Spot | None
    """The first fix; none where it is not known."""
    course: float | None
    """At the last fix, clockwise from north [deg]; none where it is not known."""
    wind: tuple[float, str] | None
    """Where it blows to, clockwise from north [deg], and its words; none where it is not known."""
    stops: tuple[Spot, ...]
    """The walk."""
    told: tuple[str, str]
    """What each area holds, the inner first."""
    imperial: bool = False
    """Whether the bar is in feet."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Frame:
    """How metres become millimetres on the sheet."""

    scale: float
    """Metres a metre of paper."""
    middle: Spot
    """What lies in the middle of the field, (east, north) [m]."""

    def at(self, spot: Spot) -> Spot:
        """Return where a place lies on the sheet [mm]."""
        per = 1e3 / self.scale
        return (
            WIDE / 2.0 + (spot[0] - self.middle[0]) * per,
            HEAD + FIELD / 2.0 - (spot[1] - self.middle[1]) * per,
        )


def rounded(value: float, *, up: bool, among: tuple[float, ...] = ROUND) -> float:
    """Return the nearest round number above, or below, a positive one."""
    power = 10.0 ** math.floor(math.log10(value))
    steps = [step * power * ten for ten in (0.1, 1.0, 10.0) for step in among]
    if up:
        return min(step for step in steps if step >= value * (1.0 - 1e-9))
    return max(step for step in steps if step <= value * (1.0 + 1e-9))


def frame_of(sheet: SearchSheet) -> Frame:
    """Return the scale that shows the areas, the last fix and the likely place whole."""
    spots = [spot for patch in sheet.outer for spot in patch.edge]
    spots += [sheet.likely, (0.0, 0.0)]
    ends = [(min(axis), max(axis)) for axis in zip(*spots, strict=True)]
    reach = max(*(high - low for low, high in ends), 20.0)
    scale = rounded(reach / (SHARE_ROOM * FIELD / 1e3), up=True, among=SCALES)
    (west, right), (south, top) = ends
    return Frame(scale=scale, middle=((west + right) / 2.0, (south + top) / 2.0))


def squares(sheet: SearchSheet, frame: Frame, inks: Inks) -> tuple[str, str]:
    """Return lines north and east through round metres (or feet), and how far they are apart."""
    unit, name = (0.3048, "ft") if sheet.imperial else (1.0, "m")
    step = rounded(frame.scale * 0.018 / unit, up=True) * unit
    half = frame.scale * FIELD / 2e3
    drawn = []
    for axis in (0, 1):
        first = math.ceil((frame.middle[axis] - half) / step)
        last = math.floor((frame.middle[axis] + half) / step)
        for place in range(first, last + 1):
            ends = [
                (place * step, frame.middle[1] + s * half)
                if axis == 0
                else (frame.middle[0] + s * half, place * step)
                for s in (-1.0, 1.0)
            ]
            bold = place % 5 == 0
            drawn.append(
                line(
                    frame.at(ends[0]),
                    frame.at(ends[1]),
                    stroke=inks.coarse if bold else inks.fine,
                    stroke_width=0.35 if bold else 0.25,
                )
            )
    return group(drawn, class_="squares"), f"{step / unit:g} {name}"


def outline(patches: Sequence[Patch], frame: Frame) -> str:
    """Return the path of an area with its holes."""
    rings = [ring for patch in patches for ring in (patch.edge, *patch.holes)]
    return " ".join(
        "M" + " L".join(f"{number(x)},{number(y)}" for x, y in map(frame.at, ring)) + " Z"
        for ring in rings
    )


def areas(sheet: SearchSheet, frame: Frame, inks: Inks) -> str:
    """Return both areas: the outer dashed and widely hatched, the inner bold and closely."""
    drawn = []
    for kind, patches, pen, dash in (
        ("outer", sheet.outer, 0.5, "2.6 1.4"),
        ("inner", sheet.inner, 0.9, None),
    ):
        drawn.append(
            element(
                "path",
                d=outline(patches, frame),
                class_=kind,
                fill=f"url(#{kind})",
                fill_rule="evenodd",
                stroke=inks.ink,
                stroke_width=pen,
                stroke_dasharray=dash,
                stroke_linejoin="round",
            )
        )
    return group(drawn, class_="areas")


def share_words(sheet: SearchSheet, frame: Frame, inks: Inks) -> str:
    """Return what each area holds: over the top of the outer, under the foot of the inner."""
    drawn = []
    for told, patches, side, away in (
        ("90 %", sheet.outer, 1.0, -1.4),
        ("50 %", sheet.inner, -1.0, 1.2 * SIZE),
    ):
        spots = [spot for patch in patches for spot in patch.edge]
        x, y = frame.at(max(spots, key=lambda spot: side * spot[1]))
        level = min(max(y + away, HEAD + SIZE), HEAD + FIELD - 1.0)
        drawn.append(words(told, (x, level), inks, text_anchor="middle"))
    return group(drawn, class_="shares")


def path_of(sheet: SearchSheet, frame: Frame, inks: Inks) -> str:
    """Return the last of the path, with an arrow at the last fix."""
    pen: Pen = {"fill": "none", "stroke": inks.ink, "stroke_width": 0.5}
    drawn = [
        element(
            "polyline",
            points=" ".join(f"{number(x)},{number(y)}" for x, y in map(frame.at, piece)),
            **pen,
        )
        for piece in sheet.track
        if len(piece) > 1
    ]
    if sheet.course is not None:
        drawn.append(arrow(frame.at((0.0, 0.0)), sheet.course, 9.0, inks))
    return group(drawn, class_="track")


def walk_of(sheet: SearchSheet, frame: Frame, inks: Inks) -> str:
    """Return the stops as dots along their way, each fifth with its number."""
    spots = [frame.at(spot) for spot in sheet.stops]
    way = element(
        "polyline",
        points=" ".join(f"{number(x)},{number(y)}" for x, y in spots),
        fill="none",
        stroke=inks.soft,
        stroke_width=0.3,
        stroke_dasharray="0.5 1",
    )
    dots = [element("circle", cx=x, cy=y, r=0.55, fill=inks.soft) for x, y in spots[1:]]
    told = [
        words(f"{place}", (x + 0.9, y - 0.7), inks, 2.4)
        for place, (x, y) in enumerate(spots, start=1)
        if place % 5 == 0
    ]
    return group([way, *dots, *told], class_="walk")


def inside(spot: Spot) -> bool:
    """Return whether a spot of the sheet lies in the field."""
    left = (WIDE - FIELD) / 2.0
    return left < spot[0] < left + FIELD and HEAD < spot[1] < HEAD + FIELD


def bar(sheet: SearchSheet, frame: Frame, inks: Inks) -> str:
    """Return the scale bar at the foot, in metres or feet."""
    unit, name = (0.3048, "ft") if sheet.imperial else (1.0, "m")
    length = rounded(frame.scale * 0.05 / unit, up=False)
    wide = length * unit * 1e3 / frame.scale
    left, y = (WIDE - FIELD) / 2.0, HEAD + FIELD + 6.0
    halves = [
        box(
            (left + k * wide / 2.0, y),
            (wide / 2.0, 1.6),
            fill=inks.ink if k == 0 else inks.paper,
            stroke=inks.ink,
            stroke_width=0.3,
        )
        for k in (0, 1)
    ]
    told = words(f"{length:g} {name}", (left + wide + 2.0, y + 1.9), inks)
    return group([*halves, told], class_="bar", data_length=f"{number(wide)}")


def compass(sheet: SearchSheet, inks: Inks) -> str:
    """Return the arrow to the north, and the wind's."""
    x, y = WIDE - MARGIN - 4.0, HEAD - 5.0
    drawn = [arrow((x, y + 2.0), 0.0, 11.0, inks), words("N", (x + 1.6, y - 6.0), inks)]
    if sheet.wind is not None:
        bearing, told = sheet.wind
        middle = (x - 14.0, y - 3.5)
        turn = math.radians(bearing)
        tail = (middle[0] - 5.5 * math.sin(turn), middle[1] + 5.5 * math.cos(turn))
        drawn += [
            arrow(tail, bearing, 11.0, inks),
            words(told, (middle[0] - 8.0, y - 2.4), inks, 2.8, text_anchor="end"),
        ]
    return group(drawn, class_="compass")


def key(sheet: SearchSheet, frame: Frame, apart: str, inks: Inks) -> str:
    """Return what the marks mean."""
    left, y = (WIDE - FIELD) / 2.0, HEAD + FIELD + 14.0
    rows = (
        (likely_mark, "most likely place"),
        (fix_mark, "last fix" if sheet.course is None else "last fix, the arrow its course"),
        *(() if sheet.start is None else ((start_mark, "first fix"),)),
    )
    drawn = []
    for place, (mark, told) in enumerate(rows):
        at = (left + 3.0, y + 6.0 * place)
        drawn += [mark(at, inks), words(told, (left + 8.0, at[1] + 1.1), inks)]
    rules = (
        *sheet.told,
        f"dots: a way to search, likely places first; squares of {apart}; 1 : {frame.scale:,.0f}",
    )
    drawn += [
        words(row, (left + 68.0, y + 1.1 + 6.0 * place), inks) for place, row in enumerate(rules)
    ]
    return group(drawn, class_="key")


def title(sheet: SearchSheet, inks: Inks) -> str:
    """Return what the sheet shows, in the upper left corner."""
    left = (WIDE - FIELD) / 2.0
    head = text(
        tame(sheet.title),
        (left, 10.0),
        5.4,
        font_family="serif",
        font_weight="bold",
        fill=inks.ink,
    )
    notes = [words(note, (left, 15.5 + 4.4 * row), inks) for row, note in enumerate(sheet.notes)]
    return group([head, *notes], class_="title")


def field(sheet: SearchSheet, frame: Frame, inks: Inks, grid: str) -> str:
    """Return everything on the squares, cut off at their edge."""
    first = () if sheet.start is None else ((start_mark, frame.at(sheet.start)),)
    marks = (
        *first,
        (fix_mark, frame.at((0.0, 0.0))),
        (likely_mark, frame.at(sheet.likely)),
    )
    drawn = [
        grid,
        areas(sheet, frame, inks),
        walk_of(sheet, frame, inks),
        path_of(sheet, frame, inks),
        share_words(sheet, frame, inks),
        *(mark(at, inks) for mark, at in marks if inside(at)),
    ]
    return group(drawn, clip_path="url(#field)")


def drawing(sheet: SearchSheet, inks: Inks = LIGHT) -> str:
    """Return the sheet as SVG, one unit a millimetre."""
    frame = frame_of(sheet)
    tall = HEAD + FIELD + FOOT
    grid, apart = squares(sheet, frame, inks)
    edge = ((WIDE - FIELD) / 2.0, HEAD), (FIELD, FIELD)
    content = [
        element("clipPath", box(*edge), id="field"),
        pattern("outer", 3.6, 45.0, inks),
        pattern("inner", 1.5, -45.0, inks),
        box((0.0, 0.0), (WIDE, tall), fill=inks.paper),
        field(sheet, frame, inks, grid),
        box(*edge, fill="none", stroke=inks.soft, stroke_width=0.4),
        title(sheet, inks),
        compass(sheet, inks),
        bar(sheet, frame, inks),
        key(sheet, frame, apart, inks),
    ]
    return (
        element(
            "svg",
            "\n".join(content),
            xmlns="http://www.w3.org/2000/svg",
            width=f"{number(WIDE)}mm",
            height=f"{number(tall)}mm",
            viewBox=f"0 0 {number(WIDE)} {number(tall)}",
            font_family="sans-serif",
        )
        + "\n"
    )

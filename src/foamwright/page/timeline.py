"""A flight along its time: a line for each kind of flying, holes left open; and the wind.

Places along the time are shares of the width, so words keep their size on a phone and on paper.
"""

from collections.abc import Sequence

from foamwright.debrief.outcome import Segment
from foamwright.debrief.recording import Gap
from foamwright.page.bands import round_step
from foamwright.paper.svg import element, group, number
from foamwright.quantity import show

ROW, BAR, HEAD = 40.0, 12.0, 20.0
"""Height of a line, of a stretch on it, of the words above it [px]."""

LEAST = 0.35
"""Least width of a stretch, as a share of a hundred: a shorter one is still seen."""

TICKS = 5
"""Marks of time, about."""

NEAR_END = 97.0
"""Hundredths of the width from which a number is set before its mark."""

POINTS = (
    *("north", "north-east", "east", "south-east"),
    *("south", "south-west", "west", "north-west"),
)
"""Where a wind can come from, clockwise."""


def place(time: float, span: tuple[float, float]) -> float:
    """Return where a time lies, in hundredths of the width."""
    start, end = span
    return 100.0 * min(max((time - start) / max(end - start, 1e-9), 0.0), 1.0)


def stretch(part: Segment | Gap, span: tuple[float, float], top: float, kind: str) -> str:
    """Return one stretch of time as a box."""
    start, end = place(part.start, span), place(part.end, span)
    return element(
        "rect",
        x=f"{number(start)}%",
        y=top,
        width=f"{number(max(end - start, LEAST))}%",
        height=BAR,
        class_=kind,
    )


def total(parts: Sequence[Segment]) -> float:
    """Return how long some stretches lasted together [s]."""
    return sum(part.end - part.start for part in parts)


def by_kind(segments: Sequence[Segment]) -> dict[str, list[Segment]]:
    """Return stretches by their kind, in the order in which each kind was first flown."""
    found: dict[str, list[Segment]] = {}
    for segment in segments:
        found.setdefault(segment.kind, []).append(segment)
    return found


def lines(segments: Sequence[Segment], span: tuple[float, float]) -> list[str]:
    """Return a line for each kind of flying, its words above it."""
    drawn = []
    for row, (kind, parts) in enumerate(by_kind(segments).items()):
        top = row * ROW
        words = f"{kind}, {show(total(parts), 'time')}"
        drawn.append(element("text", words, x="0", y=top + HEAD - 5.0, class_="words"))
        middle = top + HEAD + BAR / 2
        drawn.append(element("line", x1="0", x2="100%", y1=middle, y2=middle, class_="axis"))
        drawn += [stretch(part, span, top + HEAD, "stretch") for part in parts]
    return drawn


def clock(span: tuple[float, float], top: float) -> list[str]:
    """Return marks of time below the lines, in seconds as the figures name their stretches."""
    step = round_step((span[1] - span[0]) / TICKS)
    drawn, count = [], 0
    while span[0] + count * step <= span[1]:
        share = place(span[0] + count * step, span)
        x = f"{number(share)}%"
        told = f"{count * step:g}" if count else "0 s"
        anchor = "end" if share > NEAR_END else "middle" if count else "start"
        drawn += [
            element("line", x1=x, x2=x, y1=top, y2=top + 4.0, class_="tick"),
            element("text", told, x=x, y=top + 16.0, class_="number", text_anchor=anchor),
        ]
        count += 1
    return drawn


def timeline(segments: Sequence[Segment], gaps: Sequence[Gap], span: tuple[float, float]) -> str:
    """Return a flight as lines along its time; empty where it has no segments."""
    if not segments or span[1] <= span[0]:
        return ""
    top = ROW * len(by_kind(segments))
    drawn = lines(segments, span)
    if gaps:
        words = "nothing recorded"
        drawn.append(element("text", words, x="0", y=top + HEAD - 5.0, class_="words"))
        drawn += [stretch(gap, span, top + HEAD, "hole") for gap in gaps]
        top += ROW
    drawn += clock(span, top)
    return element(
        "svg",
        group(drawn),
        width="100%",
        height=top + 20.0,
        class_="timeline",
        aria_hidden="true",
        focusable="false",
    )


def point(from_deg: float) -> str:
    """Return where a wind comes from in a word."""
    return POINTS[round(from_deg / 45.0) % len(POINTS)]


def wind_arrow(from_deg: float) -> str:
    """Return an arrow the way the wind blows, north up; the words beside it say the same."""
    arrow = [
        element("line", x1=0.0, y1=-15.0, x2=0.0, y2=13.0, class_="shaft"),
        element("path", d="M-5 6L0 15L5 6", class_="shaft"),
    ]
    north = [
        element("line", x1=0.0, y1=-24.0, x2=0.0, y2=-19.0, class_="tick"),
        element("text", "N", x=4.0, y=-16.0, class_="number"),
    ]
    return element(
        "svg",
        group(north) + group(arrow, transform=f"rotate({number(from_deg)})"),
        viewBox="-26 -26 52 52",
        class_="wind",
        aria_hidden="true",
        focusable="false",
    )

"""Pieces of SVG as text: everything a user wrote is escaped here and nowhere else."""

import unicodedata
from collections.abc import Iterable, Sequence
from xml.sax.saxutils import escape, quoteattr

Spot = tuple[float, float]
"""A point on the paper [mm], y down."""

Pen = dict[str, str | float | None]
"""Attributes that several elements share."""

INK, SOFT, PAPER, BOX = "#22303c", "#5b6670", "#fffdf6", "#e4ebf3"
FINE, COARSE = "#f0eadb", "#e2d8c2"
"""Ink, softer ink, paper, the face of a box, squares of 10 and of 50 mm."""

WIDE = 0.62
"""Width of a letter of a plain sans-serif face over its size, with some room."""

CUT = 30
"""Most letters of a name on a drawing."""

FORBIDDEN = {"Cc", "Cs", "Cf", "Co", "Cn"}
"""Categories of signs that XML cannot hold or that nobody can see."""


def number(value: float) -> str:
    """Return a length with at most two decimals."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def tame(text: str) -> str:
    """Return a text without signs that act instead of showing, shortened to fit a drawing."""
    seen = "".join(" " if unicodedata.category(sign) in FORBIDDEN else sign for sign in text)
    return seen if len(seen) <= CUT else f"{seen[: CUT - 1]}…"


def width_of(text: str, size: float) -> float:
    """Return how wide a text is set [mm], a little too wide rather than too narrow."""
    return size * sum(1.05 if unicodedata.east_asian_width(s) in "WF" else WIDE for s in text)


def element(name: str, content: str = "", /, **attributes: str | float | None) -> str:
    """Return an element; attribute names have `_` for `-` and a trailing one is dropped."""
    told = "".join(
        f" {key.rstrip('_').replace('_', '-')}="
        + quoteattr(value if isinstance(value, str) else number(value))
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{told}>{content}</{name}>" if content else f"<{name}{told}/>"


def group(content: Iterable[str], **attributes: str | float | None) -> str:
    """Return elements in a group."""
    return element("g", "\n".join(content) or "<!-- -->", **attributes)


def line(start: Spot, end: Spot, **attributes: str | float | None) -> str:
    """Return a straight line."""
    return element("line", x1=start[0], y1=start[1], x2=end[0], y2=end[1], **attributes)


def polygon(spots: Sequence[Spot], **attributes: str | float | None) -> str:
    """Return a closed outline."""
    points = " ".join(f"{number(x)},{number(y)}" for x, y in spots)
    return element("polygon", points=points, **attributes)


def box(corner: Spot, size: Spot, **attributes: str | float | None) -> str:
    """Return a rectangle from its upper left corner."""
    return element("rect", x=corner[0], y=corner[1], width=size[0], height=size[1], **attributes)


def text(words: str, at: Spot, size: float, **attributes: str | float | None) -> str:
    """Return words at a spot, escaped."""
    return element("text", escape(words), x=at[0], y=at[1], font_size=size, **attributes)


def hatch(name: str, gap: float, turn: float) -> str:
    """Return a pattern of parallel lines, so that an area is told without colour."""
    stroke = line((0.0, 0.0), (0.0, gap), stroke=INK, stroke_width=gap / 5)
    return element(
        "pattern",
        stroke,
        id=name,
        width=gap,
        height=gap,
        patternUnits="userSpaceOnUse",
        patternTransform=f"rotate({number(turn)})",
    )

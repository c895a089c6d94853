"""Inks and marks of the drawing of a search area."""

import math
from dataclasses import dataclass

from foamwright.paper.svg import (
    COARSE,
    FINE,
    INK,
    PAPER,
    SOFT,
    Spot,
    element,
    group,
    line,
    number,
    polygon,
    text,
)

SIZE = 3.2
"""Of the letters [mm]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Inks:
    """Colours of a sheet."""

    ink: str
    soft: str
    paper: str
    fine: str
    coarse: str


LIGHT = Inks(ink=INK, soft=SOFT, paper=PAPER, fine=FINE, coarse=COARSE)
DARK = Inks(ink="#e6e2d6", soft="#aab3b9", paper="#20262b", fine="#272e34", coarse="#3b464e")
"""On paper, and on a dark screen."""


def words(told: str, at: Spot, inks: Inks, size: float = SIZE, **more: str | float | None) -> str:
    """Return words that stay readable across a line."""
    return text(
        told,
        at,
        size,
        fill=inks.ink,
        stroke=inks.paper,
        stroke_width=0.3 * size,
        stroke_linejoin="round",
        paint_order="stroke",
        **more,
    )


def arrow(start: Spot, bearing: float, length: float, inks: Inks) -> str:
    """Return an arrow from a spot along a bearing, clockwise from up [deg]."""
    turn = math.radians(bearing)
    ahead, right = (math.sin(turn), -math.cos(turn)), (math.cos(turn), math.sin(turn))
    tip = (start[0] + length * ahead[0], start[1] + length * ahead[1])
    back = (tip[0] - 2.4 * ahead[0], tip[1] - 2.4 * ahead[1])
    barbs = [(back[0] + s * 0.9 * right[0], back[1] + s * 0.9 * right[1]) for s in (1.0, -1.0)]
    return group(
        [
            line(start, back, stroke=inks.ink, stroke_width=0.5),
            polygon([tip, *barbs], fill=inks.ink, stroke=inks.ink, stroke_width=0.2),
        ]
    )


def fix_mark(at: Spot, inks: Inks) -> str:
    """Return the mark of the last fix: a ring with a dot."""
    return group(
        [
            element(
                "circle",
                cx=at[0],
                cy=at[1],
                r=1.7,
                fill=inks.paper,
                stroke=inks.ink,
                stroke_width=0.6,
            ),
            element("circle", cx=at[0], cy=at[1], r=0.6, fill=inks.ink),
        ],
        class_="last-fix",
    )


def likely_mark(at: Spot, inks: Inks) -> str:
    """Return the mark of the most likely place: a cross of two strokes on a light ground."""
    x, y = at
    drawn = [
        line(
            (x - 2.4, y + s * 2.4),
            (x + 2.4, y - s * 2.4),
            stroke=ink,
            stroke_width=wide,
            stroke_linecap="round",
        )
        for ink, wide in ((inks.paper, 2.6), (inks.ink, 1.2))
        for s in (1.0, -1.0)
    ]
    return group(drawn, class_="likely")


def start_mark(at: Spot, inks: Inks) -> str:
    """Return the mark of the first fix: an open triangle."""
    x, y = at
    corners = [(x, y - 2.2), (x + 2.0, y + 1.4), (x - 2.0, y + 1.4)]
    return group(
        [polygon(corners, fill=inks.paper, stroke=inks.ink, stroke_width=0.6)], class_="first-fix"
    )


def pattern(name: str, gap: float, turn: float, inks: Inks) -> str:
    """Return a hatching, so that the areas differ without colour."""
    stroke = line((0.0, 0.0), (0.0, gap), stroke=inks.soft, stroke_width=0.22)
    return element(
        "pattern",
        stroke,
        id=name,
        width=gap,
        height=gap,
        patternUnits="userSpaceOnUse",
        patternTransform=f"rotate({number(turn)})",
    )

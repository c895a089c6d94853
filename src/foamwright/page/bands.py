"""Band charts and the marks of verdicts, as small SVG that prints at any size.

No meaning hangs on a colour: each verdict has a shape, what is wanted has ends and hatching.
"""

from dataclasses import dataclass

from foamwright.paper.svg import box, element, group, line, number
from foamwright.quantity import digits, in_units
from foamwright.questions.answer import Figure, Verdict

WIDE = 400.0
"""Width of a chart in its own units."""

MARGIN = 0.08
"""Room left and right, as a share of what is drawn."""

TICKS = 5
"""Marks of the scale, about."""

SHAPES: dict[Verdict, tuple[str, ...]] = {
    "yes": ("M3 3H17V17H3Z",),
    "likely": ("M3 3H17V17H3Z", "M3 3H10V17H3Z"),
    "unsure": ("M10 2L18 10L10 18L2 10Z", "M2 10H18"),
    "unlikely": ("M10 3L18 17H2Z", "M10 8V12M10 14V15"),
    "no": ("M3 3L17 17M17 3L3 17", ""),
    "open": ("M10 2A8 8 0 1 1 9.9 2Z", ""),
}
"""The outline of each verdict, and what is inked in it."""


def mark(verdict: Verdict) -> str:
    """Return the mark of a verdict; the word beside it says the same."""
    outline, *inner = SHAPES[verdict]
    drawn = [element("path", d=outline, class_="outline")]
    drawn += [element("path", d=path, class_="inner") for path in inner if path]
    return element(
        "svg",
        "".join(drawn),
        viewBox="0 0 20 20",
        class_=f"mark {verdict}",
        aria_hidden="true",
        focusable="false",
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class Scale:
    """Turns a value into a place."""

    start: float
    reach: float

    def at(self, value: float) -> float:
        """Return the place of a value, the nearest end for one beyond it."""
        share = (value - self.start) / self.reach
        return WIDE * min(max(share, 0.0), 1.0)


def scale_of(figure: Figure) -> Scale:
    """Return a scale that the band and the limits of a figure fit on."""
    ends = (figure.value, figure.low, figure.high, figure.limit_low, figure.limit_high)
    known = [value for value in ends if value is not None]
    low, high = min(known), max(known)
    room = (high - low) * MARGIN or abs(high) * MARGIN or 1.0
    return Scale(start=low - room, reach=high - low + 2.0 * room)


def wanted(figure: Figure, scale: Scale, tall: float) -> list[str]:
    """Return where the figure is wanted: a tinted strip with a bracket at each end."""
    if figure.limit_low is None and figure.limit_high is None:
        return []
    start = 0.0 if figure.limit_low is None else scale.at(figure.limit_low)
    stop = WIDE if figure.limit_high is None else scale.at(figure.limit_high)
    drawn = [box((start, 0.0), (max(stop - start, 0.0), tall), class_="wanted")]
    for limit, end, turn in ((figure.limit_low, start, 5.0), (figure.limit_high, stop, -5.0)):
        if limit is not None:
            path = f"M{end + turn:.1f} 0H{end:.1f}V{tall:.1f}H{end + turn:.1f}"
            drawn.append(element("path", d=path, class_="limit"))
    return drawn


def band(figure: Figure, units: str, currency: str, *, ticks: bool = False) -> str:
    """Return a figure as a chart: the bar holds eight planes in ten, the notch the middle one."""
    if figure.value is None or figure.low is None or figure.high is None:
        return ""
    scale, tall = scale_of(figure), 16.0
    low, high = scale.at(figure.low), scale.at(figure.high)
    middle = scale.at(figure.value)
    drawn = [
        line((0.0, tall / 2), (WIDE, tall / 2), class_="axis"),
        *wanted(figure, scale, tall),
        box((low, 4.0), (max(high - low, 2.0), tall - 8.0), class_="bar"),
        line((middle, 1.0), (middle, tall - 1.0), class_="middle"),
    ]
    if ticks:
        drawn += scale_marks(figure, scale, tall, (units, currency))
    return element(
        "svg",
        group(drawn),
        viewBox=f"0 0 {number(WIDE)} {number(tall + (18.0 if ticks else 0.0))}",
        preserveAspectRatio="xMidYMid" if ticks else "none",
        class_="band",
        aria_hidden="true",
        focusable="false",
    )


def scale_marks(figure: Figure, scale: Scale, tall: float, shown: tuple[str, str]) -> list[str]:
    """Return marks with numbers below a chart, at round values of the unit it is shown in."""
    units, currency = shown
    first, unit = in_units(scale.start, figure.dimension, units, currency)
    last, _ = in_units(scale.start + scale.reach, figure.dimension, units, currency)
    step = round_step((last - first) / TICKS)
    drawn, value = [], step * -(-first // step)
    while value <= last:
        x = WIDE * (value - first) / (last - first)
        drawn.append(line((x, tall), (x, tall + 4.0), class_="tick"))
        told = f"{digits(value) if abs(value) > step * 1e-6 else '0'}"
        drawn.append(
            element("text", tidy(told), x=x, y=tall + 15.0, class_="number", text_anchor="middle")
        )
        value += step
    return [*drawn, element("desc", unit or "number")]


def tidy(told: str) -> str:
    """Return a number without idle zeros behind its point."""
    return told.rstrip("0").rstrip(".") if "." in told else told


def round_step(rough: float) -> float:
    """Return the round step next above a rough one: 1, 2 or 5 times a power of ten."""
    power = 1.0
    while power > rough:
        power /= 10.0
    while power * 10.0 <= rough:
        power *= 10.0
    return next(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power >= rough)


def two_bands(before: tuple[float, float, float], after: tuple[float, float, float]) -> str:
    """Return what was believed above what is believed now, on one scale: low, middle, high."""
    low, high = min(before[0], after[0]), max(before[2], after[2])
    room = (high - low) * MARGIN or abs(high) * MARGIN or 1.0
    scale = Scale(start=low - room, reach=high - low + 2.0 * room)
    drawn = []
    for (start, middle, stop), top, kind in ((before, 2.0, "was"), (after, 13.0, "bar")):
        left, right = scale.at(start), scale.at(stop)
        drawn.append(box((left, top), (max(right - left, 2.0), 7.0), class_=kind))
        x = scale.at(middle)
        drawn.append(line((x, top - 1.0), (x, top + 8.0), class_=f"middle of-{kind}"))
    return element(
        "svg",
        group(drawn),
        viewBox=f"0 0 {number(WIDE)} 22",
        preserveAspectRatio="none",
        class_="band two",
        aria_hidden="true",
        focusable="false",
    )

"""Charts as pictures: one specification, drawn without a browser.

Black and white on purpose: lines differ in their dashes, cells carry their number.
"""

import json
from collections.abc import Mapping
from typing import Any

from foamwright.quantity import in_units
from foamwright.questions.chart import Axis, Chart, Curve

DASHES = ([1, 0], [6, 3], [2, 2], [8, 3, 2, 3])
"""How the lines of one chart differ."""

WIDTH, HEIGHT = 520, 240
"""Of the whole picture, and of the drawn field [px]."""

STEP = 34
"""Of one row of a list [px]."""

INK = {"light": ("#1d1d1b", "#c9c6bd", "#6d6a62"), "dark": ("#eeeae0", "#4a4841", "#a39f94")}
"""Lines, grid and quiet words, on light and on dark paper."""


def shown(value: float | None, axis: Axis, units: str) -> float | None:
    """Return an SI value in the unit its axis is shown in."""
    if value is None:
        return None
    return in_units(value, axis.dimension, units)[0]


def title_of(axis: Axis, units: str, values: list[float]) -> str:
    """Return the words of an axis with its unit."""
    unit = in_units(max(values, key=abs, default=1.0), axis.dimension, units)[1]
    return axis.label if unit in ("", "-") else f"{axis.label}, {unit}"


def rows(chart: Chart, curve: Curve, units: str) -> list[dict[str, Any]]:
    """Return a line as rows of data."""
    empty = (None,) * len(curve.x)
    return [
        {
            "curve": curve.name,
            "x": shown(x, chart.x, units),
            "y": shown(y, chart.y, units),
            "low": shown(low, chart.y, units),
            "high": shown(high, chart.y, units),
        }
        for x, y, low, high in zip(
            curve.x, curve.y, curve.low or empty, curve.high or empty, strict=True
        )
    ]


def line_layers(chart: Chart, units: str, ink: tuple[str, str, str]) -> list[dict[str, Any]]:
    """Return the layers of a chart of lines: bands, lines."""
    data = [row for curve in chart.curves for row in rows(chart, curve, units)]
    xs = [x for curve in chart.curves for x in curve.x]
    ys = [y for curve in chart.curves for y in curve.y if y is not None]
    across: dict[str, Any] = {
        "field": "x",
        "type": "quantitative",
        "title": title_of(chart.x, units, xs),
    }
    across["scale"] = {"zero": False, "nice": True}
    up = {"type": "quantitative", "title": title_of(chart.y, units, ys)}
    names = [curve.name for curve in chart.curves]
    several = len(names) > 1
    legend = {"orient": "bottom", "title": None, "symbolSize": 600} if several else None
    dash = {
        "field": "curve",
        "type": "nominal",
        "scale": {"domain": names, "range": list(DASHES[: len(names)])},
        "legend": legend,
    }
    plain: dict[str, Any] = {"values": data}
    return [
        {
            "data": plain,
            "transform": [{"filter": "isValid(datum.low) && isValid(datum.high)"}],
            "mark": {"type": "area", "color": ink[0], "opacity": 0.15},
            "encoding": {
                "x": across,
                "y": {**up, "field": "low"},
                "y2": {"field": "high"},
                "detail": {"field": "curve"},
            },
        },
        {
            "data": plain,
            "transform": [{"filter": "isValid(datum.y)"}],
            "mark": {"type": "line", "color": ink[0], "strokeWidth": 2},
            "encoding": {"x": across, "y": {**up, "field": "y"}, "strokeDash": dash},
        },
    ]


def table_layers(chart: Chart, units: str, ink: tuple[str, str, str]) -> list[dict[str, Any]]:
    """Return the layers of a table of chances: cells, and the number in each."""
    data = [
        {
            "x": f"{shown(x, chart.x, units):.3g}",
            "y": f"{shown(y, chart.y, units):.3g}",
            "chance": round(100.0 * value),
        }
        for y, row in zip(chart.up, chart.chances, strict=True)
        for x, value in zip(chart.across, row, strict=True)
    ]
    across = {
        "field": "x",
        "type": "ordinal",
        "sort": None,
        "title": title_of(chart.x, units, list(chart.across)),
        "axis": {"labelAngle": 0},
    }
    up = {
        "field": "y",
        "type": "ordinal",
        "sort": [f"{shown(y, chart.y, units):.3g}" for y in reversed(chart.up)],
        "title": title_of(chart.y, units, list(chart.up)),
    }
    shade = {
        "field": "chance",
        "type": "quantitative",
        "scale": {"domain": [0, 100], "range": ["#ffffff", "#8d8a82"]},
        "legend": None,
    }
    values: dict[str, Any] = {"values": data}
    return [
        {
            "data": values,
            "mark": {"type": "rect", "stroke": ink[1]},
            "encoding": {"x": across, "y": up, "color": shade},
        },
        {
            "data": values,
            "mark": {"type": "text", "color": "#1d1d1b", "fontSize": 12},
            "encoding": {
                "x": across,
                "y": up,
                "text": {"field": "chance", "type": "quantitative"},
            },
        },
    ]


def list_layers(chart: Chart, units: str, ink: tuple[str, str, str]) -> list[dict[str, Any]]:
    """Return the layers of a list: what was expected, the value's band, the value."""
    data = []
    for row in chart.rows:
        before = (None, None) if row.expected is None else row.expected
        ends = zip(("from", "to"), before, strict=True)
        data.append(
            {
                "row": row.label,
                "value": shown(row.value, chart.x, units),
                "low": shown(row.low, chart.x, units),
                "high": shown(row.high, chart.x, units),
                **{end: shown(value, chart.x, units) for end, value in ends},
            }
        )
    across: dict[str, Any] = {
        "type": "quantitative",
        "title": title_of(chart.x, units, [row.value for row in chart.rows]),
        "scale": {"zero": False, "nice": True},
    }
    # Long words are broken by hand: the grammar cuts what does not fit.
    down = {
        "field": "row",
        "type": "ordinal",
        "sort": None,
        "title": None,
        "axis": {"labelLimit": 300, "labelExpr": "split(datum.label, '\\n')"},
    }
    plain: dict[str, Any] = {"values": data}
    band = {"y": down, "x": {**across, "field": "from"}, "x2": {"field": "to"}}
    own = {"y": down, "x": {**across, "field": "low"}, "x2": {"field": "high"}}
    return [
        {
            "data": plain,
            "transform": [{"filter": "isValid(datum.from) && isValid(datum.to)"}],
            "mark": {"type": "bar", "color": ink[0], "opacity": 0.18, "height": 14},
            "encoding": band,
        },
        {
            "data": plain,
            "mark": {"type": "rule", "color": ink[0], "strokeWidth": 2},
            "encoding": own,
        },
        {
            "data": plain,
            "mark": {"type": "point", "color": ink[0], "filled": True, "size": 60, "opacity": 1},
            "encoding": {"y": down, "x": {**across, "field": "value"}},
        },
    ]


def mark_layers(chart: Chart, units: str, ink: tuple[str, str, str]) -> list[dict[str, Any]]:
    """Return the layers of the marks: a line across or up with its word."""
    layers: list[dict[str, Any]] = []
    uprights = 0
    for mark in chart.marks:
        upright = mark.x is not None and mark.y is None
        axis = "x" if upright else "y"
        value = shown(mark.x, chart.x, units) if upright else shown(mark.y, chart.y, units)
        data = {"values": [{axis: value, "word": mark.label}]}
        place = {axis: {"field": axis, "type": "quantitative"}}
        layers.append(
            {
                "data": data,
                "mark": {"type": "rule", "color": ink[2], "strokeDash": [3, 3]},
                "encoding": place,
            }
        )
        # Words of neighbouring lines stand one under the other.
        side = {"align": "left", "dx": 4, "y": 8 + 14 * uprights}
        if not upright:
            side = {"align": "left", "dy": -6, "x": 4}
        uprights += upright
        layers.append(
            {
                "data": data,
                "mark": {"type": "text", "color": ink[2], "fontSize": 11, **side},
                "encoding": {**place, "text": {"field": "word"}},
            }
        )
    return layers


def specification(
    chart: Chart, units: str = "metric", paper: str = "light", width: int = WIDTH
) -> Mapping[str, object]:
    """Return a chart in the grammar of Vega-Lite 5."""
    ink = INK[paper]
    if chart.chances:
        layers = table_layers(chart, units, ink)
    else:
        draw = list_layers if chart.rows else line_layers
        layers = draw(chart, units, ink) + mark_layers(chart, units, ink)
    words = {"labelColor": ink[0], "titleColor": ink[0], "labelFontSize": 11, "titleFontSize": 12}
    return {
        "$schema": "https://vega.github.io/schema/vega-lite/v5.json",
        "title": {"text": chart.title, "anchor": "start", "color": ink[0], "fontSize": 14},
        "width": width,
        "autosize": {"type": "fit-x", "contains": "padding"},
        "height": {"step": STEP} if chart.rows else HEIGHT,
        "background": "transparent",
        "layer": layers,
        "config": {
            "font": "sans-serif",
            "axis": {**words, "gridColor": ink[1], "domainColor": ink[0], "tickColor": ink[0]},
            "legend": {"labelColor": ink[0], "labelFontSize": 12},
            "view": {"stroke": None},
        },
    }


def svg(chart: Chart, units: str = "metric", paper: str = "light", width: int = WIDTH) -> str:
    """Return a chart as SVG on light or dark paper, so wide [px]; the words in it are text."""
    import vl_convert  # noqa: PLC0415 - large, and only charts need it

    text = json.dumps(specification(chart, units, paper, width), allow_nan=False)
    found: str = vl_convert.vegalite_to_svg(text)
    return found

"""A chart as a table, for who would rather read numbers, or have them read out."""

from dataclasses import dataclass

from foamwright.quantity import show, show_band
from foamwright.questions.chart import Axis, Chart, Curve

NO_VALUE = "none"
"""Where most samples have no value."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Table:
    """Words in rows."""

    head: tuple[str, ...]
    """Over the columns; the first column names the rows."""
    rows: tuple[tuple[str, ...], ...]
    """As many words each as the head has."""


def table_of(chart: Chart, units: str = "metric") -> Table:
    """Return what a chart shows as a table in the units asked for."""
    if chart.chances:
        return chances(chart, units)
    return listed(chart, units) if chart.rows else lines(chart, units)


def words(value: float | None, axis: Axis, units: str) -> str:
    """Return a value with its unit."""
    return NO_VALUE if value is None else show(value, axis.dimension, units)


def chances(chart: Chart, units: str) -> Table:
    """Return a table of chances, the uppermost row first as in the picture."""
    rows = zip(reversed(chart.up), reversed(chart.chances), strict=True)
    return Table(
        head=(chart.y.label, *(words(place, chart.x, units) for place in chart.across)),
        rows=tuple(
            (words(place, chart.y, units), *(f"{chance:.0%}" for chance in row))
            for place, row in rows
        ),
    )


def listed(chart: Chart, units: str) -> Table:
    """Return a list with each value's band and the one that was expected."""
    return Table(
        head=("", "value", "eight in ten", "expected"),
        rows=tuple(
            (
                row.label.replace("\n", " "),
                words(row.value, chart.x, units),
                show_band(row.low, row.high, chart.x.dimension, units),
                "" if row.expected is None else show_band(*row.expected, chart.x.dimension, units),
            )
            for row in chart.rows
        ),
    )


def lines(chart: Chart, units: str) -> Table:
    """Return curves side by side; those drawn at other places have their own rows."""
    places = sorted({x for curve in chart.curves for x in curve.x})
    return Table(
        head=(chart.x.label, *(curve.name for curve in chart.curves)),
        rows=tuple(
            (
                words(place, chart.x, units),
                *(at(curve, place, chart.y, units) for curve in chart.curves),
            )
            for place in places
        ),
    )


def at(curve: Curve, place: float, axis: Axis, units: str) -> str:
    """Return a curve's value at one of its places, with its band."""
    if place not in curve.x:
        return ""
    index = curve.x.index(place)
    value = words(curve.y[index], axis, units)
    low = curve.low[index] if curve.low else None
    high = curve.high[index] if curve.high else None
    if low is None or high is None:
        return value
    return f"{value} ({show_band(low, high, axis.dimension, units)})"

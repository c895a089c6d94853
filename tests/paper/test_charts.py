"""Charts as pictures."""

import json
from xml.etree import ElementTree as ET

import pytest

from foamwright.paper import charts
from foamwright.questions.chart import Axis, Chart, Curve, Mark, Row

LINES = Chart(
    name="lines",
    title="Drag & thrust <of a plane>",
    x=Axis(label="speed", dimension="speed"),
    y=Axis(label="force", dimension="force"),
    curves=(
        Curve(name="drag", x=(10.0, 20.0), y=(1.0, None), low=(0.8, None), high=(1.2, None)),
        Curve(name="thrust", x=(10.0, 20.0), y=(2.0, 1.0)),
    ),
    marks=(Mark(label="top", x=15.0), Mark(label="most", y=1.5)),
)
TABLE = Chart(
    name="table",
    title="Chance",
    x=Axis(label="throttle", dimension="fraction"),
    y=Axis(label="angle", dimension="angle"),
    across=(0.5, 1.0),
    up=(0.0, 0.1, 0.2),
    chances=((0.0, 0.5), (0.25, 1.0), (0.33, 0.66)),
)

LIST = Chart(
    name="list",
    title="Read over planned",
    x=Axis(label="ratio", dimension="number"),
    y=Axis(label="", dimension="number"),
    rows=(
        Row(label="thrust & drag", value=1.1, low=1.0, high=1.2, expected=(0.8, 1.3)),
        Row(label="a name\nin two lines", value=0.5, low=0.0, high=0.5),
    ),
    marks=(Mark(label="", x=1.0),),
)


def words(svg: str) -> str:
    """Return all text of a picture."""
    return " ".join(" ".join(ET.fromstring(svg).itertext()).split())  # noqa: S314 - our own


@pytest.mark.parametrize("chart", [LINES, TABLE, LIST], ids=["lines", "table", "list"])
@pytest.mark.parametrize("paper", ["light", "dark"])
def test_a_chart_is_drawn_with_its_words(chart: Chart, paper: str) -> None:
    """Title and axes are text in a picture that parses, on both papers."""
    said = words(charts.svg(chart, "metric", paper))
    assert chart.title in said
    assert chart.x.label in said
    assert charts.INK[paper][0] in charts.svg(chart, "metric", paper)


def test_axes_are_in_the_units_asked_for() -> None:
    """10 m/s are 22 miles an hour."""
    assert "m/s" in words(charts.svg(LINES))
    assert "mph" in words(charts.svg(LINES, "imperial"))
    rows = charts.rows(LINES, LINES.curves[0], "imperial")
    assert rows[0]["x"] == pytest.approx(22.37, abs=0.01)


def test_what_has_no_value_is_left_out_and_never_a_number() -> None:
    """The specification is strict JSON."""
    text = json.dumps(charts.specification(LINES), allow_nan=False)
    assert '"y": null' in text


def test_every_cell_carries_its_number() -> None:
    """Grey alone says nothing in print."""
    said = words(charts.svg(TABLE)).split()
    assert {"0", "50", "25", "100", "33", "66"} <= set(said)


def test_lines_differ_without_colour() -> None:
    """Each by its dashes, named in a legend."""
    layers = charts.line_layers(LINES, "metric", charts.INK["light"])
    dashes = layers[1]["encoding"]["strokeDash"]
    assert dashes["scale"]["range"] == [[1, 0], [6, 3]]
    assert "thrust" in words(charts.svg(LINES))


def test_marks_carry_their_words() -> None:
    """An upright and a level line."""
    said = words(charts.svg(LINES))
    assert "top" in said
    assert "most" in said


def test_the_same_chart_gives_the_same_picture() -> None:
    """For version control, and for the page's memory."""
    assert charts.svg(LINES) == charts.svg(LINES)


def test_a_list_keeps_its_order_and_draws_no_band_where_nothing_was_expected() -> None:
    """Rows come from the top down; two lines of a name are two lines."""
    told = charts.specification(LIST)
    first = told["layer"][0]  # type: ignore[index]
    assert [row["row"] for row in first["data"]["values"]] == [row.label for row in LIST.rows]
    assert [row["from"] for row in first["data"]["values"]] == [0.8, None]
    said = words(charts.svg(LIST))
    assert said.index("thrust & drag") < said.index("a name")
    assert "a name in two lines" in said

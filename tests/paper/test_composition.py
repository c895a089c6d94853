"""The whole sheet, read back from its SVG."""

import re
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from foamwright.jobs.ask import Settings, opened
from foamwright.jobs.draw import sheet_of
from foamwright.paper.composition import drawing, layout
from foamwright.paper.labels import area, overlap
from foamwright.paper.marks import DASHES
from foamwright.paper.shapes import Sheet

EXAMPLES = Path(__file__).parents[2] / "examples"
SPANS = {"reedling": 800.0, "windrow": 600.0, "anvil": 460.0}
"""As written in the plane files [mm]."""
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module", params=SPANS)
def sheet(request: pytest.FixtureRequest) -> tuple[str, Sheet]:
    """Return an example's name and all that is on its drawing."""
    settings = Settings(samples=64)
    _, case = opened(EXAMPLES / request.param, settings)
    return request.param, sheet_of(case, settings)


def read(sheet: Sheet) -> ET.Element:
    """Return a drawing parsed by a library that is not ours."""
    return ET.fromstring(drawing(sheet))  # noqa: S314 - our own drawing


def groups(root: ET.Element, kind: str) -> list[ET.Element]:
    """Return the groups of a class."""
    return [g for g in root.iter(f"{SVG}g") if kind in (g.get("class") or "").split()]


def test_one_unit_is_one_millimetre(sheet: tuple[str, Sheet]) -> None:
    """Width and height in millimetres are those of the view box: true size, true aspect."""
    root = read(sheet[1])
    _, _, wide, tall = map(float, (root.get("viewBox") or "").split())
    assert root.get("width") == f"{wide:g}mm"
    assert root.get("height") == f"{tall:g}mm"


def test_the_span_measured_on_the_paper_is_the_planes(sheet: tuple[str, Sheet]) -> None:
    """From above along y, from the front along x; the dimension line is as long and says so."""
    name, found = sheet
    root = read(found)
    for kind, axis in (("foam-only", 1), ("front", 0)):
        points = [
            float(pair.split(",")[axis])
            for view in groups(root, kind)
            for polygon in view.iter(f"{SVG}polygon")
            for pair in (polygon.get("points") or "").split()
        ]
        assert max(points) - min(points) == pytest.approx(SPANS[name], abs=1.0)
    lines = [g for g in groups(root, "dimension") if "span" in "".join(t for t in g.itertext())]
    (span,) = lines
    first = span.find(f"{SVG}line")
    assert first is not None
    measured = float(first.get("y2") or 0) - float(first.get("y1") or 0)
    assert measured == pytest.approx(SPANS[name], abs=0.01)
    assert f"span {SPANS[name]:g} mm" in "".join(span.itertext())


def test_every_part_is_drawn_and_named(sheet: tuple[str, Sheet]) -> None:
    """In all three views, and with a label from above."""
    root = read(sheet[1])
    drawn = [g.get("data-part") for g in groups(root, "part")]
    words = ["".join(g.itertext()).strip() for g in groups(root, "label")]
    for part in sheet[1].parts:
        assert drawn.count(part.name) == 3
        assert part.name in words


def test_boxes_have_the_size_of_their_parts(sheet: tuple[str, Sheet]) -> None:
    """Measured from above: length by width, at their place."""
    root = read(sheet[1])
    (view,) = [v for v in groups(root, "top") if v.get("class") == "view top"]
    for part in sheet[1].parts:
        if part.size is None:
            continue
        (found,) = [g for g in groups(view, "part") if g.get("data-part") == part.name]
        box = found.find(f"{SVG}rect")
        assert box is not None
        x, y, wide, tall = (float(box.get(k) or 0) for k in ("x", "y", "width", "height"))
        assert (wide, tall) == pytest.approx(part.size[:2], abs=0.01)
        centre = (x + wide / 2, -(y + tall / 2))
        assert centre == pytest.approx(part.places[0][:2], abs=0.01)


def test_no_name_lies_on_another(sheet: tuple[str, Sheet]) -> None:
    """Boxes of words, with some air around them."""
    plan = layout(sheet[1])
    for first, second in combinations(plan.labels, 2):
        boxes = zip(area(first, plan.size), area(second, plan.size), strict=True)
        assert not all(overlap(a, b) for a, b in boxes), (first.words, second.words)


def test_everything_lies_on_the_sheet(sheet: tuple[str, Sheet]) -> None:
    """No label, row or dimension sticks out of the paper."""
    plan = layout(sheet[1])
    left, right = plan.corner[0], plan.corner[0] + plan.extent[0]
    for label in plan.labels:
        assert left < label.left < label.left + label.width < right
        assert plan.corner[1] < label.elbow[1] < plan.row
    assert plan.span_at < right


def test_nothing_is_told_by_colour(sheet: tuple[str, Sheet]) -> None:
    """Only inks, paper and squares, all of one hue; kinds of lines differ in dashes or pattern."""
    text = drawing(sheet[1])
    colours = set(re.findall(r"#[0-9a-f]{6}", text))
    assert colours <= {"#22303c", "#5b6670", "#fffdf6", "#e4ebf3", "#f0eadb", "#e2d8c2"}
    patterned = [DASHES[kind] for kind in ("balance", "neutral", "thrust", "sweep", "hinge")]
    assert len(set(patterned)) == len(patterned)
    root = read(sheet[1])
    bars = [g.find(f"{SVG}rect") for g in groups(root, "strip")]
    told = [(b.get("fill"), b.get("stroke-dasharray")) for b in bars if b is not None]
    assert len(set(told)) == len(told) == 3


def test_the_strip_has_balance_wanted_and_neutral_point(sheet: tuple[str, Sheet]) -> None:
    """Bars as wide as their bands, each with its numbers in words."""
    root = read(sheet[1])
    for strip in sheet[1].strips:
        (found,) = [g for g in groups(root, strip.kind) if "strip" in (g.get("class") or "")]
        assert strip.label in "".join(found.itertext())
        bar = found.find(f"{SVG}rect")
        if bar is not None:
            assert float(bar.get("x") or 0) == pytest.approx(strip.low, abs=0.01)
            assert float(bar.get("width") or 0) >= strip.high - strip.low - 0.01

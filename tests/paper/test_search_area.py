"""The search area, read back from its SVG."""

import dataclasses
import math
import re
from xml.etree import ElementTree as ET

import pytest

from foamwright.paper.search_area import (
    FIELD,
    HEAD,
    WIDE,
    Patch,
    SearchSheet,
    drawing,
    frame_of,
    rounded,
)

SVG = "{http://www.w3.org/2000/svg}"


def square(half: float, middle: tuple[float, float] = (0.0, 0.0)) -> Patch:
    """Return a square patch [m]."""
    x, y = middle
    corners = [
        (x - half, y - half),
        (x + half, y - half),
        (x + half, y + half),
        (x - half, y + half),
    ]
    return Patch(edge=(*corners, corners[0]))


def sheet(half: float = 200.0, *, imperial: bool = False) -> SearchSheet:
    """Return a sheet with an outer square and an inner one."""
    return SearchSheet(
        title="Where <Reedling> may lie",
        notes=("most likely 47.31000, 8.52000",),
        inner=(square(half / 4.0),),
        outer=(square(half),),
        track=(((-300.0, -80.0), (-150.0, -40.0), (0.0, 0.0)),),
        likely=(20.0, 30.0),
        start=(-100.0, -150.0),
        course=75.0,
        wind=(120.0, "wind 4.0 m/s"),
        stops=((20.0, 30.0), (50.0, 30.0), (50.0, 60.0), (20.0, 60.0), (-10.0, 60.0)),
        told=("50 %: half of the falls", "90 %: nine in ten"),
        imperial=imperial,
    )


def read(text: str) -> ET.Element:
    """Return a drawing parsed by a library that is not ours."""
    return ET.fromstring(text)  # noqa: S314 - our own drawing


def of_class(root: ET.Element, name: str) -> ET.Element:
    """Return the element of a class."""
    return next(one for one in root.iter() if one.get("class") == name)


def corners(path: ET.Element) -> list[tuple[float, float]]:
    """Return the corners of a path [mm]."""
    return [
        (float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", path.get("d") or "")
    ]


@pytest.mark.parametrize("half", [15.0, 200.0, 3300.0])
def test_an_area_measured_on_the_paper_is_the_areas(half: float) -> None:
    """By the scale that is printed, and it fits into the field."""
    root = read(drawing(sheet(half)))
    spots = corners(of_class(root, "outer"))
    wide = max(x for x, _ in spots) - min(x for x, _ in spots)
    told = next(t.text or "" for t in root.iter(f"{SVG}text") if "1 : " in (t.text or ""))
    scale = float(told.rpartition("1 : ")[2].replace(",", ""))
    assert wide / 1e3 * scale == pytest.approx(2.0 * half, rel=2e-3)
    left = (WIDE - FIELD) / 2.0
    assert all(left <= x <= left + FIELD and HEAD <= y <= HEAD + FIELD for x, y in spots)


@pytest.mark.parametrize(("imperial", "unit", "metres"), [(False, "m", 1.0), (True, "ft", 0.3048)])
def test_the_bar_is_as_long_as_it_says(unit: str, metres: float, *, imperial: bool) -> None:
    """In metres or in feet."""
    found = sheet(imperial=imperial)
    group = of_class(read(drawing(found)), "bar")
    told = next(group.iter(f"{SVG}text")).text or ""
    length, _, said = told.partition(" ")
    assert said == unit
    wide = sum(float(half.get("width") or 0.0) for half in group.iter(f"{SVG}rect"))
    assert wide / 1e3 * frame_of(found).scale == pytest.approx(float(length) * metres, rel=1e-3)


def test_the_key_says_what_the_areas_hold() -> None:
    """In the words it was given, beside what the marks mean."""
    group = of_class(read(drawing(sheet())), "key")
    words = [one.text or "" for one in group.iter(f"{SVG}text")]
    assert {"50 %: half of the falls", "90 %: nine in ten", "most likely place"} < set(words)


def test_north_is_up_and_east_is_right() -> None:
    """What lies north-east of the last fix stands above and to the right of it."""
    frame = frame_of(sheet())
    (x, y), (u, v) = frame.at((0.0, 0.0)), frame.at((100.0, 50.0))
    assert u > x
    assert v < y


def test_the_areas_differ_without_colour() -> None:
    """Dashes and hatchings of their own; a hole stays a hole."""
    hollow = Patch(edge=square(200.0).edge, holes=(square(50.0).edge,))
    root = read(drawing(dataclasses.replace(sheet(), outer=(hollow,))))
    inner, outer = of_class(root, "inner"), of_class(root, "outer")
    assert outer.get("stroke-dasharray")
    assert not inner.get("stroke-dasharray")
    assert inner.get("fill") != outer.get("fill")
    assert (outer.get("d") or "").count("M") == 2
    assert outer.get("fill-rule") == "evenodd"


def test_what_lies_outside_the_field_has_no_mark() -> None:
    """The first fix two kilometres away is left to the words."""
    far = dataclasses.replace(sheet(), start=(-2000.0, 0.0))
    near, away = read(drawing(sheet())), read(drawing(far))
    marks = [sum(g.get("class") == "first-fix" for g in root.iter()) for root in (near, away)]
    assert marks == [2, 1]


def test_what_is_not_known_is_not_drawn() -> None:
    """No course, no wind: no arrow of either; the one to the north stays."""
    bare = dataclasses.replace(sheet(), course=None, wind=None)
    arrows = [
        sum(1 for _ in of_class(read(drawing(one)), "compass").iter(f"{SVG}polygon"))
        for one in (sheet(), bare)
    ]
    assert arrows == [2, 1]


def test_all_words_are_escaped_and_inside_the_sheet() -> None:
    """A plane's name cannot break the drawing."""
    text = drawing(sheet())
    assert "&lt;Reedling&gt;" in text
    root = read(text)
    _, _, wide, tall = map(float, (root.get("viewBox") or "").split())
    assert root.get("width") == f"{wide:g}mm"
    for words in root.iter(f"{SVG}text"):
        x, y = float(words.get("x") or 0.0), float(words.get("y") or 0.0)
        assert 0.0 <= x <= wide
        assert 0.0 <= y <= tall


@pytest.mark.parametrize(
    ("value", "up", "down"),
    [(1.0, 1.0, 1.0), (3.1, 5.0, 2.5), (97.0, 100.0, 50.0), (0.3, 0.5, 0.25)],
)
def test_round_numbers_are_round(value: float, up: float, down: float) -> None:
    """One, two, two and a half or five times a power of ten."""
    assert rounded(value, up=True) == pytest.approx(up)
    assert rounded(value, up=False) == pytest.approx(down)
    assert math.isclose(rounded(rounded(value, up=True), up=True), up)

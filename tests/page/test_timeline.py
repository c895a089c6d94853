"""A flight along its time, and the wind as an arrow."""

import re
from xml.etree import ElementTree as ET

import pytest

from foamwright.debrief.outcome import Segment
from foamwright.debrief.recording import Gap
from foamwright.page.timeline import LEAST, by_kind, place, point, timeline, wind_arrow

SEGMENTS = (
    Segment(kind="launch", start=0.0, end=3.0),
    Segment(kind="turn", start=3.0, end=60.0),
    Segment(kind="dash", start=60.0, end=75.0),
    Segment(kind="turn", start=80.0, end=300.0),
)
GAPS = (Gap(start=75.0, end=80.0), Gap(start=299.99, end=300.0))
SPAN = (0.0, 300.0)


def rectangles(svg: str, kind: str) -> list[tuple[float, float, float]]:
    """Return start, width and top of the boxes of some kind."""
    return [
        (float(one.attrib["x"][:-1]), float(one.attrib["width"][:-1]), float(one.attrib["y"]))
        for one in ET.fromstring(svg).iter("rect")  # noqa: S314 - of our own making
        if one.attrib["class"] == kind
    ]


def words(svg: str) -> list[str]:
    """Return the texts."""
    return [one.text or "" for one in ET.fromstring(svg).iter("text")]  # noqa: S314 - our own


def test_every_stretch_lies_where_it_was_flown() -> None:
    """In hundredths of the width; one line for each kind."""
    found = rectangles(timeline(SEGMENTS, (), SPAN), "stretch")
    assert [x for x, _, _ in found] == pytest.approx([0.0, 1.0, 26.67, 20.0], abs=0.01)
    assert [width for _, width, _ in found] == pytest.approx([1.0, 19.0, 73.33, 5.0], abs=0.01)
    tops = [top for _, _, top in found]
    assert tops[1] == tops[2]
    assert len(set(tops)) == len(by_kind(SEGMENTS)) == 3


def test_each_line_says_what_it_is_and_how_long() -> None:
    """No colour and no legend is needed to read it."""
    assert words(timeline(SEGMENTS, GAPS, SPAN))[:4] == [
        "launch, 3.00 s",
        "turn, 4.62 min",
        "dash, 15.0 s",
        "nothing recorded",
    ]


def test_holes_have_a_line_of_their_own_and_a_short_one_is_seen() -> None:
    """Nothing is drawn across them as if it were measured."""
    svg = timeline(SEGMENTS, GAPS, SPAN)
    holes = rectangles(svg, "hole")
    assert len(holes) == 2
    assert holes[1][1] == LEAST
    assert {top for _, _, top in holes}.isdisjoint(
        {top for _, _, top in rectangles(svg, "stretch")}
    )
    assert "nothing recorded" not in words(timeline(SEGMENTS, (), SPAN))


@pytest.mark.parametrize(
    ("lasted", "told"),
    [
        (300.0, ["0 s", "100", "200", "300"]),
        (50.0, ["0 s", "10", "20", "30", "40", "50"]),
        (7.0, ["0 s", "2", "4", "6"]),
    ],
)
def test_the_clock_counts_in_round_steps(lasted: float, told: list[str]) -> None:
    """In seconds: the figures name their stretches so."""
    svg = timeline((Segment(kind="turn", start=0.0, end=lasted),), (), (0.0, lasted))
    assert words(svg)[1:] == told


@pytest.mark.parametrize("span", [(0.0, 0.0), (5.0, 1.0)])
def test_a_flight_of_no_time_has_no_line(span: tuple[float, float]) -> None:
    """Neither has one without segments."""
    assert timeline(SEGMENTS, (), span) == ""
    assert timeline((), GAPS, SPAN) == ""


def test_a_place_stays_on_the_paper() -> None:
    """Whatever a log says of its own length."""
    assert [place(t, (10.0, 20.0)) for t in (0.0, 10.0, 15.0, 99.0)] == [0.0, 0.0, 50.0, 100.0]


@pytest.mark.parametrize(
    ("degrees", "word"),
    [
        (0.0, "north"),
        (22.4, "north"),
        (22.6, "north-east"),
        (328.0, "north-west"),
        (359.9, "north"),
        (90.0, "east"),
        (180.0, "south"),
        (247.6, "west"),
    ],
)
def test_a_wind_has_a_word(degrees: float, word: str) -> None:
    """Eight of them, clockwise from north; common practice, no source."""
    assert point(degrees) == word


def test_the_arrow_flies_with_the_wind() -> None:
    """A wind out of the north points down the page, where north is up."""
    svg = wind_arrow(0.0)
    assert "rotate(0)" in svg
    shaft = re.search(r'<line x1="0" y1="(-?\d+)" x2="0" y2="(-?\d+)" class="shaft"', svg)
    assert shaft is not None
    assert int(shaft[1]) < 0 < int(shaft[2])
    assert "rotate(328)" in wind_arrow(328.0)

"""Where to look, in words: places, ways, the walk from stop to stop."""

import re
from html import unescape
from pathlib import Path

import pytest
from geographiclib.geodesic import Geodesic
from tests.jobs.lost_log import EXAMPLES, cut_log

from foamwright.debrief.geodesy import Way
from foamwright.jobs.find import NoPosition, Wishes, after_fix, after_log
from foamwright.jobs.search_told import Found
from foamwright.jobs.typed_fix import FIELDS, seen_of
from foamwright.page.find_told import (
    columns_asked,
    far,
    found_told,
    typed_fields,
    walk_told,
    walked,
    way_told,
)
from foamwright.problems import CallProblem, DataFileProblem, Finding

PLANE = EXAMPLES / "reedling"


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> Found:
    """Return where the example plane may lie after its log was cut."""
    return after_log(PLANE, cut_log(tmp_path_factory.mktemp("log")), Wishes())[0]


def plain(html: str) -> str:
    """Return the words of a piece of a page."""
    return unescape(" ".join(re.sub(r"<[^>]+>", " ", html).split()))


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_every_example_can_be_typed_as_it_stands(units: str) -> None:
    """In the builder's units."""
    fields = typed_fields(units)
    assert tuple(field.key for field in fields) == FIELDS
    seen = seen_of({field.key: field.example for field in fields}, units)
    assert seen.height == pytest.approx(62.0, abs=0.5)
    assert seen.speed == pytest.approx(13.0, abs=0.1)
    assert seen.climb == pytest.approx(-2.0, abs=0.01)
    assert [field.key for field in fields if field.needed] == ["fix"]


def test_the_walk_leads_from_stop_to_stop(found: Found) -> None:
    """Every leg is as long as the geodesic between its ends, by a library that is not ours."""
    rows = walk_told(found.area, "metric")
    assert [row["number"] for row in rows] == list(range(1, len(found.area.walk) + 1))
    assert rows[0]["leg"] == "start here"
    spots = [[float(part) for part in str(row["spot"]).split(", ")] for row in rows]
    total = 0.0
    for before, row, spot in zip(spots, rows[1:], spots[1:], strict=False):
        line = Geodesic.WGS84.Inverse(*before, *spot)
        total += line["s12"]
        told = re.match(r"([\d.]+) (m|km) ([NESW]+)$", str(row["leg"]))
        assert told is not None, row
        length = float(told[1]) * (1000.0 if told[2] == "km" else 1.0)
        assert length == pytest.approx(line["s12"], rel=0.01, abs=0.6)
    assert walked(found.area) == pytest.approx(total, rel=1e-3)


@pytest.mark.parametrize(
    ("way", "words"),
    [
        (Way(distance=0.2, bearing=10.0), "at the last fix"),
        (Way(distance=2.0, bearing=90.0), "2.00 m from the last fix, bearing 90° true (E)"),
        (Way(distance=1200.0, bearing=359.6), "1.20 km from the last fix, bearing 360° true (N)"),
    ],
)
def test_a_way_is_told_with_its_bearing(way: Way, words: str) -> None:
    """Near places, far places, and the same place."""
    assert way_told(way, "last fix", "metric") == words
    assert "mi" in far(5000.0, "imperial")


def test_all_that_a_search_says_is_on_the_leaf(found: Found) -> None:
    """Places, figures, what it rests on, what to mind, its files."""
    text = found_told(found, "NAME", "lost.csv")
    words = plain(text)
    for figure in found.figures:
        assert figure.label in words
    for line in found.assumed:
        assert line in words
    for caution in found.cautions:
        assert caution[1:] in words
    assert 'href="/find/NAME/area.gpx"' in text
    assert 'src="/find/NAME/area.svg"' in text
    assert "by lost.csv" in words
    assert f"{len(found.area.walk)} stops" in words
    assert "--" not in words


def test_a_typed_fix_is_told_as_one() -> None:
    """The launch place where it was typed, and nothing about a log or an option."""
    seen = seen_of({"fix": "47.31, 8.52", "launch": "47.311, 8.521"})
    words = plain(found_told(after_fix(PLANE, seen, Wishes()), "N", ""))
    assert "from the launch place" in words
    assert "as you typed it" in words
    assert "say it beside the log" in words
    assert "--wind" not in words


def test_words_of_the_builder_are_text(found: Found) -> None:
    """A file's name among them."""
    assert "<i>" not in found_told(found, "N", "<i>.csv")


def test_the_columns_of_a_table_can_be_told(tmp_path: Path) -> None:
    """Where no position is found in it; GPX and other files' problems are nobody's columns."""
    log = tmp_path / "log.csv"
    log.write_text("t,a,b\n0,47.3,8.5\n1,47.4,8.5\n", encoding="utf-8")
    nowhere = NoPosition("the log holds no position", expected="say which columns with --take")
    text = columns_asked(log, ("a=latitude in deg",), nowhere)
    assert text is not None
    assert 'data-column="b"' in text
    assert "--take" not in text
    finding = Finding(what="has no clock", expected="say which it is", file=log)
    assert columns_asked(log, (), DataFileProblem((finding,))) is not None
    other = Finding(what="is broken", file=tmp_path / "blade.csv")
    assert columns_asked(log, (), DataFileProblem((other,))) is None
    track = tmp_path / "log.gpx"
    track.write_text('<gpx version="1.1"></gpx>', encoding="utf-8")
    assert columns_asked(track, (), nowhere) is None
    assert columns_asked(tmp_path / "gone.csv", (), CallProblem("x")) is None

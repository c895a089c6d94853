"""Requests about a photo: read, completed by what is usual, refused where odd."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.jobs.photo_body import body_of
from tests.model.photo_stage import Scene

from foamwright.jobs.photo_request import PAPERS, SLACK, Asked, asked
from foamwright.problems import CallProblem, Problem, QuantityProblem

SHEET = Scene().clicks()
LENGTH = Scene(by="length").clicks()


def test_a_whole_request_is_read_as_it_was_clicked() -> None:
    """Points, blur and view; nothing missing."""
    found = asked(body_of(SHEET))
    assert found.missing == ""
    assert found.framed
    assert found.clicks.first == pytest.approx(SHEET.first)
    assert found.clicks.blur == pytest.approx(SHEET.blur)
    assert found.clicks.view == "surface"


def test_paper_has_the_sizes_of_its_standard() -> None:
    """A4 is 210 by 297 mm (ISO 216), letter 8.5 by 11 inches of 25.4 mm (ANSI/ASME Y14.1)."""
    assert PAPERS["A4"] == (297.0, 210.0)
    assert PAPERS["Letter"] == pytest.approx((11.0 * 25.4, 8.5 * 25.4))
    sides = asked(body_of(SHEET, paper="Letter")).clicks.sides
    assert [side.value for side in sides] == pytest.approx([279.4, 215.9])
    # ISO 216 allows 2 mm; a rectangle of half width a has the deviation a / sqrt(3) (JCGM 100).
    assert [side.spread for side in sides] == pytest.approx([2.0 / math.sqrt(3.0)] * 2)
    assert pytest.approx(2.0 / math.sqrt(3.0)) == SLACK


def test_a_sheet_measured_with_a_ruler_is_known_better() -> None:
    """Its own sides, with the spread that was written or that of a ruler; inches as well."""
    sides = asked(body_of(SHEET, paper="own", long="11.7 in", short="209.5 ± 0.2 mm")).clicks.sides
    assert [side.value for side in sides] == pytest.approx([297.18, 209.5])
    assert [side.spread for side in sides] == pytest.approx([0.5, 0.2])


def test_what_nobody_told_is_assumed_openly() -> None:
    """Distance, height, and with a length how square the camera was held."""
    found = asked(body_of(LENGTH))
    told = " ".join(found.assumed)
    for words in ("1.5 to 2.5 m", "10 mm", "square to the plane within 3°", "no wide lens"):
        assert words in told
    assert found.clicks.tilt == pytest.approx(math.radians(3.0))
    known = asked(body_of(SHEET, distance="1.8 m", height="30 mm"))
    assert known.clicks.distance.value == pytest.approx(1800.0)
    assert known.clicks.distance.spread == pytest.approx(90.0)
    assert (known.clicks.height.value, known.clicks.height.spread) == pytest.approx((30.0, 2.0))
    assert "told by nobody" not in " ".join(known.assumed)
    assert known.clicks.tilt == 0.0


@pytest.mark.parametrize(
    ("counts", "words"),
    [
        ((0, 0, 0, 0), "corners of the sheet: 0 of 4 so far"),
        ((3, 0, 0, 0), "corners of the sheet: 3 of 4 so far"),
        ((4, 1, 0, 0), "the nose, then the tail"),
        ((4, 2, 0, 0), "two stations at least"),
        ((4, 2, 2, 1), "two stations at least"),
        ((4, 2, 3, 2), "one more click of the trailing edge"),
        ((4, 2, 2, 3), "one more click of the leading edge"),
        ((4, 2, 3, 3), ""),
    ],
)
def test_what_is_to_be_clicked_next_is_said(counts: tuple[int, ...], words: str) -> None:
    """Unfinished is no mistake: the next step is told."""
    body = body_of(SHEET)
    points = body["points"]
    assert isinstance(points, dict)
    cut = {group: points[group][:count] for group, count in zip(points, counts, strict=True)}
    found = asked({**body, "points": cut})
    assert words in found.missing
    assert (found.missing == "") == (words == "")
    assert found.framed == (counts[:2] == (4, 2))


def test_a_length_has_to_be_told() -> None:
    """Two ends without a number give no scale."""
    found = asked(body_of(LENGTH, length=""))
    assert found.missing == "say how long it is"
    assert not found.framed
    found = asked(body_of(SHEET, paper="own", long="297 mm"))
    assert "sides of the sheet" in found.missing


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"view": "from below"}, "is no view"),
        ({"view": 3}, "no text"),
        ({"by": "eye"}, "nothing gives the scale"),
        ({"picture": None}, "there is no photo"),
        ({"picture": {"width": 4000}}, "height is no number"),
        ({"picture": {"width": 4000, "height": 0}}, "height is 0"),
        ({"picture": {"width": True, "height": 5}}, "width is no number"),
        ({"paper": "A5"}, "no sheet is called 'A5'"),
        ({"points": 3}, "no list"),
        ({"points": {"first": 3}}, "no list"),
        ({"points": {"first": [3]}}, "point 1 of 'first' is none"),
        ({"points": {"first": [{"x": 1, "y": 2}]}}, "off is no number"),
        ({"points": {"first": [{"x": 1, "y": 1e9, "off": 1}]}}, "y is 1e"),
        ({"points": {"first": [{"x": float("nan"), "y": 1, "off": 1}]}}, "x is no number"),
        ({"points": {"first": [{"x": 1, "y": 1, "off": -1}]}}, "off is -1"),
        ({"points": {"first": [{"x": 1, "y": 1, "off": 1}] * 61}}, "at most 60"),
        ({"points": {"reference": [{"x": 1, "y": 1, "off": 1}] * 5}}, "too many points"),
        ({"paper": "own", "long": "210 mm", "short": "297 mm"}, "the long side is the shorter"),
        ({"turned": "yes", "nose": 3}, "nose is no text"),
    ],
)
def test_odd_requests_are_refused(more: dict[str, object], words: str) -> None:
    """One sentence each, with what would be right."""
    with pytest.raises(CallProblem, match=words):
        asked(body_of(SHEET, **more))


@pytest.mark.parametrize(
    ("key", "text"),
    [("length", "690"), ("length", "0 mm"), ("distance", "2 kg"), ("height", "3 m"),
     ("nose", "far"), ("length", "690 mm ± -1 mm")],
)  # fmt: skip
def test_odd_lengths_are_told_beside_their_field(key: str, text: str) -> None:
    """The words of the plane file, with the key of the field."""
    with pytest.raises(QuantityProblem) as problem:
        asked(body_of(LENGTH, **{key: text}))
    (finding,) = problem.value.findings
    assert finding.key == key
    assert finding.expected


def nested(inner: st.SearchStrategy[object]) -> st.SearchStrategy[object]:
    """Return lists and tables of something."""
    return st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=9), inner, max_size=3)


PLAIN = st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=9)
JSON: st.SearchStrategy[object] = st.recursive(PLAIN, nested, max_leaves=6)
KEYS = (
    "view",
    "picture",
    "by",
    "paper",
    "points",
    "length",
    "distance",
    "height",
    "nose",
    "turned",
)


@given(key=st.sampled_from(KEYS), value=JSON)
def test_nothing_that_is_sent_breaks_it(key: str, value: object) -> None:
    """Whatever stands in one place: an answer or a problem in words."""
    assert answered(body_of(LENGTH, **{key: value}))


def answered(body: dict[str, object]) -> Asked | str:
    """Return a request read, or what is wrong with it in words."""
    try:
        return asked(body)
    except Problem as problem:
        return str(problem)

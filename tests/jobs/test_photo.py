"""What a photo tells, and what is drawn over it."""

import dataclasses

import numpy as np
import pytest
from tests.jobs.photo_body import body_of
from tests.model.photo_stage import ENDS, STATIONS, Camera, Scene, edges

from foamwright.jobs.photo import Found, band_of, read_photo, stations_in
from foamwright.model.photo_clicks import Clicks, Told
from foamwright.problems import CallProblem, Problem

SLANTED = Camera(tilts=(18.0, -12.0, 25.0))
CLICKS = Scene(camera=SLANTED).clicks()


def without(clicks: Clicks, **counts: int) -> dict[str, object]:
    """Return a request with only some clicks of some groups."""
    body = body_of(clicks)
    points = body["points"]
    assert isinstance(points, dict)
    return {**body, "points": {g: p[: counts.get(g, len(p))] for g, p in points.items()}}


def test_a_whole_request_gives_the_stations() -> None:
    """Nothing missing, nothing remarked on, and the wing is as it is."""
    found = read_photo(body_of(CLICKS))
    assert (found.missing, found.remarks) == ("", ())
    assert found.outline is not None
    assert found.outline.stations == pytest.approx(STATIONS, abs=1e-5)


def test_the_outline_is_drawn_where_the_wing_is() -> None:
    """Both halves, as the camera sees them."""
    drawn = read_photo(body_of(CLICKS)).drawn
    assert drawn is not None
    right, left = drawn.outlines
    lead, trail = edges(STATIONS)
    ring = np.concatenate([lead, trail[::-1]])
    assert np.array(right) == pytest.approx(SLANTED.seen(ring), abs=0.02)
    assert np.array(left) == pytest.approx(SLANTED.seen(ring * [1.0, -1.0]), abs=0.02)
    assert np.array(drawn.middle) == pytest.approx(SLANTED.seen(ENDS), abs=0.02)


def test_squares_of_50_mm_lie_in_the_plane() -> None:
    """Every line drawn joins two points that are 50 mm apart from their neighbours'."""
    drawn = read_photo(body_of(CLICKS)).drawn
    assert drawn is not None
    corner = SLANTED.seen(np.array([[0.0, 0.0], [0.0, 400.0]]))
    upright = [line for line in drawn.squares if np.allclose(line[0], corner[0], atol=0.02)]
    assert np.array(upright[0][1]) == pytest.approx(corner[1], abs=0.02)
    assert 20 <= len(drawn.squares) <= 40


def test_a_lone_click_has_a_line_for_its_partner() -> None:
    """Fore and aft through the first click of a station."""
    found = read_photo(without(CLICKS, first=1, second=0))
    assert "two stations" in found.missing
    assert found.outline is None
    assert found.drawn is not None
    (guide,) = found.drawn.guides
    root = SLANTED.seen(np.array([[0.0, 0.0], [690.0, 0.0]]))
    assert np.array(guide) == pytest.approx(root, abs=0.02)


def test_nothing_is_drawn_before_there_is_a_frame() -> None:
    """Corners alone show no plane yet."""
    found = read_photo(without(CLICKS, middle=1))
    assert found.drawn is None
    assert "nose" in found.missing
    with pytest.raises(CallProblem, match="click the nose"):
        stations_in(without(CLICKS, middle=1))


def test_a_body_is_drawn_with_both_its_sides() -> None:
    """Half the width either way, from above; guides across."""
    body = np.array([[10.0, 12.0], [200.0, 30.0], [650.0, 6.0]])
    clicks = Scene(camera=SLANTED, view="body above").of(body, body[:0])
    drawn = read_photo(body_of(clicks)).drawn
    assert drawn is not None
    ring = np.concatenate([body, (body * [1.0, -1.0])[::-1]])
    assert np.array(drawn.outlines[0]) == pytest.approx(SLANTED.seen(ring), abs=0.02)
    assert len(drawn.guides) == 3


def test_clicks_far_from_their_station_are_remarked_on() -> None:
    """They may be right, on an edge straight enough; the second belongs on the dashed line."""
    lead, trail = edges(STATIONS)
    trail[1, 1] += 30.0
    found = read_photo(body_of(Scene(camera=SLANTED).of(lead, trail)))
    assert len(found.remarks) == 1
    assert found.remarks[0].startswith("the two clicks of station 2 lie 30 mm apart")


def test_what_is_hardly_known_is_remarked_on() -> None:
    """A click half a chord off tells little of the chord."""
    told = read_photo(body_of(Scene(camera=SLANTED, blur=45.0).clicks())).remarks
    assert any(words.startswith("the chord of station 3 is hardly known") for words in told)
    assert not any("hardly" in words for words in read_photo(body_of(CLICKS)).remarks)


def test_a_sheet_that_could_lie_either_way_is_remarked_on() -> None:
    """A small square on its corner is an A4 seen askew, but nobody knows which way."""
    corners = np.array([[2000.0, 1400.0], [2100.0, 1500.0], [2000.0, 1600.0], [1900.0, 1500.0]])
    clicks = dataclasses.replace(Scene().clicks(), reference=corners)
    assert "can hardly be told from its short one" in read_photo(body_of(clicks)).remarks[0]


def test_a_sheet_clicked_crosswise_is_put_right() -> None:
    """Any order of its corners gives the same stations."""
    crossed = dataclasses.replace(CLICKS, reference=CLICKS.reference[[0, 2, 1, 3]])
    assert stations_in(body_of(crossed)).stations == pytest.approx(STATIONS, abs=1e-5)


def test_eight_in_ten_is_the_normal_distribution_s() -> None:
    """1.2816 standard deviations either way: any table of the normal distribution."""
    assert band_of(Told(value=10.0, spread=1.0)) == pytest.approx((8.718, 11.282), abs=1e-3)


@pytest.mark.parametrize("seed", range(40))
def test_clicks_anywhere_are_answered_in_words(seed: int) -> None:
    """Corners, nose, tail and edges strewn at random: stations or one problem, never a crash."""
    rng = np.random.default_rng(seed)
    body = body_of(CLICKS)
    points = body["points"]
    assert isinstance(points, dict)
    strewn = {
        group: [{"x": rng.uniform(0, 4000), "y": rng.uniform(0, 3000), "off": 2.0} for _ in found]
        for group, found in points.items()
    }
    found = answered({**body, "points": strewn})
    assert found
    if isinstance(found, Found):
        assert found.outline is not None
        assert np.all(np.isfinite(found.outline.stations))
        assert np.all(np.isfinite(found.outline.spreads))


def answered(body: dict[str, object]) -> Found | str:
    """Return what a photo tells, or what is wrong with it in words."""
    try:
        return read_photo(body)
    except Problem as problem:
        return str(problem)

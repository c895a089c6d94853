"""The plane's own frame on a photo, whichever way the camera was turned."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.model.photo_stage import ENDS, STATIONS, Camera, Scene, edges

from foamwright.model.photo_clicks import Clicks, Told, View
from foamwright.model.photo_frame import doubtful, frame_of, order_of
from foamwright.model.photo_plane import looks_long, mapped
from foamwright.problems import CallProblem


@settings(max_examples=40)
@given(
    tilts=st.tuples(*[st.floats(-30.0, 30.0)] * 2, st.floats(0.0, 360.0)),
    distance=st.floats(1200.0, 4000.0),
)
def test_any_photo_of_a_sheet_gives_the_plane_s_own_frame(
    tilts: tuple[float, float, float], distance: float
) -> None:
    """Nose at zero, x to the tail, y to the clicked half."""
    clicks = Scene(camera=Camera(tilts=tilts, distance=distance)).clicks()
    mapping, _, _ = frame_of(clicks)
    assert mapped(mapping, clicks.middle) == pytest.approx(ENDS, abs=1e-5)
    assert mapped(mapping, clicks.first) == pytest.approx(edges(STATIONS)[0], abs=1e-5)


def test_the_left_half_serves_as_well() -> None:
    """Clicked on the other side of the middle line, it gives the same right half."""
    left = STATIONS * np.array([-1.0, 1.0, 1.0])
    clicks = Scene(stations=left, camera=Camera(tilts=(5.0, 5.0, 200.0))).clicks()
    mapping, _, _ = frame_of(clicks)
    assert mapped(mapping, clicks.second) == pytest.approx(edges(STATIONS)[1], abs=1e-5)


@pytest.mark.parametrize("roll", [0.0, 180.0])
@pytest.mark.parametrize("view", ["fin", "body side"])
def test_up_in_the_photo_is_up(roll: float, view: View) -> None:
    """Nose to the left or to the right: what lies higher in the picture has the larger z."""
    scene = Scene(camera=Camera(tilts=(0.0, 0.0, roll)), view="fin")
    clicks = dataclasses.replace(scene.clicks(), view=view)
    mapping, _, _ = frame_of(clicks)
    spots = mapped(mapping, clicks.first)
    order = np.argsort(clicks.first[:, 1])  # pixels count down
    assert np.all(np.diff(spots[order, 1]) < 0.0)
    assert spots[:, 0] == pytest.approx(STATIONS[:, 1], abs=1e-5)


def test_a_photo_on_end_has_no_up() -> None:
    """It is asked for upright; from above it does not matter."""
    clicks = Scene(camera=Camera(tilts=(0.0, 0.0, 90.0))).clicks()
    frame_of(clicks)
    with pytest.raises(CallProblem, match="up is up"):
        frame_of(dataclasses.replace(clicks, view="fin"))


def test_height_over_the_sheet_is_taken_off() -> None:
    """50 mm over the sheet, 2 m from the camera: 2.5 % larger unless told.

    By similar triangles (any textbook of optics): seen from D, what lies h nearer looks
    D / (D - h) as large.
    """
    scene = Scene(camera=Camera(tilts=(15.0, -20.0, 30.0)), height=50.0)
    told = mapped(frame_of(scene.clicks())[0], scene.clicks().middle)
    assert told == pytest.approx(ENDS, abs=1e-5)
    flat = dataclasses.replace(scene.clicks(), height=Told(value=0.0))
    seen = mapped(frame_of(flat)[0], flat.middle)
    assert seen[1, 0] == pytest.approx(690.0 * 2000.0 / 1950.0)


def test_the_nose_may_lie_elsewhere() -> None:
    """A propeller ahead of the nose: x counts from where it is said to."""
    clicks = dataclasses.replace(Scene().clicks(), nose=-12.0)
    assert mapped(frame_of(clicks)[0], clicks.middle)[:, 0] == pytest.approx([-12.0, 678.0])


def test_a_steep_sheet_is_not_judged_by_its_looks() -> None:
    """Foreshortened until its long side looks shorter, the camera tells; `turned` overrules it."""
    scene = Scene(camera=Camera(tilts=(0.0, 60.0, 0.0), over=(-2700.0, 165.0), distance=1800.0))
    clicks = scene.clicks()
    assert looks_long(clicks.reference[list(order_of(clicks))]) < 1.0
    assert mapped(frame_of(clicks)[0], clicks.middle)[1, 0] == pytest.approx(690.0)
    wrong = dataclasses.replace(clicks, turned=True)
    assert abs(mapped(frame_of(wrong)[0], wrong.middle)[1, 0] - 690.0) > 100.0


def test_doubt_is_told() -> None:
    """Both ways fit a camera when the sheet is far off and askew; from above only one does."""
    assert not doubtful(Scene().clicks())
    assert not doubtful(Scene(by="length").clicks())
    corners = np.array([[2000.0, 1400.0], [2100.0, 1500.0], [2000.0, 1600.0], [1900.0, 1500.0]])
    assert doubtful(dataclasses.replace(Scene().clicks(), reference=corners))


def one_point(clicks: Clicks) -> Clicks:
    """Return clicks whose nose and tail fall on one point."""
    return dataclasses.replace(clicks, middle=clicks.middle[[0, 0]])


def behind(clicks: Clicks) -> Clicks:
    """Return clicks of something behind the camera."""
    return dataclasses.replace(clicks, height=Told(value=3000.0))


def same_ends(clicks: Clicks) -> Clicks:
    """Return clicks whose length has no length."""
    return dataclasses.replace(clicks, reference=clicks.reference[[0, 0]])


def past_horizon(clicks: Clicks) -> Clicks:
    """Return clicks of a steep photo with a tail in the sky."""
    corners = np.array([[1000.0, 2000.0], [3000.0, 2000.0], [2400.0, 1000.0], [1600.0, 1000.0]])
    middle = np.array([[2000.0, 1800.0], [2000.0, 100.0]])
    return dataclasses.replace(clicks, reference=corners, middle=middle)


@pytest.mark.parametrize(
    ("by", "spoil", "words"),
    [
        ("sheet", one_point, "nose and tail lie on one point"),
        ("sheet", behind, "behind the camera"),
        ("length", same_ends, "both ends of the length"),
        ("sheet", past_horizon, "the tail lies beyond the horizon"),
    ],
)
def test_clicks_that_make_no_frame_are_refused(by: str, spoil: object, words: str) -> None:
    """One sentence each."""
    assert callable(spoil)
    with pytest.raises(CallProblem, match=words):
        frame_of(spoil(Scene(by=by).clicks()))

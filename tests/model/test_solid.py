"""The airframe as solid foam."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon

from foamwright.model.solid import Solid, half_thickness, mean_line, rounded_box, sides_of
from foamwright.plane.airframe import Airframe
from foamwright.plane.filling import frozen

BODY = {
    "name": "pod",
    "stations": [
        {"x": "0 mm", "width": "20 mm", "height": "30 mm", "z": "4 mm"},
        {"x": "100 mm", "width": "40 mm", "height": "50 mm", "z": "0 mm"},
    ],
}
WING = {
    "name": "wing",
    "role": "wing",
    "stations": [
        {"y": "0 mm", "leading_edge": "50 mm", "chord": "120 mm", "thickness": "10 %"},
        {"y": "300 mm", "leading_edge": "50 mm", "chord": "120 mm", "thickness": "10 %"},
    ],
}


def solid(**more: object) -> Solid:
    """Return a pod with a wing."""
    return Solid(Airframe.model_validate(frozen({"foam": "EPS", "surfaces": [WING], **more})))


@given(st.floats(5e-3, 0.1), st.floats(5e-3, 0.1), st.floats(0.0, 0.05))
def test_a_rounded_box_loses_its_corners_only(width: float, height: float, corner: float) -> None:
    """Its area is the box less four corners; 25 straight pieces a circle miss 1 % of those."""
    shape = Polygon(rounded_box((width, height), (0.0, 0.0), corner))
    radius = min(corner, width / 2, height / 2)
    exact = width * height - (4 - np.pi) * radius**2
    assert shape.is_valid
    assert shape.area == pytest.approx(exact, rel=0.02)
    assert shape.bounds == pytest.approx((-width / 2, -height / 2, width / 2, height / 2))


def test_a_body_grows_straight_between_its_stations() -> None:
    """Half way it is 30 by 40, its middle 2 mm up."""
    body = solid(bodies=[BODY]).bodies[0]
    assert body.size_at(0.05) == pytest.approx((0.030, 0.040, 0.002))
    assert body.holds(0.1)
    assert not body.holds(0.101)


def test_a_section_is_body_and_wing_together() -> None:
    """Where the wing passes, the cut is as wide as the span."""
    found = solid(bodies=[BODY])
    assert found.section(20).bounds[2] == pytest.approx(0.012)
    assert found.section(90).bounds[2] == pytest.approx(0.300)
    assert found.body_section(90).bounds[2] == pytest.approx(0.019)


def test_there_is_no_foam_beyond_the_plane() -> None:
    """The section is empty, not an error."""
    assert solid(bodies=[BODY]).section(400).is_empty


def test_a_fin_is_no_room_for_gear() -> None:
    """It stands on top and is left out."""
    fin = {
        "name": "fin",
        "role": "fin",
        "stations": [
            {"z": "0 mm", "leading_edge": "0 mm", "chord": "50 mm"},
            {"z": "80 mm", "leading_edge": "0 mm", "chord": "50 mm"},
        ],
    }
    assert [s.name for s in solid(surfaces=[WING, fin]).surfaces] == ["wing"]


def test_a_hollow_body_has_room_inside() -> None:
    """A wall of 5 mm leaves 10 mm less each way."""
    hollow = solid(bodies=[{**BODY, "wall": "5 mm"}])
    assert hollow.cavity(50).bounds[2] == pytest.approx(0.010)
    assert solid(bodies=[BODY]).cavity(50).is_empty


def test_dihedral_lifts_the_tip() -> None:
    """Ten degrees over 300 mm are 53 mm; half the thickness and the camber come on top."""
    tilted = solid(surfaces=[{**WING, "dihedral": "10 deg"}])
    assert tilted.section(90).bounds[3] == pytest.approx(
        0.3 * np.tan(np.radians(10.0)) + 0.12 * (0.05 + 0.02), abs=1e-3
    )


def test_own_coordinates_shape_the_section() -> None:
    """Upper and lower side are told apart whichever way the points run."""
    points = np.array([[1, 0], [0.5, 0.08], [0, 0], [0.5, -0.02], [1, 0]], dtype=float)
    for told in (points, points[::-1]):
        upper, lower = sides_of(told)
        assert np.interp(0.5, *upper) == pytest.approx(0.08)
        assert np.interp(0.5, *lower) == pytest.approx(-0.02)


def test_the_thickest_and_highest_places_are_where_they_belong() -> None:
    """Four-digit sections: thickest at 30 %, mean line highest at 40 %."""
    x = np.linspace(0, 1, 201)
    assert x[np.argmax(half_thickness(x))] == pytest.approx(0.3, abs=0.005)
    assert half_thickness(x).max() == pytest.approx(0.5, abs=1e-3)
    assert x[np.argmax(mean_line(x))] == pytest.approx(0.4)
    assert mean_line(x).max() == pytest.approx(1.0)


def test_the_extent_is_that_of_all_foam() -> None:
    """From the nose to the wing's trailing edge."""
    assert solid(bodies=[BODY]).extent() == pytest.approx((0.0, 0.17))

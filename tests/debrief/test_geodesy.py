"""Places, distances, bearings; the published geodesics are in tests/published."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.debrief.geodesy import Spot, apart, offset, way_between

METRES = st.floats(-5000.0, 5000.0)


@given(latitude=st.floats(-80.0, 80.0), north=METRES, east=METRES)
def test_a_place_and_the_way_back_agree(latitude: float, north: float, east: float) -> None:
    """Anywhere on the earth, over the date line too."""
    start = Spot(latitude=latitude, longitude=179.99)
    found = apart(start, offset(start, north, east))
    assert found == pytest.approx((north, east), abs=1e-5)


def test_bearings_run_clockwise_from_north() -> None:
    """East is 90, west 270; nothing is below 0."""
    start = Spot(latitude=47.0, longitude=8.0)
    for north, east, bearing in ((1.0, 0.0, 0.0), (0.0, 1.0, 90.0), (-1.0, 0.0, 180.0)):
        way = way_between(start, offset(start, 100.0 * north, 100.0 * east))
        assert way.bearing == pytest.approx(bearing, abs=1e-3)
    assert way_between(start, offset(start, 0.0, -100.0)).bearing == pytest.approx(270.0, abs=1e-3)

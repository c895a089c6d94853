"""Positions as metres."""

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from foamwright.debrief.positions import metres_between, radii, track_of


@given(st.floats(-80.0, 80.0), st.floats(-180.0, 180.0), st.floats(0.0, 360.0))
def test_distance_and_direction_are_those_of_the_geodesic(
    latitude: float, longitude: float, azimuth: float
) -> None:
    """Within a kilometre, as Karney's geodesics (geographiclib) have it, to a few millimetres."""
    there = Geodesic.WGS84.Direct(latitude, longitude, azimuth, 1000.0)
    north, east = metres_between(
        *(np.radians([value]) for value in (latitude, longitude, there["lat2"], there["lon2"]))
    )
    assert float(np.hypot(north, east)[0]) == pytest.approx(1000.0, abs=0.005)
    turned = (there["azi2"] - azimuth + 180.0) % 360.0 - 180.0
    middle = np.radians(azimuth + 0.5 * turned)
    assert float(north[0]) == pytest.approx(1000.0 * np.cos(middle), abs=0.02)


def test_a_step_over_the_date_line_is_short() -> None:
    """From 179.999 to -179.999 degrees is 222 m at the equator, not the way around."""
    _, east = metres_between(*(np.radians([value]) for value in (0.0, 179.999, 0.0, -179.999)))
    assert float(east[0]) == pytest.approx(222.639, abs=0.001)


def test_the_radii_grow_towards_the_pole() -> None:
    """Along the meridian more than across it."""
    along, across = radii(np.radians(np.array([0.0, 45.0, 90.0])))
    assert (np.diff(along) > 0).all()
    assert (np.diff(across) > 0).all()
    assert along[2] == pytest.approx(across[2])


def test_a_position_that_is_held_counts_once() -> None:
    """Five rows of each position, one a second, 10 m apart: 10 m/s north."""
    time = np.arange(0.0, 20.0, 0.2)
    latitude = np.radians(47.0) + np.floor(time) * 10.0 / 6.364e6
    track = track_of(time, latitude, np.full(time.shape, 0.1))
    assert track.speed.size == 19
    assert track.speed == pytest.approx(10.0, rel=1e-3)
    assert track.course == pytest.approx(0.0, abs=1e-9)
    assert track.middle[0] == pytest.approx(0.5)


def test_no_path_leads_over_a_long_pause() -> None:
    """A step that took longer than 3 s is no speed."""
    time = np.array([0.0, 1.0, 2.0, 9.0, 10.0])
    latitude = np.radians(47.0) + time * 10.0 / 6.364e6
    assert track_of(time, latitude, np.zeros(5)).start == pytest.approx([0.0, 1.0, 9.0])

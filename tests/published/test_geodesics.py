"""Distances, bearings and places against published geodesics."""

import pytest

from foamwright.debrief.geodesy import Spot, Way, apart, offset, reached, way_between

pytestmark = pytest.mark.published

FLINDERS = Spot(
    latitude=-(37 + 57 / 60 + 3.72030 / 3600), longitude=144 + 25 / 60 + 29.52440 / 3600
)
BUNINYONG = Spot(
    latitude=-(37 + 39 / 60 + 10.15610 / 3600), longitude=143 + 55 / 60 + 35.38390 / 3600
)


def test_flinders_peak_to_buninyong() -> None:
    """54 972.271 m, bearing 306 52 05.37, back 127 10 25.07 less half a turn (ICSM, GDA Technical
    Manual, second-hand)."""
    there, back = way_between(FLINDERS, BUNINYONG), way_between(BUNINYONG, FLINDERS)
    assert there.distance == pytest.approx(54972.271, abs=1e-3)
    assert there.bearing == pytest.approx(306 + 52 / 60 + 5.37 / 3600, abs=0.01 / 3600)
    assert back.bearing == pytest.approx(127 + 10 / 60 + 25.07 / 3600, abs=0.01 / 3600)
    assert back.distance == pytest.approx(there.distance, abs=1e-6)


def test_a_long_way_of_the_test_set_for_geodesics() -> None:
    """C. F. F. Karney, Test set for geodesics: (55.52454, 106.05087) to (77.03196, 197.18234) is
    4 105 086.171 392 440 6 m at 22.020 059 880 982 801 degrees."""
    way = way_between(
        Spot(latitude=55.52454, longitude=106.05087), Spot(latitude=77.03196, longitude=197.18234)
    )
    assert way.distance == pytest.approx(4105086.1713924406, abs=1e-6)
    assert way.bearing == pytest.approx(22.020059880982801, abs=1e-12)


def test_a_place_reached_of_the_test_set_for_geodesics() -> None:
    """Same set: 8 935 244.560 481 830 5 m from (35.60777, -139.44815) at 111.098 748 429 560 326
    degrees lies (-11.17491, -69.95921)."""
    end = reached(
        Spot(latitude=35.60777, longitude=-139.44815),
        Way(distance=8935244.5604818305, bearing=111.098748429560326),
    )
    assert end.latitude == pytest.approx(-11.17491, abs=1e-9)
    assert end.longitude == pytest.approx(-69.95921, abs=1e-9)


@pytest.mark.parametrize(
    ("north", "east", "place"),
    [
        pytest.param(0.0, 111319.4908, (0.0, 1.0), id="a degree along the equator"),
        pytest.param(110574.3886, 0.0, (1.0, 0.0), id="a degree north of it"),
        pytest.param(10001965.7293, 0.0, (90.0, 0.0), id="the quarter meridian"),
    ],
)
def test_metres_from_the_equator(north: float, east: float, place: tuple[float, float]) -> None:
    """Of WGS 84 (NIMA TR8350.2), recomputed: 111 319.4908, 110 574.3886, 10 001 965.7293 m."""
    end = offset(Spot(latitude=0.0, longitude=0.0), north, east)
    assert end.latitude == pytest.approx(place[0], abs=1e-8)
    assert end.longitude == pytest.approx(place[1], abs=1e-8)


def test_kennedy_to_de_gaulle() -> None:
    """Karney's own test suite: (40.6, -73.8) to (49 1/60, 2 33/60) is 5 853 226 m, 53.47022
    degrees; and 5850 km at 53.5 degrees from there end near it."""
    way = way_between(
        Spot(latitude=40.6, longitude=-73.8), Spot(latitude=49.01666667, longitude=2.55)
    )
    assert way.distance == pytest.approx(5853226.0, abs=0.5)
    assert way.bearing == pytest.approx(53.47022, abs=1e-5)
    end = reached(
        Spot(latitude=40.63972222, longitude=-73.77888889), Way(distance=5850e3, bearing=53.5)
    )
    assert end.latitude == pytest.approx(49.01467, abs=1e-5)
    assert end.longitude == pytest.approx(2.56106, abs=1e-5)


def test_metres_there_and_back_agree() -> None:
    """What is 300 m north and 400 m east is 500 m away."""
    end = offset(FLINDERS, 300.0, 400.0)
    assert apart(FLINDERS, end) == pytest.approx((300.0, 400.0), abs=1e-6)
    assert way_between(FLINDERS, end).distance == pytest.approx(500.0, abs=1e-6)

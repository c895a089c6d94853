"""The file for the phone, read back by a library that is not ours."""

import gpxpy
import pytest
from tests.debrief.test_falls import STILL, luck, seen_at
from tests.debrief.test_find import planes

from foamwright.debrief.falls import parabolic
from foamwright.debrief.find import SearchArea, find
from foamwright.debrief.geodesy import Spot, apart, way_between
from foamwright.debrief.search_gpx import gpx_of, place, rings_of


@pytest.fixture(scope="module")
def area() -> SearchArea:
    """Return a search area."""
    return find(seen_at(), STILL, parabolic(*planes()), luck())


def test_places_areas_and_the_walk_are_read_back(area: SearchArea) -> None:
    """Three places, one route, a track for each area, to a centimetre or two."""
    read = gpxpy.parse(gpx_of(area, "Reedling"))
    assert read.version == "1.1"
    assert read.creator == "foamwright"
    assert [point.name for point in read.waypoints] == ["most likely", "last fix", "first fix"]
    likely = read.waypoints[0]
    spot = Spot(latitude=float(likely.latitude), longitude=float(likely.longitude))
    assert way_between(spot, area.likely_spot).distance < 0.02
    assert [track.name for track in read.tracks] == [
        "edge of the 50 % area",
        "edge of the 90 % area",
    ]
    (route,) = read.routes
    assert len(route.points) == len(area.walk)
    first = Spot(
        latitude=float(route.points[0].latitude), longitude=float(route.points[0].longitude)
    )
    assert way_between(first, area.likely_spot).distance < 0.02


def test_the_edges_are_closed_and_lie_where_the_areas_do(area: SearchArea) -> None:
    """Each ring returns to its first point; the area inside is the region's."""
    read = gpxpy.parse(gpx_of(area, "Reedling"))
    for track, region in zip(read.tracks, area.regions, strict=True):
        assert len(track.segments) == len(rings_of(region))
        for segment, ring in zip(track.segments, rings_of(region), strict=True):
            points = segment.points
            assert (points[0].latitude, points[0].longitude) == (
                points[-1].latitude,
                points[-1].longitude,
            )
            for point, away in zip(points, ring, strict=True):
                spot = Spot(latitude=float(point.latitude), longitude=float(point.longitude))
                assert apart(area.seen.spot, spot) == pytest.approx(away, abs=0.03)


def test_the_end_of_the_earth_is_written_as_its_beginning() -> None:
    """GPX 1.1: a longitude is less than 180 degrees; all rules: published/test_gpx.py."""
    assert place(Spot(latitude=1.0, longitude=180.0)) == (1.0, -180.0)
    assert place(Spot(latitude=1.0, longitude=179.99999999)) == (1.0, -180.0)
    assert place(Spot(latitude=1.0, longitude=179.9999999)) == (1.0, 179.9999999)
    assert place(Spot(latitude=1.0, longitude=-180.0)) == (1.0, -180.0)


def test_a_first_fix_nobody_knows_is_left_out() -> None:
    """As it is where the last one was typed."""
    area = find(seen_at(start=None), STILL, parabolic(*planes()), luck())
    read = gpxpy.parse(gpx_of(area, "Reedling"))
    assert [point.name for point in read.waypoints] == ["most likely", "last fix"]

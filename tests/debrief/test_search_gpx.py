"""The file for the phone, read back by a library that is not ours."""

from xml.etree import ElementTree as ET

import gpxpy
import pytest
from tests.debrief.test_falls import STILL, luck, seen_at
from tests.debrief.test_find import planes

from foamwright.debrief.falls import parabolic
from foamwright.debrief.find import SearchArea, find
from foamwright.debrief.geodesy import Spot, apart, way_between
from foamwright.debrief.search_gpx import gpx_of, rings_of

GPX = "{http://www.topografix.com/GPX/1/1}"
ORDER = {
    "gpx": ("metadata", "wpt", "rte", "trk"),
    "wpt": ("name", "desc"),
    "rte": ("name", "desc", "rtept"),
    "rtept": ("name",),
    "trk": ("name", "trkseg"),
    "trkseg": ("trkpt",),
    "trkpt": (),
    "metadata": ("name",),
    "name": (),
    "desc": (),
}
"""Children of each element used here, in the order the schema of GPX 1.1 demands (from memory)."""


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
            for point, place in zip(points, ring, strict=True):
                spot = Spot(latitude=float(point.latitude), longitude=float(point.longitude))
                assert apart(area.seen.spot, spot) == pytest.approx(place, abs=0.03)


def test_the_file_keeps_the_order_of_the_schema(area: SearchArea) -> None:
    """GPX 1.1: only known elements, each kind after the other, places with both coordinates."""
    root = ET.fromstring(gpx_of(area, "Reed & <ling>"))  # noqa: S314 - our own file
    assert root.tag == f"{GPX}gpx"
    assert root.get("version") == "1.1"
    assert root.get("creator")
    for element in root.iter():
        order = ORDER[element.tag.removeprefix(GPX)]
        found = [order.index(child.tag.removeprefix(GPX)) for child in element]
        assert found == sorted(found)
        if element.tag.removeprefix(GPX) in {"wpt", "rtept", "trkpt"}:
            assert -90.0 <= float(element.get("lat", "nan")) <= 90.0
            assert -180.0 <= float(element.get("lon", "nan")) <= 180.0
    assert root.findtext(f"{GPX}metadata/{GPX}name") == "where Reed & <ling> may lie"

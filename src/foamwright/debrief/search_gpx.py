"""A search area as GPX 1.1, for the phone or the receiver one walks with."""

from gpxpy.gpx import (
    GPX,
    GPXRoute,
    GPXRoutePoint,
    GPXTrack,
    GPXTrackPoint,
    GPXTrackSegment,
    GPXWaypoint,
)

from foamwright.debrief.find import SearchArea
from foamwright.debrief.geodesy import Spot, offset
from foamwright.debrief.search_region import Region

DIGITS = 7
"""Decimals of a degree: a centimetre."""


def place(spot: Spot) -> tuple[float, float]:
    """Return latitude and longitude as they are written [deg]: 180 degrees east as 180 west."""
    longitude = round(spot.longitude, DIGITS)
    return round(spot.latitude, DIGITS), longitude - 360.0 if longitude >= 180.0 else longitude


def rings_of(region: Region) -> list[list[tuple[float, float]]]:
    """Return the closed lines around a region and its holes, (north, east) of the last fix [m]."""
    lines = [line for part in region.shape.geoms for line in (part.exterior, *part.interiors)]
    return [[(float(y), float(x)) for x, y in line.coords] for line in lines]


def waypoint(spot: Spot, name: str, told: str) -> GPXWaypoint:
    """Return a place with its name."""
    latitude, longitude = place(spot)
    return GPXWaypoint(latitude=latitude, longitude=longitude, name=name, description=told)


def boundary(area: SearchArea, region: Region) -> GPXTrack:
    """Return the boundary of a region as a track, one closed segment a ring."""
    track = GPXTrack(name=f"edge of the {100.0 * region.share:.0f} % area")
    for ring in rings_of(region):
        segment = GPXTrackSegment()
        for north, east in ring:
            latitude, longitude = place(offset(area.seen.spot, north, east))
            segment.points.append(GPXTrackPoint(latitude=latitude, longitude=longitude))
        track.segments.append(segment)
    return track


def way_to_walk(area: SearchArea) -> GPXRoute:
    """Return the stops as a route."""
    route = GPXRoute(
        name="search from here outwards",
        description="The likely places first. Only where you may go: ask before you enter.",
    )
    for number, (north, east) in enumerate(area.walk, start=1):
        latitude, longitude = place(offset(area.seen.spot, north, east))
        route.points.append(
            GPXRoutePoint(latitude=latitude, longitude=longitude, name=f"stop {number}")
        )
    return route


def gpx_of(area: SearchArea, name: str) -> str:
    """Return a search area as the text of a GPX 1.1 file."""
    file = GPX()
    file.creator = "foamwright"
    file.name = f"where {name} may lie"
    file.waypoints = [
        waypoint(area.likely_spot, "most likely", "Where to look first."),
        waypoint(area.seen.spot, "last fix", "The last position that was known."),
    ]
    if area.seen.start is not None:
        told = "The first position that was known."
        file.waypoints.append(waypoint(area.seen.start, "first fix", told))
    file.routes = [way_to_walk(area)]
    file.tracks = [boundary(area, region) for region in area.regions]
    return file.to_xml(version="1.1")

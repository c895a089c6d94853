"""Places on the earth from distances, and back: on the WGS 84 ellipsoid, by geodesics."""

from dataclasses import dataclass

import numpy as np
from geographiclib.geodesic import Geodesic

EARTH: Geodesic = Geodesic.WGS84


@dataclass(frozen=True, kw_only=True, slots=True)
class Spot:
    """A place on the earth, as files and phones write it."""

    latitude: float
    """North positive [deg]."""
    longitude: float
    """East positive [deg]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Way:
    """How to get from one place to another."""

    distance: float
    """Along the ground [m]."""
    bearing: float
    """At its start, clockwise from true north, 0 to 360 [deg]."""


def way_between(start: Spot, end: Spot) -> Way:
    """Return distance and bearing from one place to another."""
    line = EARTH.Inverse(start.latitude, start.longitude, end.latitude, end.longitude)
    return Way(distance=float(line["s12"]), bearing=float(line["azi1"]) % 360.0)


def reached(start: Spot, way: Way) -> Spot:
    """Return the place that lies a way from another."""
    end = EARTH.Direct(start.latitude, start.longitude, way.bearing, way.distance)
    return Spot(latitude=float(end["lat2"]), longitude=float(end["lon2"]))


def offset(start: Spot, north: float, east: float) -> Spot:
    """Return the place so many metres north and east: its distance and bearing are exact."""
    bearing = float(np.degrees(np.arctan2(east, north)))
    return reached(start, Way(distance=float(np.hypot(north, east)), bearing=bearing))


def apart(start: Spot, end: Spot) -> tuple[float, float]:
    """Return how many metres north and east a place lies of another; the inverse of `offset`."""
    way = way_between(start, end)
    turn = np.radians(way.bearing)
    return way.distance * float(np.cos(turn)), way.distance * float(np.sin(turn))

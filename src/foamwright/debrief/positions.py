"""Positions on the earth as metres and as speed over the ground."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid

SEMI_MAJOR = 6378137.0
FLATTENING = 1 / 298.257223563
"""Of the WGS 84 ellipsoid; NIMA TR8350.2."""
SQUARED_ECCENTRICITY = FLATTENING * (2 - FLATTENING)
LONGEST_STEP = 3.0
"""Between two positions that are taken as a path [s]."""


def radii(latitude: Grid) -> tuple[Grid, Grid]:
    """Return the radii of curvature along the meridian and across it [m]; latitude in rad."""
    inner = 1.0 - SQUARED_ECCENTRICITY * np.sin(latitude) ** 2
    across = SEMI_MAJOR / np.sqrt(inner)
    return across * (1.0 - SQUARED_ECCENTRICITY) / inner, across


def metres_between(
    latitude: Grid, longitude: Grid, to_latitude: Grid, to_longitude: Grid
) -> tuple[Grid, Grid]:
    """Return how far north and east other positions lie [m]; all in rad.

    Exact to a millimetre over a few kilometres: the radii are those at the middle latitude.
    """
    middle = 0.5 * (latitude + to_latitude)
    along, across = radii(middle)
    turn = np.remainder(to_longitude - longitude + np.pi, 2 * np.pi) - np.pi
    return along * (to_latitude - latitude), across * np.cos(middle) * turn


@dataclass(frozen=True, kw_only=True, slots=True)
class Track:
    """The path over the ground, from one new position to the next."""

    start: Grid
    """Time of the position it starts from [s] (k,)."""
    end: Grid
    """Time of the next [s] (k,)."""
    speed: Grid
    """Over the ground [m s^-1] (k,)."""
    course: Grid
    """Clockwise from north [rad] (k,)."""

    @property
    def middle(self) -> Grid:
        """Return the time between the two positions [s]."""
        return 0.5 * (self.start + self.end)


def track_of(time: Grid, latitude: Grid, longitude: Grid) -> Track:
    """Return the path over the ground; a position held for several rows counts once."""
    known = np.flatnonzero(np.isfinite(latitude) & np.isfinite(longitude))
    lat, lon = latitude[known], longitude[known]
    moved = (np.diff(lat, prepend=np.nan) != 0) | (np.diff(lon, prepend=np.nan) != 0)
    at = known[moved]
    north, east = metres_between(
        latitude[at[:-1]], longitude[at[:-1]], latitude[at[1:]], longitude[at[1:]]
    )
    took = np.diff(time[at])
    near = (took > 0) & (took <= LONGEST_STEP)
    start, end = time[at[:-1]][near], time[at[1:]][near]
    return Track(
        start=start,
        end=end,
        speed=np.hypot(north, east)[near] / took[near],
        course=np.arctan2(east, north)[near] % (2 * np.pi),
    )

"""A search area as it is drawn."""

from itertools import pairwise

import numpy as np

from foamwright.debrief.find import SearchArea
from foamwright.debrief.geodesy import apart
from foamwright.debrief.positions import metres_between
from foamwright.debrief.recording import Recording
from foamwright.debrief.search_region import Region
from foamwright.jobs.search_told import Found
from foamwright.paper.picture import picture
from foamwright.paper.search_area import Patch, SearchSheet, drawing
from foamwright.paper.search_marks import DARK, LIGHT
from foamwright.paper.svg import Spot, tame
from foamwright.quantity import show

LAST = 90.0
"""How much of the path is drawn [s]."""
LONGEST = 3.0
"""Between two fixes that are joined by a line [s]."""
FELL = (
    "50 %: half of all falls end inside the bold line",
    "90 %: nine in ten end inside the dashed line",
)
LAY = (
    "50 %: the receiver is right to within the bold line half of the time",
    "90 %: to within the dashed line nine times in ten",
)
"""What the areas hold, after a fall and where it lay when the log ended."""
SHEET = 240.0
"""The longer side of a drawing, at most [mm]."""


def patches_of(region: Region) -> tuple[Patch, ...]:
    """Return the parts of a region, (east, north) [m]."""
    return tuple(
        Patch(
            edge=tuple((float(x), float(y)) for x, y in part.exterior.coords),
            holes=tuple(
                tuple((float(x), float(y)) for x, y in ring.coords) for ring in part.interiors
            ),
        )
        for part in region.shape.geoms
    )


def track_of(recording: Recording | None, area: SearchArea) -> tuple[tuple[Spot, ...], ...]:
    """Return the last of the path, (east, north) of the last fix [m], cut at holes."""
    if recording is None:
        return ()
    lat, lon = recording.channel("latitude"), recording.channel("longitude")
    late = (recording.time > area.seen.fix_time - LAST) & np.isfinite(lat) & np.isfinite(lon)
    late &= recording.time <= area.seen.fix_time + 1e-9
    rows = np.flatnonzero(late)
    spot = area.seen.spot
    here = (
        np.full(rows.size, np.radians(spot.latitude)),
        np.full(rows.size, np.radians(spot.longitude)),
    )
    north, east = metres_between(*here, lat[rows], lon[rows])
    cuts = np.flatnonzero(np.diff(recording.time[rows]) > LONGEST) + 1
    edges = [0, *(int(cut) for cut in cuts), rows.size]
    return tuple(
        tuple(zip(east[a:b].tolist(), north[a:b].tolist(), strict=True)) for a, b in pairwise(edges)
    )


def notes_of(found: Found) -> tuple[str, ...]:
    """Return the lines under the title."""
    spot = found.area.likely_spot
    way, start = (
        (found.from_fix, "last") if found.from_start is None else (found.from_start, "first")
    )
    far = show(way.distance, "length" if way.distance >= 3.0 else "elevation", found.units)
    return (
        f"most likely {spot.latitude:.5f}, {spot.longitude:.5f}",
        f"{far} from the {start} fix, bearing {way.bearing:.0f}° true",
    )


def sheet_of(found: Found, recording: Recording | None) -> SearchSheet:
    """Return everything that is on the drawing."""
    area, air = found.area, found.air
    north, east = area.likely
    home = None if area.seen.start is None else apart(area.seen.spot, area.seen.start)
    blows = float(np.degrees(np.arctan2(air.east, air.north)) % 360.0)
    speed = float(np.hypot(air.north, air.east))
    known = speed > 0.1 and not area.seen.grounded
    return SearchSheet(
        title=f"Where {tame(found.plane)} may lie",
        notes=notes_of(found),
        inner=patches_of(area.regions[0]),
        outer=patches_of(area.regions[-1]),
        track=track_of(recording, area),
        likely=(east, north),
        start=None if home is None else (home[1], home[0]),
        course=None if area.seen.grounded else area.seen.course,
        wind=(blows, f"wind {show(speed, 'speed', found.units)}") if known else None,
        stops=tuple((e, n) for n, e in area.walk),
        told=LAY if area.seen.grounded else FELL,
        imperial=found.units == "imperial",
    )


def drawn(found: Found, recording: Recording | None, *, as_picture: bool, dark: bool) -> bytes:
    """Return a drawing of where to look, SVG or a picture of it."""
    svg = drawing(sheet_of(found, recording), DARK if dark else LIGHT)
    return picture(svg, SHEET) if as_picture else svg.encode()

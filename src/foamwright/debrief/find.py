"""Where an aeroplane came down that was lost: from the end of its log."""

from dataclasses import dataclass

import numpy as np
from shapely import MultiPolygon, Point

from foamwright.debrief.falls import CASES, Air, Glider, fall, weights
from foamwright.debrief.geodesy import Spot, offset
from foamwright.debrief.last_seen import LastSeen
from foamwright.debrief.search_region import (
    Region,
    densest,
    density_of,
    level_of,
    region_of,
    walk,
)

SHARES = (0.5, 0.9)
"""Of all falls, of the two areas."""
FALLS = 4000
"""How many are tried."""
LYING_SLIDE = 2.0
"""How far the last fix may be off where it lay when the log ended, beside the fix [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SearchArea:
    """Where to look."""

    seen: LastSeen
    likely: tuple[float, float]
    """The most likely place, north and east of the last fix [m]."""
    regions: tuple[Region, ...]
    """The smallest areas that hold half and nine tenths of all falls."""
    walk: tuple[tuple[float, float], ...]
    """Stops from the most likely place outwards, north and east of the last fix [m]."""
    cases: tuple[tuple[str, float], ...]
    """Ways down in words, and the share of the falls each has; none where it lay on the ground."""

    @property
    def likely_spot(self) -> Spot:
        """The most likely place on the earth."""
        return offset(self.seen.spot, *self.likely)


def lying(seen: LastSeen) -> SearchArea:
    """Return where it lies when the log ended on the ground: around the last fix.

    A round normal has its share p inside the radius sigma sqrt(-2 ln(1 - p)).

    Source: own-derivation
    """
    spread = float(np.hypot(seen.fix_spread, LYING_SLIDE))
    radii = [spread * float(np.sqrt(-2.0 * np.log(1.0 - share))) for share in SHARES]
    regions = tuple(
        Region(share=share, shape=MultiPolygon([Point(0.0, 0.0).buffer(radius, quad_segs=16)]))
        for share, radius in zip(SHARES, radii, strict=True)
    )
    here = (0.0, 0.0)
    return SearchArea(seen=seen, likely=here, regions=regions, walk=(here,), cases=())


def find(
    seen: LastSeen, air: Air, glider: Glider, draw: np.random.Generator, *, count: int = FALLS
) -> SearchArea:
    """Return where to look for an aeroplane that was last seen so."""
    if seen.grounded:
        return lying(seen)
    places = fall(seen, air, glider, draw, count=count)
    density = density_of(places.north, places.east)
    regions = tuple(
        region_of(density, level_of(density, places.north, places.east, share), share)
        for share in SHARES
    )
    likely = densest(density)
    return SearchArea(
        seen=seen,
        likely=likely,
        regions=regions,
        walk=tuple(walk(density, likely, regions[0], regions[-1])),
        cases=tuple((CASES[name][0], share) for name, share in weights(seen).items()),
    )

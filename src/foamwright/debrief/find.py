"""Where an aeroplane came down that was lost: from the end of its log."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.falls import CASES, Air, Glider, Places, fall, weights
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


def lying(seen: LastSeen, draw: np.random.Generator, count: int) -> Places:
    """Return where it lies when the log ended on the ground: at the last fix, more or less."""
    spread = float(np.hypot(seen.fix_spread, LYING_SLIDE))
    return Places(
        north=spread * draw.normal(size=count),
        east=spread * draw.normal(size=count),
        case=np.full(count, "ground"),
    )


def find(
    seen: LastSeen, air: Air, glider: Glider, draw: np.random.Generator, *, count: int = FALLS
) -> SearchArea:
    """Return where to look for an aeroplane that was last seen so."""
    if seen.grounded:
        places, cases = lying(seen, draw, count), {}
    else:
        places, cases = fall(seen, air, glider, draw, count=count), weights(seen)
    density = density_of(places.north, places.east)
    regions = tuple(
        region_of(density, level_of(density, places.north, places.east, share), share)
        for share in SHARES
    )
    likely = (0.0, 0.0) if seen.grounded else densest(density)
    return SearchArea(
        seen=seen,
        likely=likely,
        regions=regions,
        walk=tuple(walk(density, likely, regions[0], regions[-1])),
        cases=tuple((CASES[name][0], share) for name, share in cases.items()),
    )

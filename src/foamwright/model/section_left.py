"""What the pockets leave of the body at every place along it."""

from dataclasses import dataclass
from functools import partial

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from foamwright.model.cuts import Cuts
from foamwright.model.pockets import Pocket
from foamwright.model.solid import Solid
from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.frame.cut_section import (
    SectionProperties,
    properties,
    ring_moments,
    spot_moments,
)
from foamwright.plane.gear import Rod
from foamwright.plane.plane import Plane

EVERY = 10
"""Distance of the sections that are always looked at [mm]."""

CARBON_OVER_FOAM = {"EPS": 23_000.0, "EPP": 50_000.0, "EPO": 21_000.0, "XPS": 8_500.0}
"""Modulus of a pultruded carbon rod (127 GPa, the rod makers' least) over the foam's; common
practice for the foams, which spread by a factor of two."""


@dataclass(frozen=True, kw_only=True, slots=True)
class SectionsLeft:
    """The body with and without its pockets, at k places."""

    x: Grid
    """Places (k,) [m]."""
    whole: SectionProperties
    """Of the bare body, foam only."""
    left: SectionProperties
    """With the pockets cut and the rods in, in terms of foam."""
    stiffness_kept: Grid
    """Share of the stiffness against bending up and down that is left (k,) [-]."""
    edge_kept: Grid
    """Share of the section modulus of the weaker edge, top or bottom, that is left (k,) [-]."""

    def worst(self, shares: Grid) -> tuple[float, float]:
        """Return the least of some shares and where it is [m]."""
        index = int(np.argmin(shares))
        return float(shares[index]), float(self.x[index])


def moments(shape: BaseGeometry) -> Samples:
    """Return the moments of all parts of a section, holes taken out (6,)."""
    total = np.zeros(6)
    for part in getattr(shape, "geoms", [shape]):
        if part.is_empty or part.area <= 0.0:
            continue
        for ring, sign in [(part.exterior, 1.0), *((hole, -1.0) for hole in part.interiors)]:
            found = ring_moments(np.asarray(ring.coords)[None, :-1])[0]
            total += sign * np.sign(found[0]) * found
    return total


def hole_at(pocket: Pocket) -> BaseGeometry:
    """Return a pocket as it is seen along the plane, open where it opens."""
    low, high = list(pocket.low[1:]), list(pocket.high[1:])
    if pocket.side in ("top", "bottom"):
        (high if pocket.side == "top" else low)[1] += 0.2 if pocket.side == "top" else -0.2
    if pocket.side in ("left", "right"):
        (high if pocket.side == "right" else low)[0] += 0.2 if pocket.side == "right" else -0.2
    return shapely.box(low[0], low[1], high[0], high[1])


def rods_at(rods: tuple[Rod, ...], x: float, ratio: float) -> Samples:
    """Return the moments of the rods that pass a section lengthwise, as foam (6,)."""
    total = np.zeros(6)
    for rod in rods:
        if rod.starts is None or rod.ends is None or rod.diameter is None:
            continue
        x0, x1 = rod.starts.x.value, rod.ends.x.value
        if not min(x0, x1) <= x <= max(x0, x1) or x0 == x1:
            continue
        share = (x - x0) / (x1 - x0)
        ends = [
            np.array([0.0 if v is None else v.value for v in (place.y, place.z)])
            for place in (rod.starts, rod.ends)
        ]
        middle = ends[0] + share * (ends[1] - ends[0])
        bore = 0.0 if rod.bore is None else rod.bore.value
        area = np.pi / 4.0 * (rod.diameter.value**2 - bore**2) * (ratio - 1.0)
        places = [middle] if rod.count == 1 else [middle, middle * np.array([-1.0, 1.0])]
        for place in places:
            total += spot_moments(np.array([area]), place[None])[0]
    return total


def edges_modulus(found: SectionProperties, low: Grid, high: Grid) -> Grid:
    """Return the smaller section modulus of top and bottom edge (k,) [m^3]."""
    up = found.centre[:, 1]
    with np.errstate(divide="ignore", invalid="ignore"):
        modulus = np.minimum(found.inertia_right / (high - up), found.inertia_right / (up - low))
    return np.nan_to_num(modulus)


def places_of(pockets: tuple[Pocket, ...], low: float, high: float) -> list[int]:
    """Return the places at which the body is looked at, in whole millimetres."""
    every = set(range(round(low * 1e3) + 1, round(high * 1e3), EVERY))
    for pocket in pockets:
        for end, step in ((pocket.low[0], 1), (pocket.high[0], -1)):
            every.add(round(end * 1e3) + step)
    return sorted(mm for mm in every if low < mm * 1e-3 < high)


def bare(solid: Solid, mm: int) -> tuple[BaseGeometry, Samples]:
    """Return the bare foam at a place and its moments (6,)."""
    section, cavity = solid.body_section(mm), solid.cavity(mm)
    foam = section if cavity.is_empty else section.difference(cavity)
    return foam, moments(foam)


def sections_left(plane: Plane, cuts: Cuts, pockets: tuple[Pocket, ...]) -> SectionsLeft | None:
    """Return what the pockets leave of the body; none where no body is drawn."""
    solid = cuts.solid
    if not solid.bodies:
        return None
    low = min(float(body.x[0]) for body in solid.bodies)
    high = max(float(body.x[-1]) for body in solid.bodies)
    # The nose a camera looks out of carries nothing ahead of it.
    inside = tuple(p for p in pockets if not p.in_surface and p.side != "front")
    rods = tuple(item for item in plane.items if isinstance(item, Rod))
    ratio = CARBON_OVER_FOAM[plane.airframe.foam]
    wholes, lefts, lows, highs = [], [], [], []
    places = places_of(inside, low, high)
    for mm in places:
        section, whole = cuts.once(("bare", mm), partial(bare, solid, mm))
        here = [hole_at(p) for p in inside if p.low[0] <= mm * 1e-3 <= p.high[0]]
        left = section.difference(shapely.union_all(here)) if here else section
        wholes.append(whole)
        lefts.append((moments(left) if here else whole) + rods_at(rods, mm * 1e-3, ratio))
        _, bottom, _, top = section.bounds
        lows.append(bottom)
        highs.append(top)
    return compared(np.array(places) * 1e-3, (wholes, lefts), (np.array(lows), np.array(highs)))


def compared(
    x: Grid, found: tuple[list[Samples], list[Samples]], edges: tuple[Grid, Grid]
) -> SectionsLeft:
    """Return sections before and after as shares of stiffness and edge strength."""
    whole, left = (properties(np.array(moments)) for moments in found)
    stiff = np.nan_to_num(left.inertia_right / whole.inertia_right)
    edge = edges_modulus(left, *edges) / edges_modulus(whole, *edges)
    return SectionsLeft(
        x=x, whole=whole, left=left, stiffness_kept=stiff, edge_kept=np.nan_to_num(edge)
    )

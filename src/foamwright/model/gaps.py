"""How far the parts keep from each other, from the propeller, and from what they must not touch."""

from dataclasses import dataclass
from itertools import combinations

import numpy as np
import shapely

from foamwright.model.cuts import Cuts
from foamwright.model.pockets import Pocket
from foamwright.plane.boxes import Box
from foamwright.plane.gear import AnyItem, Propeller, Rod
from foamwright.plane.plane import Plane

Ends = tuple[np.ndarray, np.ndarray]

FAR_ALONG = 30
"""How far before and behind a propeller foam is looked for [mm]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Gap:
    """Room between two things."""

    first: str
    """One of them."""
    second: str
    """The other."""
    size: float
    """Room between their boxes [m]; negative as deep as they overlap."""


def ends_of(box: Box) -> Ends:
    """Return the least and greatest corner of a placed box (3,) [m]."""
    middle = np.array([0.0 if value is None else value for value in box.middle])
    half = np.array(box.size) / 2.0
    return middle - half, middle + half


def room(first: Ends, second: Ends) -> float:
    """Return the room between two boxes along their axes [m]; negative where they overlap."""
    apart = np.maximum(first[0] - second[1], second[0] - first[1])
    if float(apart.max()) <= 0.0:
        return float(apart.max())
    return float(np.linalg.norm(np.maximum(apart, 0.0)))


def overlaps(boxes: tuple[tuple[str, Box], ...], within: float) -> tuple[Gap, ...]:
    """Return the gaps between all named boxes that are nearer than `within` [m]."""
    ends = [(name, ends_of(box)) for name, box in boxes]
    found = []
    for (one, first), (other, second) in combinations(ends, 2):
        size = room(first, second)
        if size < within:
            found.append(Gap(first=one, second=other, size=size))
    return tuple(found)


def rod_points(rod: Rod) -> np.ndarray:
    """Return points along a rod (k, 3) [m], both of a pair; its middle where no ends are known."""
    ends = [place for place in (rod.starts, rod.ends) if place is not None]
    if len(ends) < 2:
        ends = [] if rod.at is None else [rod.at]
    points = np.array(
        [[0.0 if v is None else v.value for v in (place.x, place.y, place.z)] for place in ends]
    ).reshape(-1, 3)
    if len(points) == 2:
        points = points[0] + np.linspace(0.0, 1.0, 21)[:, None] * (points[1] - points[0])
    if rod.count == 2:
        points = np.concatenate([points, points * np.array([1.0, -1.0, 1.0])])
    return points


def rod_gap(box: Box, rod: Rod) -> float:
    """Return the room between a box and a rod [m]."""
    low, high = ends_of(box)
    points = rod_points(rod)
    if not points.size:
        return np.inf
    outside = np.maximum(np.maximum(low - points, points - high), 0.0)
    radius = 0.0 if rod.diameter is None else rod.diameter.value / 2.0
    return float(np.linalg.norm(outside, axis=-1).min()) - radius


@dataclass(frozen=True, kw_only=True, slots=True)
class PropellerGap:
    """What a propeller comes near."""

    item: str
    """The propeller."""
    foam: float
    """Room between its disc and the foam beside it, in the plane of the disc [m]."""
    ahead: float
    """From the disc forward to foam within its circle [m]; the far limit where there is none."""
    below: float
    """How far its tip hangs below the lowest foam [m]; negative where the belly lands first."""


def lowest(cuts: Cuts) -> float:
    """Return the lowest foam [m]."""
    front, rear = cuts.solid.extent()
    found = []
    for x in np.linspace(front, rear, 25):
        section = cuts.solid.section(round(x * 1e3))
        if not section.is_empty:
            found.append(section.bounds[1])
    return min(found, default=0.0)


def propeller_gaps(plane: Plane, cuts: Cuts) -> tuple[PropellerGap, ...]:
    """Return the room around each propeller that has a place and a diameter."""
    found = []
    ground = lowest(cuts)
    for item in plane.items:
        if not isinstance(item, Propeller) or item.at is None or item.diameter is None:
            continue
        x, y, z = ((0.0 if v is None else v.value) for v in (item.at.x, item.at.y, item.at.z))
        radius = item.diameter.value / 2.0
        hub = shapely.Point(y, z)
        mm = round(x * 1e3)
        beside = []
        for step in (-3, -1, 1, 3):  # a blade is as deep as that
            section = cuts.solid.section(mm + step)
            if not section.is_empty:
                # Foam around the hub is what carries it, or lies ahead of it: told as `ahead`.
                beside.append(section.distance(hub) - radius)
        disc = hub.buffer(radius)
        ahead = FAR_ALONG * 1e-3
        for step in range(FAR_ALONG):
            if cuts.solid.section(mm - step).intersects(disc):
                ahead = step * 1e-3
                break
        found.append(
            PropellerGap(
                item=item.name,
                foam=min(beside, default=np.inf),
                ahead=ahead,
                below=ground - (z - radius),
            )
        )
    return tuple(found)


def hinge_room(pocket: Pocket, plane: Plane, cuts: Cuts) -> tuple[float, float] | None:
    """Return the room before a pocket to the leading edge and behind it to the hinge [m].

    None where the pocket is not in a wing or tail; infinite room where no hinge is near.
    """
    if not pocket.in_surface:
        return None
    surface = next(s for s in plane.airframe.surfaces if s.name == pocket.host)
    solid = next(s for s in cuts.solid.surfaces if s.name == pocket.host)
    ahead, behind = np.inf, np.inf
    tip = float(solid.y[-1])
    for y in (abs(pocket.low[1]), abs(pocket.high[1])):
        edge, chord = solid.station(y)
        if chord <= 0.0:
            continue
        ahead = min(ahead, pocket.low[0] - edge)
        for control in surface.controls:
            if control.start.value * tip <= y <= control.end.value * tip:
                hinge = edge + (1.0 - control.chord_fraction.value) * chord
                behind = min(behind, hinge - pocket.high[0])
    return float(ahead), float(behind)


def trailing_edge(cuts: Cuts) -> float | None:
    """Return where the wing's trailing edge meets the body, if the body goes on behind it [m]."""
    wing = next((s for s in cuts.solid.surfaces if s.role == "wing"), None)
    if wing is None:
        return None
    edge, chord = float(wing.edge[0]), float(wing.chord[0])
    rear = max((float(body.x[-1]) for body in cuts.solid.bodies), default=0.0)
    return edge + chord if rear > edge + chord + 0.05 else None


def of_kinds(plane: Plane, kinds: tuple[str, ...]) -> tuple[AnyItem, ...]:
    """Return the items of some kinds."""
    return tuple(item for item in plane.items if item.kind in kinds)

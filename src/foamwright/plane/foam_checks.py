"""Objections to what is cut into the foam: walls, hatches and rods that cannot be."""

import math
from collections.abc import Iterator

from foamwright.plane.checks import Objection, Path_, extent
from foamwright.plane.gear import Rod
from foamwright.plane.plane import Plane
from foamwright.quantity import Quantity, show

BEYOND = 0.02
"""How far a rod may stand out of the foam [m]."""


def walls(plane: Plane) -> Iterator[Objection]:
    """Object to walls as thick as the body, and to corners rounder than it."""
    for index, body in enumerate(plane.airframe.bodies):
        smallest = min(min(s.width.value, s.height.value) for s in body.stations)
        path: Path_ = ("airframe", "bodies", index)
        if body.wall is not None and not 0.0 < 2.0 * body.wall.value < smallest:
            yield Objection(
                path=(*path, "wall"),
                what=f"a wall of {body.wall.text} leaves no room in a body "
                f"{show(smallest, 'length')} across",
                expected="less than half of that, or leave it out where the foam is solid",
            )
        for number, station in enumerate(body.stations):
            half = min(station.width.value, station.height.value) / 2.0
            if station.corner is not None and station.corner.value > half + 1e-9:
                yield Objection(
                    path=(*path, "stations", number, "corner"),
                    what=f"a corner of {station.corner.text} is more than round",
                    expected=f"{show(half, 'length')} at most",
                )


def hatches(plane: Plane) -> Iterator[Objection]:
    """Object to hatches that lie beside their body or run backwards."""
    for index, body in enumerate(plane.airframe.bodies):
        low, high = body.stations[0].x.value, body.stations[-1].x.value
        widest = max(max(s.width.value, s.height.value) for s in body.stations)
        for number, hatch in enumerate(body.hatches):
            path: Path_ = ("airframe", "bodies", index, "hatches", number)
            if hatch.rearmost.value <= hatch.foremost.value:
                yield Objection(
                    path=(*path, "rearmost"),
                    what=f"{hatch.rearmost.text} lies ahead of the foremost, {hatch.foremost.text}",
                    expected="x runs aft from the nose",
                )
            elif not low <= hatch.foremost.value < hatch.rearmost.value <= high:
                yield Objection(
                    path=(*path, "foremost"),
                    what=f"the hatch {hatch.name} reaches beyond {body.name}",
                    expected=f"{show(low, 'length')} to {show(high, 'length')}",
                )
            if hatch.width.value > widest:
                yield Objection(
                    path=(*path, "width"),
                    what=f"{hatch.width.text} is wider than {body.name}",
                    expected=f"{show(widest, 'length')} at most",
                )


def half_span(plane: Plane) -> float:
    """Return how far the widest surface reaches from the middle [m]."""
    return max(
        0.0 if s.y is None else s.y.value for w in plane.airframe.surfaces for s in w.stations
    )


def length_of(rod: Rod) -> float:
    """Return how long a rod is [m]; nothing where its ends are not told."""
    if rod.starts is None or rod.ends is None:
        return 0.0
    ends = [
        [0.0 if v is None else v.value for v in (place.x, place.y, place.z)]
        for place in (rod.starts, rod.ends)
    ]
    return math.dist(*ends)


def rods(plane: Plane) -> Iterator[Objection]:
    """Object to rods that are longer than what they lie in, or half told."""
    front, rear = extent(plane)
    side = half_span(plane)
    for index, item in enumerate(plane.items):
        if not isinstance(item, Rod):
            continue
        path: Path_ = ("items", index)
        yield from half_told(item, path)
        for key, place in (("starts", item.starts), ("ends", item.ends)):
            if place is None:
                continue
            y = 0.0 if place.y is None else place.y.value
            if abs(y) > side + BEYOND:
                yield beyond(item, (*path, key, "y"), place.y, f"the wing ends at {mm(side)}")
            if not front - BEYOND <= place.x.value <= rear + BEYOND:
                room = f"the foam reaches from {mm(front)} to {mm(rear)}"
                yield beyond(item, (*path, key, "x"), place.x, room)


def mm(value: float) -> str:
    """Return a length as it is shown."""
    return show(value, "length")


def beyond(item: Rod, path: Path_, place: Quantity | None, room: str) -> Objection:
    """Return the objection to a rod that ends outside the foam."""
    text = "" if place is None else place.text
    what = f"{item.name}, {mm(length_of(item))} long, ends at {text}: longer than the foam"
    return Objection(path=path, what=what, expected=room)


def half_told(item: Rod, path: Path_) -> Iterator[Objection]:
    """Object to a rod with one end, without a diameter, or bored wider than it is."""
    if (item.starts is None) != (item.ends is None):
        key = "ends" if item.ends is None else "starts"
        yield Objection(path=(*path, key), what="a rod has two ends", expected=f"give {key} too")
    if item.starts is not None and item.diameter is None:
        what = "a rod with ends needs a diameter"
        yield Objection(path=(*path, "diameter"), what=what, expected='for instance "1.5 mm"')
    bore, diameter = item.bore, item.diameter
    if bore is not None and diameter is not None and bore.value >= diameter.value:
        what = f"a bore of {bore.text} leaves no wall in {diameter.text}"
        yield Objection(path=(*path, "bore"), what=what)

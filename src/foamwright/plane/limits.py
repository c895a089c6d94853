"""What plain numbers and names in a plane file can be; written quantities look after themselves."""

import math
import re
from collections.abc import Iterator

from foamwright.plane import gear
from foamwright.plane.findings import Path, Told, short
from foamwright.plane.plane import Plane

MOST_ALIKE = 50
"""Most pieces of one item, and most spares of it."""

CELLS = (1, 8)
BLADES = (2, 6)
POLE_PAIRS = (1, 24)
"""From two magnets to the widest flat outrunners."""
C_LABELS = (1.0, 300.0)
FREQUENCIES = (20.0, 10_000.0)
"""From the longest wave of a remote control to the shortest of a camera link [MHz]."""

CURRENCY = re.compile(r"[A-Z]{3}")


def outside(
    path: Path, value: float | None, limits: tuple[float, float], words: str
) -> Iterator[Told]:
    """Tell of a plain number outside its limits, or of one that is none."""
    if value is None or (math.isfinite(value) and limits[0] <= value <= limits[1]):
        return
    yield (
        path,
        f"{short(value)} is no number of {words}",
        f"{limits[0]:g} or more, {limits[1]:g} at most",
    )


def of_item(index: int, item: gear.Item) -> Iterator[Told]:
    """Tell of an item's plain numbers."""
    path: Path = ("items", index)
    yield from outside((*path, "count"), item.count, (1, MOST_ALIKE), "pieces")
    yield from outside((*path, "spares"), item.spares, (0, MOST_ALIKE), "spares")
    if isinstance(item, gear.Pack):
        yield from outside((*path, "cells"), item.cells, CELLS, "cells in a row")
        yield from outside((*path, "c_label"), item.c_label, C_LABELS, "C")
        if item.capacity is not None and item.capacity.value <= 0:
            yield (*path, "capacity"), "an empty pack feeds no motor", 'for instance "450 mAh"'
    if isinstance(item, gear.Motor):
        yield from outside((*path, "pole_pairs"), item.pole_pairs, POLE_PAIRS, "pole pairs")
    if isinstance(item, gear.Propeller):
        yield from outside((*path, "blades"), item.blades, BLADES, "blades")
    if isinstance(item, gear.Radio):
        yield from outside((*path, "frequency"), item.frequency, FREQUENCIES, "megahertz")
    reach = item.reach
    if reach is not None and reach.rearmost.value < reach.foremost.value:
        yield (
            (*path, "reach", "rearmost"),
            f"{reach.rearmost.text} lies ahead of the foremost, {reach.foremost.text}",
            "x runs aft from the nose",
        )


def twins(path: Path, names: list[str], words: str) -> Iterator[Told]:
    """Tell of names that are empty or taken already."""
    for index, name in enumerate(names):
        if not name.strip():
            yield (*path, index, "name"), "is empty", f"give the {words} a name"
        elif name in names[:index]:
            what = f"'{name}' is the name of another {words} already"
            yield (*path, index, "name"), what, "give each its own name"


def named(plane: Plane) -> Iterator[Told]:
    """Tell of names by which two things could be meant."""
    airframe = plane.airframe
    yield from twins(("airframe", "surfaces"), [s.name for s in airframe.surfaces], "surface")
    yield from twins(("airframe", "bodies"), [b.name for b in airframe.bodies], "body")
    items = [item.name for item in plane.items]
    yield from (told for told in twins(("items",), items, "item") if told[1] == "is empty")
    if not plane.name.strip():
        yield ("name",), "is empty", "give the plane a name"


def limits(plane: Plane) -> list[Told]:
    """Return everything that a plain number or a name cannot be."""
    found = [*named(plane)]
    for index, item in enumerate(plane.items):
        found += of_item(index, item)
    for index, thing in enumerate(plane.airframe.protrusions):
        path = ("airframe", "protrusions", index, "count")
        found += outside(path, thing.count, (1, MOST_ALIKE), "pieces")
    for index, surface in enumerate(plane.airframe.surfaces):
        if surface.coordinates is not None and surface.profile != "foil":
            what = f"a {surface.profile} has no section of its own"
            expected = 'take it out, or write profile = "foil"'
            found.append((("airframe", "surfaces", index, "coordinates"), what, expected))
    if CURRENCY.fullmatch(plane.currency) is None:
        what = f"{short(plane.currency)} is no currency code"
        found.append((("currency",), what, 'three capitals, as in "EUR"'))
    low, high = plane.targets.margin_low, plane.targets.margin_high
    if low is not None and high is not None and high.value <= low.value:
        what = f"the most, {high.text}, is not above the least, {low.text}"
        found.append((("targets", "margin_high"), what, 'for instance "8 %" and "12 %"'))
    return found

"""Weighings put in the place of what the plane file planned."""

from collections.abc import Mapping

from foamwright.plane.bench_records import BARE_FOAM, Bench, Weighing
from foamwright.plane.edits import Raw, changed, flattened
from foamwright.plane.filling import label_of
from foamwright.plane.stock import Stock

BARE_MASS = "airframe.bare_mass"
"""Where the plane file holds the mass of the bare foam."""

OTHER_PART = ("stock", "kind", "mass", "cells", "capacity", "diameter", "pitch", "kv")
"""Keys of an item that make it another part when a variant changes them."""


def latest(bench: Bench) -> dict[str, Weighing]:
    """Return the last weighing of each thing: a part may have been exchanged meanwhile."""
    found: dict[str, Weighing] = {}
    for weighing in sorted(bench.weighings, key=lambda entry: entry.date):
        found[weighing.item] = weighing
    return found


def each(weighing: Weighing) -> str:
    """Return the mass of one piece as text, with its spread where one was written."""
    grams = 1e3 / weighing.pieces
    spread = weighing.mass.spread
    around = "" if spread is None else f" ± {spread * grams:.6g} g"
    return f"{weighing.mass.value * grams:.6g} g{around}"


def weighed_keys(bench: Bench, raw: Raw) -> dict[str, object]:
    """Return the keys of the plane file that weighings settle, with the mass of one piece.

    What was weighed and is no longer in the plane is left out, and so is the whole plane: its
    mass is no key of the file.
    """
    names = {item.get("name") for item in items_of(raw)}
    found: dict[str, object] = {}
    for name, weighing in latest(bench).items():
        if name == BARE_FOAM and isinstance(raw.get("airframe"), dict):
            found[BARE_MASS] = each(weighing)
        elif name in names:
            found[f"items.{name}.mass"] = each(weighing)
    return found


def items_of(raw: Raw) -> list[dict[str, object]]:
    """Return the items of a plane as written."""
    items = raw.get("items")
    return [item for item in items if isinstance(item, dict)] if isinstance(items, list) else []


def stand_ins(raw: Raw, masses: Mapping[str, object], stock: Stock) -> dict[str, object]:
    """Return the stock names that items took their other numbers from while they had no mass.

    A written mass says that the builder knows the part, so nothing typical is filled in; a
    weighing settles the mass and leaves the rest as it was.
    """
    found: dict[str, object] = {}
    for item in items_of(raw):
        key = f"items.{item.get('name')}"
        if f"{key}.mass" not in masses or "mass" in item or "stock" in item:
            continue
        kind = item.get("kind")
        for name in (label_of(item), f"typical {kind}"):
            if name is not None and isinstance(kind, str) and stock.knows(name, kind):
                found[f"{key}.stock"] = name
                break
    return found


def with_weighings(raw: Raw, bench: Bench, variant: Mapping[str, object], stock: Stock) -> Raw:
    """Return a plane as planned with what was weighed in place of what was planned.

    Where a variant puts another part in the place of one that was weighed, that weighing says
    nothing of it.
    """
    touched = {key.rsplit(".", 1)[0] for key in flattened(variant) if is_other_part(key)}
    keys = {
        key: mass
        for key, mass in weighed_keys(bench, raw).items()
        if key.removesuffix(".mass") not in touched
    }
    return changed(raw, {**stand_ins(raw, keys, stock), **keys}) if keys else raw


def is_other_part(key: str) -> bool:
    """Return whether a changed key makes an item another part, or takes it out."""
    parts = key.split(".")
    return parts[0] == "items" and (len(parts) == 2 or parts[-1] in OTHER_PART)

"""What could be fitted instead: the neighbours of a part in the stock, as changes."""

from foamwright.plane.gear import AnyItem, Pack, Propeller
from foamwright.quantity import show
from foamwright.questions.case import Case
from foamwright.questions.remedies import Change

PACK_NUMBERS = ("mass", "size", "cells", "capacity", "price", "cell_resistance", "link")
"""Keys of a pack that belong to the old one when another is taken."""

CAPACITIES = (0.30, 0.45, 0.65, 0.85, 1.0, 1.3, 1.5, 2.2)
"""Usual capacities [Ah]; common practice, no source."""


def first_of(case: Case, kind: str) -> AnyItem | None:
    """Return the first item of a kind."""
    return next((item for item in case.plane.items if item.kind == kind), None)


def exchanged(item: AnyItem, stock_name: str, numbers: tuple[str, ...]) -> dict[str, object]:
    """Return the keys that put another stock entry in the place of an item."""
    keys: dict[str, object] = {f"items.{item.name}.{key}": None for key in numbers}
    keys[f"items.{item.name}.stock"] = stock_name
    keys[f"items.{item.name}.owned"] = False
    return keys


def other_packs(case: Case, *, smaller: bool = False, cell_more: bool = False) -> list[Change]:
    """Return the pack's neighbours: next capacity down or up, or one cell more."""
    pack = first_of(case, "pack")
    if not isinstance(pack, Pack) or pack.cells is None or pack.capacity is None:
        return []
    ampere_hours, now = pack.capacity.value / 3600.0, pack.cells
    cells = now + (1 if cell_more else 0)
    if smaller:
        fitting = [c for c in CAPACITIES if c < 0.95 * ampere_hours][-1:]
    elif cell_more:
        fitting = [min(CAPACITIES, key=lambda c: abs(c * cells - ampere_hours * now))]
    else:
        fitting = [c for c in CAPACITIES if c > 1.05 * ampere_hours][:1]
    changes = []
    for capacity in fitting:
        name = f"pack {cells}S {capacity * 1000:.0f}"
        keys = exchanged(pack, name, PACK_NUMBERS)
        changes.append(Change(do=f"Fit a {cells}S {capacity * 1000:.0f} mAh pack", keys=keys))
    return changes


PROPELLER_NUMBERS = (
    "mass",
    "size",
    "diameter",
    "pitch",
    "blades",
    "coefficients",
    "blade",
    "static_reading",
    "price",
    "link",
)
"""Keys of a propeller that belong to the old one when another is taken."""

INCH = 0.0254


def other_propellers(case: Case, steps: tuple[tuple[float, float], ...]) -> list[Change]:
    """Return propellers with other diameter and pitch, given as steps in inches."""
    propeller = first_of(case, "propeller")
    if not isinstance(propeller, Propeller) or not propeller.diameter or not propeller.pitch:
        return []
    diameter = propeller.diameter.value / INCH
    pitch = propeller.pitch.value / INCH
    changes = []
    for wider, steeper in steps:
        d, p = round(2 * (diameter + wider)) / 2, round(2 * (pitch + steeper)) / 2
        if d < 2 or p < 1 or p > 1.4 * d:
            continue
        label = f"{d:g}x{p:g}" + (f"x{propeller.blades}" if propeller.blades != 2 else "")
        keys = exchanged(propeller, f"propeller {label}", PROPELLER_NUMBERS)
        changes.append(Change(do=f"Fit a {label} propeller", keys=keys))
    return changes


def without(case: Case, kinds: tuple[str, ...]) -> list[Change]:
    """Return the changes that leave an item of those kinds at home."""
    changes = []
    for item in case.plane.items:
        if item.kind in kinds and item.mass is not None:
            grams = show(item.mass.value * item.count, "mass", case.plane.units)
            do = f"Leave out {item.name} ({grams})"
            changes.append(Change(do=do, keys={f"items.{item.name}": None}))
    return changes

"""What could make the gear fit: parts turned, moved, opened elsewhere, or standing out."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.model.pockets import Pocket, pocket_of
from foamwright.plane.boxes import boxes_of
from foamwright.plane.gear import AnyItem, Propeller
from foamwright.plane.placement import Place
from foamwright.quantity import Quantity, Units, show
from foamwright.questions.case import Case
from foamwright.questions.fit_checks import Check
from foamwright.questions.fit_rules import fit_rules
from foamwright.questions.remedies import Change, from_to, whole

TRIED_EVERY = 5e-3
"""Step of the places a part is tried at [m]."""

FARTHEST = 0.15
"""How far from where it is drawn a part is tried [m]."""

SPARE = 1.0e-3
"""Skin a change leaves beyond the least, so that the knife may slip a little [m]."""

WAYS = {"flat": "flat", "on edge": "on edge", "across": "across the plane"}
"""How a part may lie, and the words for it."""

OTHER_SIDE = {"top": "bottom", "bottom": "top", "left": "right", "right": "left"}


@dataclass(frozen=True, kw_only=True, slots=True)
class Way:
    """One way to make one part fit."""

    change: Change
    """What to do."""
    update: Mapping[str, object]
    """The same as fields of the item."""


def least_skin(case: Case) -> float:
    """Return the least skin of the plane's foam [m]."""
    return fit_rules().skin[case.plane.airframe.foam].least


def pocket_if(case: Case, item: AnyItem, update: Mapping[str, object]) -> Pocket | None:
    """Return the pocket of an item's first piece with some of its fields changed."""
    changed = item.model_copy(update=dict(update))
    found = [box for box in boxes_of(changed) if box.side != "none"]
    if not found:
        return None
    return pocket_of(found[0], changed, case.computed.cuts, case.plane.airframe)


def at_place(item: AnyItem, place: float) -> Place | None:
    """Return where an item is, moved along to a place [m]."""
    if item.at is None:
        return None
    x = Quantity(value=place, spread=None, dimension="length", text=f"{place * 1e3:.0f} mm")
    return item.at.model_copy(update={"x": x})


def way(item: AnyItem, do: str, told: Mapping[str, object], update: Mapping[str, object]) -> Way:
    """Return a way from keys of the item as told in the plane file."""
    keys = {f"items.{item.name}.{key}": value for key, value in told.items()}
    return Way(change=Change(do=do, keys=keys), update=update)


def ways(case: Case, item: AnyItem) -> Iterator[Way]:
    """Yield the ways to make a part fit, least trouble first."""
    at, name = item.at, item.name
    if at is None:
        return
    deeper = at.z is not None
    for lies, words in WAYS.items():
        if lies != item.lies:
            yield way(item, f"Lay {name} {words}", {"lies": lies}, {"lies": lies})
    if deeper:
        low = {"at": at.model_copy(update={"z": None})}
        yield way(item, f"Set {name} flush with the surface", {"at.z": None}, low)
        for lies, words in WAYS.items():
            if lies != item.lies:
                do = f"Lay {name} {words}, flush with the surface"
                yield way(item, do, {"lies": lies, "at.z": None}, {"lies": lies, **low})
    side = next((p.side for p in case.computed.fit.pockets if p.item == name), "none")
    other = OTHER_SIDE.get(side)
    if other is not None:
        update = {"pocket": other, "at": at.model_copy(update={"z": None})}
        do = f"Open the pocket of {name} to the {other}"
        yield way(
            item, do, {"pocket": other, "at.z": None} if deeper else {"pocket": other}, update
        )
    yield from places(item, case.plane.units)


def places(item: AnyItem, units: Units) -> Iterator[Way]:
    """Yield the item moved along within its reach, nearest places first."""
    here = 0.0 if item.at is None else item.at.x.value
    steps = np.arange(1, round(FARTHEST / TRIED_EVERY) + 1) * TRIED_EVERY
    for step in np.stack([-steps, steps], axis=1).ravel():
        place = round(here + float(step), 3)
        reach = item.reach
        if reach is not None and not reach.foremost.value <= place <= reach.rearmost.value:
            continue
        do = f"Move {item.name} from {from_to(here, place, units)}"
        yield way(item, do, {"at.x": f"{place * 1e3:.0f} mm"}, {"at": at_place(item, place)})


def standing_out(case: Case, item: AnyItem) -> Iterator[Way]:
    """Yield the item standing out of the foam by what its pocket lacks, laid as suits it best."""
    found = []
    for lies in dict.fromkeys((item.lies, *WAYS)):
        pocket = pocket_if(case, item, {"lies": lies})
        if pocket is None or pocket.side not in ("top", "bottom"):
            continue
        out = 0.0 if item.protrudes is None else item.protrudes.value
        lack = float(np.ceil((least_skin(case) + SPARE - pocket.skin + out) * 1e3)) * 1e-3
        if lack < 0.75 * pocket.box.size[2]:
            found.append((lack, lies))
    for lack, lies in sorted(found)[:1]:
        told = f"{lack * 1e3:.0f} mm"
        quantity = Quantity(value=lack, spread=None, dimension="length", text=told)
        turned = "" if lies == item.lies else f", laid {WAYS[lies]}"
        yield way(
            item,
            f"Let {item.name} stand {whole(lack, 'length', case.plane.units)} out of the foam"
            f"{turned}",
            {"protrudes": told, "lies": lies},
            {"protrudes": quantity, "lies": lies},
        )


def clear(case: Case, item: AnyItem, pocket: Pocket) -> bool:
    """Return whether a pocket keeps clear of every other part in the foam."""
    low, high = np.array(pocket.low), np.array(pocket.high)
    for other in case.computed.fit.pockets:
        if other.item != item.name:
            apart = np.maximum(np.array(other.low) - high, low - np.array(other.high))
            if float(apart.max()) < 0.0:
                return False
    return True


def best_way(case: Case, item: AnyItem) -> Way | None:
    """Return the first way that gives skin and room, else the one that leaves the most skin."""
    wanted = least_skin(case) + SPARE
    best: tuple[float, Way] | None = None
    now = pocket_if(case, item, {})
    for found in (*ways(case, item), *standing_out(case, item)):
        pocket = pocket_if(case, item, found.update)
        if pocket is None:
            return None
        room = clear(case, item, pocket)
        if pocket.skin >= wanted and room:
            return found
        if room and (best is None or pocket.skin > best[0]):
            best = (pocket.skin, found)
    if best is None or now is None or best[0] <= now.skin:
        return None
    return best[1]


def higher(case: Case, item: AnyItem, check: Check) -> Way | None:
    """Return the drive mounted as much higher as its propeller needs to clear the foam."""
    if not isinstance(item, Propeller) or item.at is None or check.told.value is None:
        return None
    lack = float(np.ceil((check.told.least + SPARE - check.told.value) * 1e3)) * 1e-3
    keys: dict[str, object] = {}
    for other in case.plane.items:
        if other.kind in ("propeller", "motor") and other.at is not None:
            z = (0.0 if other.at.z is None else other.at.z.value) + lack
            keys[f"items.{other.name}.at.z"] = f"{z * 1e3:.0f} mm"
    do = f"Mount motor and propeller {show(lack, 'length', case.plane.units)} higher"
    return Way(change=Change(do=do, keys=keys), update={})


def changes(case: Case, broken: tuple[Check, ...]) -> list[Change]:
    """Return the best way for each part that breaks a rule, and all of them together first."""
    found: dict[str, Change] = {}
    for check in broken:
        for name in check.items:
            item = next(i for i in case.plane.items if i.name == name)
            if name in found:
                continue
            own = higher(case, item, check) if item.kind == "propeller" else best_way(case, item)
            if own is not None:
                found[name] = own.change
                if check.told.rule == "overlap":
                    break  # one of the two has to move, not both
    if len(found) < 2:
        return list(found.values())
    keys: dict[str, object] = {}
    for change in found.values():
        keys |= change.keys
    do = "; ".join(
        c.do if i == 0 else c.do[0].lower() + c.do[1:] for i, c in enumerate(found.values())
    )
    return [Change(do=do, keys=keys), *found.values()]

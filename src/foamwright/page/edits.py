"""Edits: written at once and whole, refused where somebody else was quicker."""

from collections.abc import Mapping

from foamwright.page.desk import Desk, Sight, differences
from foamwright.page.inputs import path_to, text_of, value_of
from foamwright.page.refusals import Overtaken
from foamwright.page.sketch import placed
from foamwright.plane.edits import Raw
from foamwright.plane.keeping import keep
from foamwright.problems import CallProblem, Finding, PlaneFileProblem

MOST_KEYS = 64
"""Keys one edit may change."""

AXES = ("x", "y", "z")

LONGEST_KEY = 200
"""Most letters of a dotted key."""

FARTHEST = 5000.0
"""How far from the nose a part may be put [mm]."""

Keys = dict[str, object]


def variant_in(body: Mapping[str, object]) -> str | None:
    """Return which variant a request is about."""
    variant = body.get("variant")
    return variant if isinstance(variant, str) and variant else None


def table_in(body: Mapping[str, object], name: str) -> dict[str, object]:
    """Return a table of a request; raises CallProblem for anything else."""
    found = body.get(name, {})
    if not isinstance(found, dict) or len(found) > MOST_KEYS:
        raise CallProblem(f"{name} is no table", expected=f"at most {MOST_KEYS} keys and values")
    return found


def moves_in(sight: Sight, body: Mapping[str, object]) -> Keys:
    """Return where parts were moved to, as keys of the plane file with their spreads kept."""
    keys: Keys = {}
    items = {item.name: item for item in sight.loaded.plane.items}
    for name, axes in table_in(body, "moves").items():
        if name not in items or not isinstance(axes, dict):
            raise CallProblem(f"there is no part '{name}'", expected="a part of the plane file")
        for axis, to in axes.items():
            number = isinstance(to, int | float) and not isinstance(to, bool)
            if axis not in AXES or not number or not -FARTHEST <= to <= FARTHEST:
                raise CallProblem(f"'{name}' cannot be there", expected="millimetres along x, y, z")
            keys[f"items.{name}.at.{axis}"] = placed(items[name].at, axis, float(to))
    return keys


def tried_in(sight: Sight, body: Mapping[str, object]) -> Keys:
    """Return what is only tried: a remedy's keys, then the moves on top of it."""
    return {**table_in(body, "trial"), **moves_in(sight, body)}


def fields_in(sight: Sight, body: Mapping[str, object]) -> Keys:
    """Return what was typed into fields, as keys of the plane file."""
    keys: Keys = {}
    for key, text in table_in(body, "fields").items():
        if not isinstance(text, str):
            raise CallProblem(f"{key} is no text", expected="what was typed")
        keys[key] = value_of(sight.written, key, text)
    return keys


def found_at(raw: Raw, key: str) -> object:
    """Return what is written at a dotted key; none where nothing is."""
    place: object = raw
    for part in path_to(raw, key):
        if isinstance(place, Mapping):
            place = place.get(str(part))
        elif isinstance(place, list) and isinstance(part, int) and part < len(place):
            place = place[part]
        else:
            return None
    return place


def overtaken(desk: Desk, sight: Sight, body: Mapping[str, object]) -> Overtaken | None:
    """Return what was changed since a tab looked; none if it saw the file as it is."""
    seen = body.get("revision")
    if seen == sight.revision:
        return None
    before = desk.seen(str(seen), sight.variant)
    if before is None:  # seen before this server started: the tab says what it saw
        was = {key: text for key, text in table_in(body, "was").items() if isinstance(text, str)}
        changes: list[tuple[str, object, object]] = [
            (key, text, found_at(sight.written, key))
            for key, text in was.items()
            if text != said(found_at(sight.written, key))
        ]
    else:
        changes = differences(before, sight.written)
    told = tuple(f"{key}: {said(old)} is now {said(new)}" for key, old, new in changes[:8])
    return Overtaken(told, sight.revision)


def said(value: object) -> str:
    """Return a value in words short enough for a sentence."""
    if value is None:
        return "nothing"
    text = text_of(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def checked(keys: Keys) -> None:
    """Refuse keys that cannot be written from a field."""
    for key, value in keys.items():
        if not key or len(key) > LONGEST_KEY or key.partition(".")[0] == "variants":
            raise PlaneFileProblem((Finding(what="is no key that can be written here", key=key),))
        if isinstance(value, dict | list) and hollow(value):
            what = "has nothing inside where something is wanted"
            raise PlaneFileProblem((Finding(what=what, key=key),))


def hollow(value: object) -> bool:
    """Return whether there is a nothing anywhere inside, which no plane file can hold."""
    if isinstance(value, dict):
        return any(hollow(inner) for inner in value.values())
    return any(hollow(inner) for inner in value) if isinstance(value, list) else value is None


def edited(desk: Desk, body: Mapping[str, object]) -> dict[str, object]:
    """Write an edit and return how to take it back; raises Overtaken, or what is wrong with it."""
    with desk.lock:
        sight = desk.sight(variant_in(body))
        problem = overtaken(desk, sight, body)
        if problem is not None:
            raise problem
        keys = {**table_in(body, "keys"), **fields_in(sight, body), **moves_in(sight, body)}
        checked(keys)
        before = {key: found_at(sight.written, key) for key in keys}
        keep(sight.loaded, keys, sight.variant)
        after = desk.sight(sight.variant)
        return {"revision": after.revision, "undo": {"keys": before}}


def kept(desk: Desk, body: Mapping[str, object]) -> dict[str, object]:
    """Write what was tried as a variant of its own."""
    name = body.get("name")
    if not isinstance(name, str):
        raise CallProblem("the variant has no name", expected="a name")
    with desk.lock:
        sight = desk.sight(variant_in(body))
        problem = overtaken(desk, sight, body)
        if problem is not None:
            raise problem
        if name.strip() in sight.loaded.variants:
            raise PlaneFileProblem(
                (Finding(what=f"there is a variant '{name}' already", expected="another name"),)
            )
        keys = {**own_keys(desk, sight), **tried_in(sight, body)}
        checked(keys)
        keep(sight.loaded, keys, name.strip())
        return {"variant": name.strip(), "revision": desk.revision()}


def own_keys(desk: Desk, sight: Sight) -> Keys:
    """Return what the variant on the desk changes, so that a new one builds on it."""
    if sight.variant is None:
        return {}
    plain = desk.sight(None)
    return {key: new for key, _, new in differences(plain.written, sight.written)}

"""Changing a plane as plain data: dotted keys, list entries addressed by their name."""

import copy
import difflib
from collections.abc import Mapping

from foamwright.problems import Finding, PlaneFileProblem

Raw = dict[str, object]
"""A plane as the TOML parser gives it."""

REMOVE = "remove"
"""`{ remove = true }` takes an entry away: TOML has no way to write nothing."""


LISTS = ("items", "surfaces", "controls", "bodies", "protrusions")
"""Keys that hold lists of named entries."""


def refused(key: str, what: str, expected: str = "") -> PlaneFileProblem:
    """Return the problem with a changed key."""
    return PlaneFileProblem((Finding(what=what, expected=expected, key=key),))


def is_removal(value: object) -> bool:
    """Return whether a value means that the key goes."""
    return value is None or (isinstance(value, Mapping) and dict(value) == {REMOVE: True})


def index_in(entries: list[object], name: str, key: str, *, may_add: bool) -> int | None:
    """Return the index of a list entry by name or number; none for one that may be added."""
    names = [str(entry.get("name", "")) for entry in entries if isinstance(entry, dict)]
    if name in names:
        return names.index(name)
    if name.isdigit() and int(name) < len(entries):
        return int(name)
    if may_add:
        return None
    near = difflib.get_close_matches(name, names, n=1, cutoff=0.3) or names
    raise refused(key, f"there is no '{name}'", "nearest: " + ", ".join(near))


def step(place: object, part: str, key: str) -> object:
    """Return what lies one part further down."""
    if isinstance(place, list):
        index = index_in(place, part, key, may_add=False)
        return place[index or 0]
    if isinstance(place, dict):
        return place.setdefault(part, [] if part in LISTS else {})
    raise refused(key, f"'{part}' leads into a plain value")


def changed_entry(entries: list[object], part: str, key: str, value: object) -> None:
    """Change, add or remove a whole list entry."""
    index = index_in(entries, part, key, may_add=True)
    if is_removal(value):
        if index is None:
            index_in(entries, part, key, may_add=False)
        else:
            entries.pop(index)
        return
    if not isinstance(value, Mapping):
        raise refused(key, "a whole entry wants a table", 'for instance { mass = "5 g" }')
    if index is None:
        entries.append({"name": part, **value})
    else:
        entry = entries[index]
        if isinstance(entry, dict):
            entry.update(copy.deepcopy(dict(value)))


def change(raw: Raw, key: str, value: object) -> None:
    """Change one dotted key in place."""
    parts = key.split(".")
    place: object = raw
    for part in parts[:-1]:
        place = step(place, part, key)
    last = parts[-1]
    if isinstance(place, list):
        changed_entry(place, last, key, value)
    elif not isinstance(place, dict):
        raise refused(key, f"'{last}' leads into a plain value")
    elif is_removal(value):
        place.pop(last, None)
    elif isinstance(place.get(last), list) and isinstance(value, Mapping):
        for name, entry in value.items():
            change(raw, f"{key}.{name}", entry)
    else:
        place[last] = copy.deepcopy(value)


def changed(raw: Raw, changes: Mapping[str, object]) -> Raw:
    """Return a plane with some dotted keys changed; the first is left as it is."""
    found = copy.deepcopy(raw)
    for key, value in changes.items():
        change(found, key, value)
    return found


def flattened(table: Mapping[str, object], prefix: str = "") -> dict[str, object]:
    """Return nested tables as dotted keys, down to what is no table or a whole list entry."""
    flat: dict[str, object] = {}
    for name, value in table.items():
        key = f"{prefix}{name}"
        whole = key.startswith("items.") and key.count(".") == 1
        if isinstance(value, Mapping) and not whole and not is_removal(value):
            flat.update(flattened(value, f"{key}."))
        else:
            flat[key] = value
    return flat


def path_of(raw: Raw, key: str) -> tuple[str | int, ...]:
    """Return a dotted key as a path, list entries by their number; empty if it leads nowhere."""
    path: tuple[str | int, ...] = ()
    place: object = raw
    for part in key.split("."):
        if isinstance(place, list):
            names = [e.get("name") if isinstance(e, dict) else None for e in place]
            index = names.index(part) if part in names else int(part) if part.isdigit() else -1
            if not 0 <= index < len(place):
                return ()
            path, place = (*path, index), place[index]
        else:
            path = (*path, part)
            place = place.get(part) if isinstance(place, dict) else None
    return path

"""What validation found, in the words of someone who reads along."""

import difflib
from collections.abc import Mapping
from typing import Literal, get_args, get_origin

from pydantic_core import ErrorDetails

from foamwright.plane import gear
from foamwright.plane.edits import Raw
from foamwright.plane.placement import Written
from foamwright.plane.plane import Plane

Path = tuple[str | int, ...]

Told = tuple[Path, str, str]
"""Where a finding is, what is wrong and what would be right."""

KINDS: dict[str, type[Written]] = {
    "motor": gear.Motor,
    "propeller": gear.Propeller,
    "pack": gear.Pack,
    "esc": gear.SpeedController,
    "servo": gear.Servo,
    "regulator": gear.Regulator,
    "receiver": gear.Radio,
    "video transmitter": gear.Radio,
    "rod": gear.Rod,
}
"""Records of the kinds of item that have keys of their own; all others are boards."""

KINDS_OF_ITEMS: tuple[str, ...] = (
    *KINDS,
    *get_args(gear.Board.model_fields["kind"].annotation),
)
"""All of them."""

SHAPES = {
    "string_type": ("is no text", 'write it in quotes, as in "..."'),
    "int_type": ("is no whole number", "write a number without quotes, point or unit"),
    "float_type": ("is no plain number", "write a number without quotes or unit"),
    "bool_type": ("is neither true nor false", "write true or false without quotes"),
    "tuple_type": ("is no list", "write it in brackets, as in [ ... ]"),
    "model_type": ("is no table", "write it in braces, as in { ... }"),
    "model_attributes_type": ("is no table", "write it in braces, as in { ... }"),
    "dict_type": ("is no table", "write it in braces, as in { ... }"),
    "finite_number": ("is no finite number", "write a plain number"),
}
"""What pydantic's error types mean to someone who writes TOML."""

SET_HERE = "from_stock"
"""A key that reading sets; nobody writes it."""

LONGEST = 60
"""Most characters of what was written that are repeated in a message."""


def key_of(raw: Raw, path: Path) -> str:
    """Return a path as dotted key, list entries by their name."""
    parts: list[str] = []
    place: object = raw
    for part in path:
        place = inside(place, part)
        name = place.get("name") if isinstance(place, Mapping) else None
        parts.append(name if isinstance(part, int) and isinstance(name, str) else str(part))
    return ".".join(parts)


def inside(place: object, part: str | int) -> object:
    """Return what lies at one part, or nothing."""
    if isinstance(place, Mapping):
        return place.get(part)
    if isinstance(place, list | tuple) and isinstance(part, int) and part < len(place):
        return place[part]
    return None


def record_of(raw: Raw, path: Path) -> type[Written] | None:
    """Return the record that the last key of a path belongs to."""
    record: type[Written] | None = Plane
    parts = path[:-1]
    if path[:1] == ("items",) and len(path) > 2:
        place = inside(inside(raw, "items"), path[1])
        kind = str(place.get("kind")) if isinstance(place, Mapping) else ""
        record, parts = KINDS.get(kind, gear.Board), path[2:-1]
    for part in parts:
        if isinstance(part, int) or record is None:
            continue
        field = record.model_fields.get(part)
        record = None if field is None else record_in(field.annotation)
    return record


def known_keys(raw: Raw, path: Path) -> tuple[str, ...]:
    """Return the keys allowed where a path ends."""
    record = record_of(raw, path)
    return () if record is None else tuple(key for key in record.model_fields if key != SET_HERE)


def choices(raw: Raw, path: Path) -> tuple[str, ...]:
    """Return the words allowed at a path, if it allows only some."""
    record = record_of(raw, path)
    field = None if record is None else record.model_fields.get(str(path[-1]))
    if field is None:
        return ()
    # A key that may be left out is one of some words, or none.
    either = (field.annotation, *get_args(field.annotation))
    words = [get_args(one) for one in either if get_origin(one) is Literal]
    return tuple(str(word) for word in words[0]) if words else ()


def record_in(annotation: object) -> type[Written] | None:
    """Return the record inside an annotation such as `tuple[Surface, ...] | None`."""
    if isinstance(annotation, type) and issubclass(annotation, Written):
        return annotation
    for inner in getattr(annotation, "__args__", ()):
        found = record_in(inner)
        if found is not None:
            return found
    return None


def plain_path(location: Path) -> Path:
    """Return pydantic's location without the tag it puts after an item's index."""
    if location[:1] == ("items",) and len(location) > 2:
        return (*location[:2], *location[3:])
    return location


def listed(words: tuple[str, ...]) -> str:
    """Return words as a list to choose from."""
    return "one of " + ", ".join(f'"{word}"' for word in words)


def nearest(word: str, words: tuple[str, ...], otherwise: str) -> str:
    """Return a question after the nearest of some words, or what else would be right."""
    near = difflib.get_close_matches(word, words, n=1, cutoff=0.5)
    return f"did you mean {near[0]}?" if near else otherwise


def missing(raw: Raw, path: Path) -> str:
    """Return what to add for a missing key."""
    words = choices(raw, path)
    if words:
        return f"add it, {listed(words)}"
    record = record_of(raw, path)
    field = None if record is None else record.model_fields.get(str(path[-1]))
    whole = field is not None and record_in(field.annotation) is not None
    return "add it" if whole else f'add {path[-1]} = "..."'


def origin(raw: Raw, path: Path) -> str:
    """Return a remark on a key that the builder never wrote: it came with the stock entry."""
    if path[:1] != ("items",) or len(path) < 3:
        return ""
    item = inside(inside(raw, "items"), path[1])
    if not isinstance(item, Mapping) or "stock" not in item or path[2] in item:
        return ""
    return "" if path[2] in ("kind", "name") else f" (from the stock: {short(item['stock'])})"


def short(written: object) -> str:
    """Return what was written, cut off where it is long."""
    text = repr(written)
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 4]}..."


def finding_of(error: ErrorDetails, raw: Raw) -> Told:
    """Return where a validation error is, what is wrong and what would be right."""
    path = plain_path(error["loc"])
    kind = error["type"]
    context = error.get("ctx", {})
    if kind in ("union_tag_invalid", "union_tag_not_found"):
        return of_kind(path, error["input"])
    what, expected = error["msg"][:1].lower() + error["msg"][1:], ""
    if kind == "quantity":
        what, expected = str(context["what"]), str(context["expected"])
    elif kind == "missing":
        what, expected = "is missing", missing(raw, path)
    elif kind == "extra_forbidden":
        keys = known_keys(raw, path)
        what, expected = "is no key here", nearest(str(path[-1]), keys, "take it out")
    elif kind == "literal_error":
        words = choices(raw, path)
        what = f"{short(error['input'])} is not one of the words known here"
        expected = nearest(str(error["input"]), words, listed(words))
    elif kind in SHAPES:
        what, expected = f"{short(error['input'])} {SHAPES[kind][0]}", SHAPES[kind][1]
    return path, what, expected


def of_kind(path: Path, item: object) -> Told:
    """Return what is wrong with an item whose kind is missing or unknown."""
    words = KINDS_OF_ITEMS
    kind = item.get("kind") if isinstance(item, Mapping) else None
    if kind is None:
        return (*path, "kind"), "is missing", f"add it, {listed(words)}"
    what = f"{short(kind)} is no kind of item"
    return (*path, "kind"), what, nearest(str(kind), words, listed(words))

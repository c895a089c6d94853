"""Everything that is written, as fields: read from the plane file, grouped as a builder would."""

import types
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, Union, get_args, get_origin

from foamwright.page.desk import Reading, Sight, differences
from foamwright.plane.edits import Raw
from foamwright.plane.findings import known_keys, record_in, record_of
from foamwright.problems import Finding, PlaneFileProblem

GROUPS = {
    "": "The plane",
    "targets": "What you wish for",
    "site": "Where it flies",
    "thrower": "Who throws it",
    "airframe": "The bare foam",
}
"""Headings of what is no part."""

FIXED = ("name", "kind")
"""Keys of an entry that say what it is: they are told in its heading."""

PLAIN = {bool: "yes or no", int: "whole number", float: "number"}
"""What a field takes that is no text."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Entry:
    """One field."""

    key: str
    """Dotted key."""
    label: str
    """The words before it."""
    text: str
    """What is written, as the builder would type it."""
    choices: tuple[str, ...] = ()
    """All it can be."""
    remark: str = ""
    """What the bench notes tell instead."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Group:
    """Fields under one heading."""

    key: str
    """Dotted key all of them begin with; empty for the plane itself."""
    heading: str
    """The words above them."""
    kind: str
    """What it is: a part's kind, or nothing."""
    entries: tuple[Entry, ...]
    """The fields."""
    unsaid: tuple[str, ...]
    """Keys that could be told as well."""
    removable: bool = False
    """Whether all of it can be taken out."""


def words_of(key: str) -> str:
    """Return a key as words."""
    return key.replace("_", " ").replace(".", " · ")


def text_of(value: object) -> str:
    """Return a value of the plane file as it is typed into a field."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def annotation_of(raw: Raw, path: tuple[str | int, ...]) -> object:
    """Return what kind of value a path holds; none for a key nobody knows."""
    record = record_of(raw, path)
    field = None if record is None else record.model_fields.get(str(path[-1]))
    return None if field is None else field.annotation


def choices_in(annotation: object) -> tuple[str, ...]:
    """Return the words allowed by an annotation; yes and no for a truth."""
    if annotation is bool:
        return ("yes", "no")
    if get_origin(annotation) is Literal:
        return tuple(str(word) for word in get_args(annotation))
    return ()


def plain_type(annotation: object) -> type | None:
    """Return whether a field takes a truth, a whole number or a number; none for a text."""
    options = (annotation,)
    if get_origin(annotation) in (Union, types.UnionType):
        options = get_args(annotation)
    return next((kind for kind in PLAIN if kind in options), None)


def path_to(raw: Raw, key: str) -> tuple[str | int, ...]:
    """Return a dotted key as a path, entries of lists by number, as far as it leads."""
    path: list[str | int] = []
    place: object = raw
    for part in key.split("."):
        if isinstance(place, list):
            names = [e.get("name") if isinstance(e, Mapping) else None for e in place]
            at = names.index(part) if part in names else int(part) if part.isdigit() else len(names)
            path.append(at)
            place = place[at] if at < len(place) else None
        else:
            path.append(part)
            place = place.get(part) if isinstance(place, Mapping) else None
    return tuple(path)


def value_of(raw: Raw, key: str, text: str) -> object:
    """Return what was typed into a field as the plane file holds it; nothing takes the key away."""
    text = text.strip()
    if not text:
        return None
    kind = plain_type(annotation_of(raw, path_to(raw, key)))
    if kind is None:
        return text
    if kind is bool:
        if text.lower() in ("yes", "true", "no", "false"):
            return text.lower() in ("yes", "true")
    else:
        try:
            return kind(text)
        except ValueError:
            pass
    raise PlaneFileProblem((Finding(what=f"'{text}' is no {PLAIN[kind]}", key=key),))


def leaves(raw: Raw, value: object, key: str, root: int) -> Iterator[Entry]:
    """Yield the fields of a value, tables and lists opened."""
    if isinstance(value, Mapping):
        for name, inner in value.items():
            if name not in FIXED or key.count(".") + 1 != root or not root:
                yield from leaves(raw, inner, f"{key}.{name}" if key else str(name), root)
    elif isinstance(value, list):
        for at, inner in enumerate(value):
            name = inner.get("name") if isinstance(inner, Mapping) else None
            yield from leaves(raw, inner, f"{key}.{name or at}", root)
    else:
        label = ".".join(key.split(".")[root:])
        choices = choices_in(annotation_of(raw, path_to(raw, key)))
        yield Entry(key=key, label=words_of(label), text=text_of(value), choices=choices)


def simple(raw: Raw, key: str) -> bool:
    """Return whether a key can be told in one field."""
    found = annotation_of(raw, path_to(raw, key))
    return found is not None and record_in(found) is None


def unsaid(raw: Raw, key: str, written: Mapping[str, object]) -> tuple[str, ...]:
    """Return keys of a record that are not written yet, those of tables inside it opened."""
    found: list[str] = []
    start = f"{key}." if key else ""
    for name in known_keys(raw, (*path_to(raw, key), "name") if key else ("name",)):
        whole = f"{start}{name}"
        inner = record_in(annotation_of(raw, path_to(raw, whole)))
        told = written.get(name)
        if inner is None:
            if told is None:
                found.append(whole)
        elif (told is None or isinstance(told, Mapping)) and key:
            found += [f"{whole}.{k}" for k in inner.model_fields if k not in (told or {})]
    return tuple(k for k in found if simple(raw, k) and k.rpartition(".")[2] not in FIXED)


def group_of(raw: Raw, key: str, value: Mapping[str, object], heading: str) -> Group:
    """Return one record as a group of fields."""
    root = key.count(".") + 1 if key else 0
    own = {k: v for k, v in value.items() if key or k in known_keys(raw, ("name",))}
    if not key:
        own = {k: v for k, v in own.items() if not isinstance(v, Mapping | list)}
    item = key.startswith("items.")
    return Group(
        key=key,
        heading=heading,
        kind=str(value.get("kind") or value.get("stock") or "") if item else "",
        entries=tuple(leaves(raw, own, key, root)),
        unsaid=unsaid(raw, key, value),
        removable=item,
    )


def parts_of(raw: Raw) -> Iterator[Group]:
    """Yield surfaces, bodies and parts, each with its fields."""
    airframe = raw.get("airframe")
    if isinstance(airframe, Mapping):
        own = {k: v for k, v in airframe.items() if not isinstance(v, list)}
        yield group_of(raw, "airframe", own, GROUPS["airframe"])
        for name, entries in airframe.items():
            for at, entry in enumerate(entries if isinstance(entries, list) else ()):
                if isinstance(entry, Mapping):
                    told = str(entry.get("name", at))
                    yield group_of(raw, f"airframe.{name}.{told}", entry, told)
    items = raw.get("items")
    for at, entry in enumerate(items if isinstance(items, list) else ()):
        if isinstance(entry, Mapping):
            told = str(entry.get("name", at))
            yield group_of(raw, f"items.{told}", entry, told)


def groups(sight: Sight | Reading) -> tuple[Group, ...]:
    """Return everything that is written, as fields."""
    raw = sight.written
    found = [group_of(raw, "", raw, GROUPS[""])]
    for key in ("targets", "site", "thrower"):
        value = raw.get(key)
        found.append(group_of(raw, key, value if isinstance(value, Mapping) else {}, GROUPS[key]))
    found += parts_of(raw)
    remarks = {
        key: f"the bench notes say {text_of(now)}"
        for key, _, now in differences(raw, sight.loaded.raw)
        if now is not None
    }
    return tuple(with_remarks(group, remarks) for group in found)


def with_remarks(group: Group, remarks: Mapping[str, str]) -> Group:
    """Return a group whose fields say what the bench notes tell instead."""
    return Group(
        key=group.key,
        heading=group.heading,
        kind=group.kind,
        entries=tuple(
            Entry(
                key=e.key,
                label=e.label,
                text=e.text,
                choices=e.choices,
                remark=remarks.get(e.key, ""),
            )
            for e in group.entries
        ),
        unsaid=group.unsaid,
        removable=group.removable,
    )

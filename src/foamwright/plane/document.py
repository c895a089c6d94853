"""The plane file: read with every problem told at once, rewritten with comments kept."""

import difflib
import hashlib
import os
import tempfile
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from foamwright.plane import gear
from foamwright.plane.checks import objections
from foamwright.plane.edits import Raw, changed, flattened
from foamwright.plane.placement import Written
from foamwright.plane.plane import Plane
from foamwright.plane.positions import line_of, lines_of
from foamwright.plane.stock import Stock
from foamwright.plane.stock import stock as known_stock
from foamwright.problems import CallProblem, Finding, InputProblem, PlaneFileProblem, WriteProblem

FILE_NAME = "plane.toml"
LARGEST = 2_000_000
"""Largest plane file read [bytes]."""

ITEM: TypeAdapter[gear.AnyItem] = TypeAdapter(gear.AnyItem)

LABELS = {
    "pack": ("cells", "capacity"),
    "motor": ("stator_diameter", "stator_height", "kv"),
    "propeller": ("diameter", "pitch"),
}
"""Keys from which the stock can make an item of a kind that names no entry."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LoadedPlane:
    """A plane and where it came from."""

    plane: Plane
    """Valid, variant and stock merged."""
    folder: Path
    """Where other files are looked for."""
    file: Path
    """The plane file."""
    variant: str | None
    """Which variant was merged."""
    variants: tuple[str, ...]
    """Which there are."""
    raw: Raw
    """As written with the variant merged, without the stock."""
    stock: Stock
    """The shipped stock with the user's own."""
    digest: str
    """Of the text that was read."""
    lines: Mapping[tuple[str | int, ...], int]
    """Which line a path stands on."""


def plane_file(path: Path) -> Path:
    """Return the plane file of a folder or file."""
    file = path / FILE_NAME if path.is_dir() else path
    if not file.is_file():
        what = f"there is no {FILE_NAME}" if path.is_dir() else "there is no such file"
        raise PlaneFileProblem(
            (Finding(what=what, expected="foamwright new makes one", file=file),)
        )
    return file


def text_of(file: Path) -> str:
    """Return a plane file's text."""
    if file.stat().st_size > LARGEST:
        size = file.stat().st_size / 1e6
        finding = Finding(what=f"is {size:.0f} MB large", expected="2 MB at most", file=file)
        raise PlaneFileProblem((finding,))
    try:
        return file.read_bytes().decode("utf-8")
    except UnicodeDecodeError as error:
        finding = Finding(what="is no UTF-8 text", expected="save it as UTF-8", file=file)
        raise PlaneFileProblem((finding,)) from error


def parsed(text: str, file: Path) -> Raw:
    """Return the text as plain data."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        words = str(error)
        line = None
        if "(at line " in words:
            words, _, rest = words.partition(" (at line ")
            line = int(rest.split(",")[0])
        finding = Finding(what=f"is not TOML: {words}", file=file, line=line)
        raise PlaneFileProblem((finding,)) from error


def frozen(value: object) -> object:
    """Return plain data with tuples for lists, as strict records want it."""
    if isinstance(value, Mapping):
        return {key: frozen(entry) for key, entry in value.items()}
    if isinstance(value, list | tuple):
        return tuple(frozen(entry) for entry in value)
    return value


def label_of(item: Mapping[str, object]) -> str | None:
    """Return the stock name that an item's own label makes, if it says enough."""
    kind = item.get("kind")
    if not isinstance(kind, str) or any(key not in item for key in LABELS.get(kind, ("\0",))):
        return None
    try:
        known = ITEM.validate_python(frozen({"name": "x", **item}))
    except ValidationError:
        return None  # told with its line later
    if isinstance(known, gear.Pack) and known.capacity is not None:
        return f"{known.cells}S {known.capacity.value / 3.6:.0f}"
    if isinstance(known, gear.Propeller) and known.diameter and known.pitch:
        d, p = known.diameter.value / 0.0254, known.pitch.value / 0.0254
        return f"{d:.4g}x{p:.4g}x{known.blades}"
    if isinstance(known, gear.Motor) and known.kv and known.stator_diameter:
        height = 0.0 if known.stator_height is None else known.stator_height.value
        size = f"{known.stator_diameter.value * 1e3:02.0f}{height * 1e3:02.0f}"
        return f"{size} {known.kv.value * 60:.0f}"
    return None


def stock_entry(item: Mapping[str, object], stock: Stock) -> dict[str, object]:
    """Return what the stock knows of an item: by name, by label, or what is typical."""
    kind = item.get("kind")
    kind = kind if isinstance(kind, str) else None
    named = item.get("stock")
    if isinstance(named, str):
        return stock.item(named, kind)
    if kind is None or "mass" in item:
        return {}
    label = label_of(item)
    if label is not None:
        try:
            return stock.item(label, kind)
        except PlaneFileProblem:
            return stock.typical(kind)  # a label no pattern knows; the spread is wide
    return stock.typical(kind)


def with_stock(raw: Raw, stock: Stock) -> tuple[Raw, list[tuple[int, Finding]]]:
    """Return the plane with every item filled from the stock, and names it does not know."""
    items = raw.get("items", [])
    if not isinstance(items, list):
        return raw, []
    filled: list[object] = []
    findings = []
    for index, item in enumerate(items):
        if not isinstance(item, dict):
            filled.append(item)
            continue
        try:
            entry = stock_entry(item, stock)
        except PlaneFileProblem as problem:
            findings.append((index, problem.findings[0]))
            entry = {}
        taken = tuple(key for key in entry if key not in item and key != "kind")
        filled.append({**entry, **item, "from_stock": taken})
    return {**raw, "items": filled}, findings


def key_of(raw: Raw, path: tuple[str | int, ...]) -> str:
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


def known_keys(raw: Raw, path: tuple[str | int, ...]) -> tuple[str, ...]:
    """Return the keys allowed beside an unknown one, found by its nearest record."""
    kinds: dict[str, type[Written]] = {
        "motor": gear.Motor,
        "propeller": gear.Propeller,
        "pack": gear.Pack,
        "esc": gear.SpeedController,
        "servo": gear.Servo,
        "regulator": gear.Regulator,
        "receiver": gear.Radio,
        "video transmitter": gear.Radio,
    }
    if path[:1] == ("items",) and len(path) == 3:
        place = inside(inside(raw, "items"), path[1])
        kind = str(place.get("kind")) if isinstance(place, Mapping) else ""
        return tuple(kinds.get(kind, gear.Board).model_fields)
    record: type[Written] | None = Plane
    for part in path[:-1]:
        if isinstance(part, int) or record is None:
            continue
        field = record.model_fields.get(part)
        record = None if field is None else record_in(field.annotation)
    return () if record is None else tuple(record.model_fields)


def record_in(annotation: object) -> type[Written] | None:
    """Return the record inside an annotation such as `tuple[Surface, ...] | None`."""
    if isinstance(annotation, type) and issubclass(annotation, Written):
        return annotation
    for inner in getattr(annotation, "__args__", ()):
        found = record_in(inner)
        if found is not None:
            return found
    return None


def plain_path(location: tuple[str | int, ...]) -> tuple[str | int, ...]:
    """Return pydantic's location without the tag it puts after an item's index."""
    if location[:1] == ("items",) and len(location) > 2:
        return (*location[:2], *location[3:])
    return location


def finding_of(error: ErrorDetails, raw: Raw) -> tuple[tuple[str | int, ...], str, str]:
    """Return where a validation error is, what is wrong and what would be right."""
    path = plain_path(error["loc"])
    kind = error["type"]
    context = error.get("ctx", {})
    if kind == "quantity":
        return path, str(context["what"]), str(context["expected"])
    if kind == "missing":
        return path, "is missing", "add it"
    if kind == "extra_forbidden":
        near = difflib.get_close_matches(str(path[-1]), known_keys(raw, path), n=1, cutoff=0.5)
        return path, "is no key here", f"did you mean {near[0]}?" if near else "take it out"
    if kind == "literal_error":
        return path, f"'{error['input']}' is not one of them", f"one of {context['expected']}"
    if kind in ("union_tag_invalid", "union_tag_not_found"):
        expected = str(context.get("expected_tags", "a kind such as 'motor'"))
        return (*path, "kind"), "is no kind of item", f"one of {expected}"
    return path, error["msg"][:1].lower() + error["msg"][1:], ""


def validated(
    raw: Raw, stock: Stock, base: tuple[Path, Path, Mapping[tuple[str | int, ...], int]]
) -> Plane:
    """Return the plane, or raise PlaneFileProblem with everything that is wrong with it.

    `base` is the file, its folder and the lines of its keys.
    """
    file, folder, lines = base
    filled, unknown = with_stock(raw, stock)
    findings = [
        (("items", index, "stock"), finding.what, finding.expected) for index, finding in unknown
    ]
    plane = None
    try:
        plane = Plane.model_validate(frozen({k: v for k, v in filled.items() if k != "variants"}))
    except ValidationError as error:
        findings += [finding_of(detail, raw) for detail in error.errors()]
    if plane is not None and not findings:
        findings += [(o.path, o.what, o.expected) for o in objections(plane, folder)]
    if findings or plane is None:
        raise PlaneFileProblem(
            tuple(
                Finding(
                    what=what,
                    expected=expected,
                    file=file,
                    line=line_of(dict(lines), path),
                    key=key_of(raw, path),
                )
                for path, what, expected in findings
            )
        )
    return plane


def load(path: Path, variant: str | None = None) -> LoadedPlane:
    """Return the plane in a folder or file, with one of its variants merged.

    Raises PlaneFileProblem with all findings, or CallProblem for a variant that is not there.
    """
    file = plane_file(path)
    text = text_of(file)
    raw = parsed(text, file)
    variants = raw.get("variants", {})
    names = tuple(variants) if isinstance(variants, Mapping) else ()
    stock = known_stock(file.parent / "stock.toml")
    lines = lines_of(text)
    plain = {key: value for key, value in raw.items() if key != "variants"}
    if variant is not None:
        if variant not in names or not isinstance(variants, Mapping):
            known = ", ".join(f"'{name}'" for name in names) or "none in this file"
            raise CallProblem(f"no variant '{variant}'", expected=f"variants: {known}")
        plain = merged(plain, variants[variant], file)
    plane = validated(plain, stock, (file, file.parent, lines))
    return LoadedPlane(
        plane=plane,
        folder=file.parent,
        file=file,
        variant=variant,
        variants=names,
        raw=plain,
        stock=stock,
        digest=hashlib.sha256(text.encode()).hexdigest(),
        lines=lines,
    )


def merged(plain: Raw, table: object, file: Path) -> Raw:
    """Return the plane with a variant's overrides."""
    if not isinstance(table, Mapping):
        finding = Finding(what="a variant is no table", file=file, key="variants")
        raise PlaneFileProblem((finding,))
    try:
        return changed(plain, flattened(table))
    except InputProblem as problem:
        raise PlaneFileProblem(
            tuple(
                Finding(what=f.what, expected=f.expected, file=file, key=f"variants: {f.key}")
                for f in problem.findings
            )
        ) from problem


def save(loaded: LoadedPlane, changes: Mapping[str, object]) -> None:
    """Rewrite some dotted keys of the plane file, comments kept, all of it or nothing.

    Raises WriteProblem if somebody changed the file since it was read.
    """
    import tomlkit  # noqa: PLC0415 - only for writing

    text = text_of(loaded.file)
    if hashlib.sha256(text.encode()).hexdigest() != loaded.digest:
        raise WriteProblem(
            loaded.file, "was changed since it was read", expected="read it again, then write"
        )
    document = tomlkit.parse(text)
    for key, value in changes.items():
        written(document, key, value)
    replace(loaded.file, tomlkit.dumps(document))


def written(document: object, key: str, value: object) -> None:
    """Set one dotted key of a parsed document, list entries by name."""
    place = document
    parts = key.split(".")
    for part in parts[:-1]:
        place = opened(place, part, key)
    if isinstance(place, list) or not isinstance(place, Mapping):
        raise CallProblem(f"{key} leads to no key", expected="a dotted key of the plane file")
    if value is None:
        place.pop(parts[-1], None)  # type: ignore[attr-defined]  # tomlkit tables can pop
    else:
        place[parts[-1]] = value  # type: ignore[index]  # and be assigned to


def opened(place: object, part: str, key: str) -> object:
    """Return what lies one part down a parsed document."""
    if isinstance(place, list):
        for number, entry in enumerate(place):
            if str(number) == part or (isinstance(entry, Mapping) and entry.get("name") == part):
                return entry
        raise CallProblem(f"{key}: there is no '{part}'", expected="a name in the plane file")
    if isinstance(place, Mapping):
        if part not in place:
            place[part] = {}  # type: ignore[index]  # tomlkit tables can be assigned to
        return place[part]
    raise CallProblem(f"{key}: '{part}' leads into a plain value", expected="a dotted key")


def replace(file: Path, text: str) -> None:
    """Write a file whole or not at all."""
    handle, name = tempfile.mkstemp(dir=file.parent, prefix=f".{file.name}.")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as out:
            out.write(text)
        Path(name).replace(file)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise

"""The plane file: read with every problem told at once, rewritten with comments kept."""

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError

from foamwright.plane.bench import Notes
from foamwright.plane.bench import load as load_notes
from foamwright.plane.bench_records import Bench
from foamwright.plane.edits import Raw, changed, flattened, index_in, path_of
from foamwright.plane.filling import causes, frozen, with_stock
from foamwright.plane.findings import finding_of, key_of, origin
from foamwright.plane.limits import limits
from foamwright.plane.objections import objections
from foamwright.plane.plane import Plane
from foamwright.plane.positions import line_of, lines_of, moved
from foamwright.plane.stock import Stock
from foamwright.plane.stock import stock as known_stock
from foamwright.plane.texts import acting_texts
from foamwright.plane.toml_text import parsed, text_of
from foamwright.plane.weighed import with_weighings
from foamwright.plane.whole_files import digest_of, replace
from foamwright.problems import CallProblem, Finding, InputProblem, PlaneFileProblem, WriteProblem

FILE_NAME = "plane.toml"

Lines = Mapping[tuple[str | int, ...], int]
"""Which line a path stands on."""


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
    lines: Lines
    """Which line a path stands on."""
    notes: Notes
    """What was weighed and measured at the bench; the weighings are merged."""


def plane_file(path: Path) -> Path:
    """Return the plane file of a folder or file."""
    file = path / FILE_NAME if path.is_dir() else path
    if not file.is_file():
        what = f"there is no {FILE_NAME}" if path.is_dir() else "there is no such file"
        raise PlaneFileProblem(
            (Finding(what=what, expected="foamwright new makes one", file=file),)
        )
    return file


def validated(raw: Raw, stock: Stock, base: tuple[Path, Path, Lines]) -> Plane:
    """Return the plane, or raise PlaneFileProblem with everything that is wrong with it.

    `base` is the file, its folder and the lines of its keys.
    """
    file, folder, lines = base
    filled, findings = with_stock(raw, stock)
    findings += acting_texts(raw)
    kinds_unknown = {(*path[:-1], "kind") for path, _, _ in findings if path[-1] == "stock"}
    plane = None
    try:
        plane = Plane.model_validate(frozen(filled))
    except ValidationError as error:
        told = [finding_of(detail, filled) for detail in error.errors()]
        # The kind comes with the stock entry: where that is not known, one finding will do.
        findings += [t for t in told if t[0] not in kinds_unknown]
    if plane is not None:
        findings += limits(plane)
    if plane is not None and not findings:
        findings += [(o.path, o.what, o.expected) for o in objections(plane, folder)]
    if findings or plane is None:
        raise PlaneFileProblem(
            tuple(
                Finding(
                    what=what + origin(raw, path),
                    expected=expected,
                    file=file,
                    line=line_of(lines, path),
                    key=key_of(raw, path),
                )
                for path, what, expected in causes(findings)
            )
        )
    return plane


def load(
    path: Path,
    variant: str | None = None,
    *,
    as_planned: bool = False,
    notes: Notes | None = None,
) -> LoadedPlane:
    """Return the plane in a folder or file, with one of its variants merged.

    What the bench notes tell was weighed takes the place of what was planned, unless the plane is
    wanted `as_planned`, as if nothing had been noted; other `notes` than those in the folder may
    be given. Raises PlaneFileProblem with all findings, or CallProblem for a variant
    that is not there.
    """
    file = plane_file(path)
    text = text_of(file)
    raw = parsed(text, file)
    lines = lines_of(text)
    variants = variants_of(raw, file, lines)
    plain = without_variants(raw)
    stock = known_stock(file.parent / "stock.toml")
    if notes is None:
        notes = load_notes(file.parent)
    if as_planned:
        notes = dataclasses.replace(notes, bench=Bench())
    else:
        plain = with_weighings(plain, notes.bench, variants.get(variant or "", {}), stock)
    if variant is not None:
        if variant not in variants:
            known = ", ".join(f"'{name}'" for name in variants) or "none in this file"
            raise CallProblem(f"no variant '{variant}'", expected=f"variants: {known}")
        plain = merged(plain, variants[variant], (file, lines, variant))
        changed_lines = variant_lines(plain, variants[variant], lines, variant)
        lines = {**moved(lines, without_variants(raw), plain), **changed_lines}
    plane = validated(plain, stock, (file, file.parent, lines))
    return LoadedPlane(
        plane=plane,
        folder=file.parent,
        file=file,
        variant=variant,
        variants=tuple(variants),
        raw=plain,
        stock=stock,
        digest=digest_of(text),
        lines=lines,
        notes=notes,
    )


def without_variants(raw: Raw) -> Raw:
    """Return the plane itself."""
    return {key: value for key, value in raw.items() if key != "variants"}


def variants_of(raw: Raw, file: Path, lines: Lines) -> Mapping[str, Mapping[str, object]]:
    """Return the variants by name."""
    variants = raw.get("variants", {})
    named: Mapping[str, object] = variants if isinstance(variants, Mapping) else {"": variants}
    findings = tuple(
        Finding(
            what="is no table of changed keys",
            expected='write it below a header such as [variants."two cells"]',
            file=file,
            line=line_of(lines, ("variants", name)),
            key=f"variants.{name}".rstrip("."),
        )
        for name, table in named.items()
        if not isinstance(table, Mapping)
    )
    if findings:
        raise PlaneFileProblem(findings)
    return {name: table for name, table in named.items() if isinstance(table, Mapping)}


def merged(plain: Raw, table: Mapping[str, object], base: tuple[Path, Lines, str]) -> Raw:
    """Return the plane with a variant's overrides; `base` is file, lines and the variant."""
    file, lines, variant = base
    try:
        return changed(plain, flattened(table))
    except InputProblem as problem:
        raise PlaneFileProblem(
            tuple(
                Finding(
                    what=found.what,
                    expected=found.expected,
                    file=file,
                    line=line_of(lines, ("variants", variant, found.key)),
                    key=f"variants.{variant}.{found.key}",
                )
                for found in problem.findings
            )
        ) from problem


def variant_lines(plain: Raw, table: Mapping[str, object], lines: Lines, variant: str) -> Lines:
    """Return the lines of the paths that a variant overrides."""
    found = {}
    for key in flattened(table):
        path = path_of(plain, key)
        if path:
            found[path] = line_of(lines, written_path(table, key, variant)) or 0
    return found


def written_path(table: Mapping[str, object], key: str, variant: str) -> tuple[str, ...]:
    """Return the path at which a variant writes a dotted key, however it nests its tables."""
    path: tuple[str, ...] = ("variants", variant)
    place: object = table
    rest = key
    while isinstance(place, Mapping) and rest:
        part = next((k for k in place if rest == k or rest.startswith(f"{k}.")), None)
        if part is None:
            break
        path, place, rest = (*path, part), place[part], rest[len(part) + 1 :]
    return path


def save(loaded: LoadedPlane, changes: Mapping[str, object]) -> None:
    """Rewrite some dotted keys of the plane file, comments kept, all of it or nothing.

    Raises WriteProblem if somebody changed the file since it was read, and PlaneFileProblem if the
    changes would make it no plane; the file is then left as it is.
    """
    import tomlkit  # noqa: PLC0415 - only for writing

    text = text_of(loaded.file)
    if digest_of(text) != loaded.digest:
        raise WriteProblem(
            loaded.file, "was changed since it was read", expected="read it again, then write"
        )
    document = tomlkit.parse(text)
    for key, value in changes.items():
        written(document, key, value)
    new = tomlkit.dumps(document)
    plain = without_variants(parsed(new, loaded.file))
    validated(plain, loaded.stock, (loaded.file, loaded.folder, lines_of(new)))
    replace(loaded.file, new)


def written(document: object, key: str, value: object) -> None:
    """Set one dotted key of a parsed document, list entries by name; None takes it away."""
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
        return place[index_in(place, part, key, may_add=False) or 0]
    if isinstance(place, Mapping):
        if part not in place:
            place[part] = {}  # type: ignore[index]  # tomlkit tables can be assigned to
        return place[part]
    raise CallProblem(f"{key}: '{part}' leads into a plain value", expected="a dotted key")

"""Keeping changes in a plane file: in the plane itself, or in one of its variants.

Comments stay, the file is written whole or not at all, and never over what somebody else wrote.
"""

from collections.abc import Mapping, MutableMapping
from pathlib import Path

from foamwright.plane.document import (
    LoadedPlane,
    merged,
    opened,
    validated,
    variants_of,
    without_variants,
    written,
)
from foamwright.plane.edits import LISTS, REMOVE, index_in
from foamwright.plane.positions import lines_of
from foamwright.plane.rows import are_rows, laid_out, relisted
from foamwright.plane.toml_text import parsed, text_of
from foamwright.plane.whole_files import digest_of, replace
from foamwright.problems import CallProblem, Finding, PlaneFileProblem, WriteProblem

LONGEST_NAME = 60
"""Most letters of the name of a variant."""


def keep(loaded: LoadedPlane, changes: Mapping[str, object], variant: str | None = None) -> None:
    """Write some dotted keys into the plane file, or into one of its variants.

    A variant that is not there is added. Raises WriteProblem if somebody changed the file since it
    was read, and PlaneFileProblem if the changes would make it no plane; the file is then left as
    it is.
    """
    import tomlkit  # noqa: PLC0415 - only for writing

    text = text_of(loaded.file)
    if digest_of(text) != loaded.digest:
        raise WriteProblem(
            loaded.file, "was changed since it was read", expected="read it again, then write"
        )
    document = tomlkit.parse(text)
    if variant is None:
        for key, value in changes.items():
            put(document, key, value)
    else:
        table = variant_of(document, variant, loaded.file)
        for key, value in changes.items():
            table[key] = {REMOVE: True} if value is None else laid_out(value)
    replace_checked(loaded, tomlkit.dumps(document), variant)


def put(document: object, key: str, value: object) -> None:
    """Set, add or take away one key, or one whole entry of a list."""
    head, _, last = key.rpartition(".")
    if isinstance(value, list) and are_rows(value):
        put_rows(document, key, value)
        return
    if head.rpartition(".")[2] not in LISTS:
        written(document, key, value)
        return
    place = document
    for part in head.split("."):
        place = opened(place, part, key)
    if not isinstance(place, list):
        written(document, key, value)
    elif value is None:
        del place[index_in(place, last, key, may_add=False) or 0]
    elif isinstance(value, Mapping) and index_in(place, last, key, may_add=True) is None:
        import tomlkit  # noqa: PLC0415 - only for writing

        entry = tomlkit.table()
        for name, inner in {"name": last, **value}.items():
            entry.add(name, laid_out(inner))
        place.append(entry)
    else:
        raise CallProblem(f"there is a '{last}' already", expected="give it another name")


def put_rows(document: object, key: str, rows: list[Mapping[str, object]]) -> None:
    """Write a list of small tables, over the one that is there where there is one."""
    place = document
    *way, last = key.split(".")
    for part in way:
        place = opened(place, part, key)
    there = place.get(last) if isinstance(place, Mapping) else None
    if isinstance(there, list):
        relisted(there, rows)
    else:
        written(document, key, laid_out(rows))


def variant_of(document: object, variant: str, file: Path) -> MutableMapping[str, object]:
    """Return the table of a variant in a parsed document; it is made where there is none."""
    import tomlkit  # noqa: PLC0415 - only for writing

    if not variant.strip() or len(variant) > LONGEST_NAME or not variant.isprintable():
        raise PlaneFileProblem(
            (
                Finding(
                    what="is no name for a variant",
                    expected=f"write 1 to {LONGEST_NAME} letters",
                    file=file,
                    key="variants",
                ),
            )
        )
    if not isinstance(document, MutableMapping):
        raise CallProblem("the plane file is no table", expected="a plane file")
    if "variants" not in document:
        document["variants"] = tomlkit.table(is_super_table=True)
    variants = document["variants"]
    if variant not in variants:
        variants[variant] = tomlkit.table()
    found: MutableMapping[str, object] = variants[variant]
    return found


def replace_checked(loaded: LoadedPlane, text: str, variant: str | None) -> None:
    """Write a text if it still is a plane, the variant written to included."""
    raw, lines = parsed(text, loaded.file), lines_of(text)
    plain = without_variants(raw)
    base = (loaded.file, loaded.folder, lines)
    validated(plain, loaded.stock, base)
    if variant is not None:
        table = variants_of(raw, loaded.file, lines)[variant]
        validated(merged(plain, table, (loaded.file, lines, variant)), loaded.stock, base)
    replace(loaded.file, text)

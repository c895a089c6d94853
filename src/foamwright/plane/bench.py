"""The bench notes beside the plane file: read with every problem told, added to, never lost."""

import datetime as dt
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from foamwright.plane.bench_records import KINDS, LAST_DAY, Bench, Record
from foamwright.plane.edits import Raw
from foamwright.plane.filling import frozen
from foamwright.plane.findings import SHAPES, listed, nearest, short
from foamwright.plane.positions import line_of, lines_of
from foamwright.plane.toml_text import parsed, text_of
from foamwright.plane.whole_files import digest_of, replace
from foamwright.problems import CallProblem, Finding, PlaneFileProblem, WriteProblem
from foamwright.quantity import Quantity

FILE_NAME = "bench.toml"

ZONES = dt.timedelta(days=1)
"""How far a day may be ahead of the one it is here: elsewhere it began earlier."""

HEADER = """\
# Bench notes: what was weighed, measured and built, newest last. foamwright adds to it and keeps
# your comments; you may write in it as well.
"""
"""How a new file begins."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Notes:
    """The bench notes of a plane and where they came from."""

    bench: Bench
    """What was noted."""
    file: Path
    """Where; it need not exist yet."""
    text: str
    """As read; empty where there was no file."""
    digest: str
    """Of that text."""


def load(folder: Path) -> Notes:
    """Return the bench notes in a plane's folder, none where there is no file.

    Raises PlaneFileProblem with all findings.
    """
    file = folder / FILE_NAME
    text = text_of(file) if file.exists() else ""
    return Notes(bench=validated(text, file), file=file, text=text, digest=digest_of(text))


def validated(text: str, file: Path, day: dt.date | None = None) -> Bench:
    """Return a text as bench notes, or raise PlaneFileProblem with everything wrong with it.

    No note is dated later than the `day` it is read on, today where none is given; a file may be
    one day ahead, since it may come from where the day began earlier.
    """
    raw = parsed(text, file)
    last = (day or today()) + ZONES
    try:
        return Bench.model_validate(frozen(raw), context={LAST_DAY: last})
    except ValidationError as error:
        lines = lines_of(text)
        raise PlaneFileProblem(
            tuple(told(detail, raw, (file, lines)) for detail in error.errors())
        ) from error


def told(
    error: ErrorDetails, raw: Raw, where: tuple[Path, Mapping[tuple[str | int, ...], int]]
) -> Finding:
    """Return a validation error as a finding; `where` is the file and the lines of its keys."""
    file, lines = where
    path, kind = error["loc"], error["type"]
    context = error.get("ctx", {})
    fields = known_keys(path)
    what, expected = error["msg"][:1].lower() + error["msg"][1:], ""
    if kind == "quantity":
        what, expected = str(context["what"]), str(context["expected"])
    elif kind == "missing":
        what, expected = "is missing", f"add {path[-1]} = ..."
    elif kind == "extra_forbidden":
        what = "is no key here"
        expected = nearest(str(path[-1]), fields, listed(fields))
    elif kind == "record":
        what = str(context["what"])
    elif kind == "day":
        what, expected = str(context["what"]), str(context["expected"])
    elif kind in ("date_type", "date_from_datetime_inexact"):
        what, expected = f"{short(error['input'])} is no day", "write it as 2026-05-01, no quotes"
    elif kind == "literal_error":
        what = f"{short(error['input'])} is not one of the words known here"
        expected = f"one of {context['expected']}"
    elif kind in ("greater_than_equal", "less_than_equal"):
        what, expected = f"{short(error['input'])} cannot be", bound(context)
    elif kind in SHAPES:
        what, expected = f"{short(error['input'])} {SHAPES[kind][0]}", SHAPES[kind][1]
    return Finding(
        what=what, expected=expected, file=file, line=line_of(lines, path), key=dotted(path, raw)
    )


def bound(context: Mapping[str, object]) -> str:
    """Return which end of its range a number left."""
    return f"{context['ge']} at least" if "ge" in context else f"{context['le']} at most"


def known_keys(path: tuple[str | int, ...]) -> tuple[str, ...]:
    """Return the keys allowed where a path ends."""
    record = KINDS.get(str(path[0])) if len(path) > 1 else None
    return tuple(Bench.model_fields if record is None else record.model_fields)


def dotted(path: tuple[str | int, ...], raw: Raw) -> str:
    """Return a path as a dotted key, records counted from 1 and told with what they are about."""
    parts = [str(part + 1) if isinstance(part, int) else part for part in path]
    entries = raw.get(str(path[0])) if path else None
    if len(path) > 1 and isinstance(path[1], int) and isinstance(entries, list):
        entry = entries[path[1]]
        about = entry.get("item", entry.get("step")) if isinstance(entry, Mapping) else None
        if isinstance(about, str):
            parts[1] += f" ({short(about)})"
    return ".".join(parts)


def name_of(record: Record) -> str:
    """Return the list that a record belongs to."""
    return next(name for name, kind in KINDS.items() if type(record) is kind)


def entry_of(record: Record) -> dict[str, object]:
    """Return a record as TOML holds it: quantities as written, nothing that was left out."""
    found: dict[str, object] = {}
    for key in record.model_fields_set | {"date"}:
        value = getattr(record, key)
        if value is not None:
            found[key] = value.text if isinstance(value, Quantity) else value
    order = ("date", *(key for key in type(record).model_fields if key not in ("date", "note")))
    return {key: found[key] for key in (*order, "note") if key in found}


def with_record(text: str, record: Record) -> str:
    """Return a text of bench notes with one record more at its end, all else as it was."""
    import tomlkit  # noqa: PLC0415 - only for writing
    from tomlkit.items import AoT  # noqa: PLC0415

    name, entry = name_of(record), entry_of(record)
    document = tomlkit.parse(text)
    entries = document.get(name)
    if entries is not None and not isinstance(entries, AoT):  # an array of inline tables
        inline = tomlkit.inline_table()
        inline.update(entry)
        entries.append(inline)
        return tomlkit.dumps(document)
    # A notebook grows at its end: the lists may stand in any order, so nothing above is touched.
    end = "\r\n" if "\r\n" in text else "\n"
    block = f"[[{name}]]\n{tomlkit.dumps(entry)}"
    return (text.rstrip() or HEADER.rstrip()) + end * 2 + block.replace("\n", end)


def without_step(text: str, name: str) -> str:
    """Return a text of bench notes without the newest record of a step, all else as it was."""
    import tomlkit  # noqa: PLC0415 - only for writing

    document = tomlkit.parse(text)
    entries = document.get("steps", [])
    at = max((at for at, entry in enumerate(entries) if entry.get("step") == name), default=None)
    if at is None:
        raise CallProblem(
            f"'{name}' is not recorded in the bench notes", expected="what the plane shows stays"
        )
    del entries[at]
    if not entries:
        del document["steps"]
    return tomlkit.dumps(document)


def without_record(text: str, name: str, told: Mapping[str, str]) -> str:
    """Return a text of bench notes without the newest record that says this, all else as it was.

    `told` are its keys and what they say, each as text. Raises CallProblem where there is none.
    """
    import tomlkit  # noqa: PLC0415 - only for writing

    document = tomlkit.parse(text)
    entries = document.get(name, [])
    same = [
        at
        for at, entry in enumerate(entries)
        if {key: str(value) for key, value in entry.items()} == told
    ]
    if not same:
        raise CallProblem(
            "this note is not in the bench notes any more", expected="look at what is noted now"
        )
    del entries[same[-1]]
    if not entries:
        del document[name]
    return tomlkit.dumps(document)


def append(folder: Path, record: Record, read: Notes | None = None) -> Notes:
    """Add one record to the bench notes of a plane's folder and return them as they are now.

    `read` are the notes that the record was judged against; WriteProblem is raised if somebody
    changed the file since. Comments are kept, and the file is written whole or not at all.
    """
    known = load(folder) if read is None else read
    return put(known, with_record(known.text, record))


def take_back(known: Notes, name: str) -> Notes:
    """Take the newest record of a step out of the bench notes and return them as they are now.

    Raises CallProblem where there is none, and WriteProblem if somebody changed the file since.
    """
    return put(known, without_step(known.text, name))


def take_out(known: Notes, name: str, told: Mapping[str, str]) -> Notes:
    """Take the newest record that says this out of a list of the notes; return them as they are.

    Raises CallProblem where there is none, and WriteProblem if somebody changed the file since.
    """
    return put(known, without_record(known.text, name, told))


def put(known: Notes, new: str) -> Notes:
    """Write a new text of the bench notes over the one that is known, whole or not at all."""
    bench = validated(new, known.file)
    now = text_of(known.file) if known.file.exists() else ""
    if digest_of(now) != known.digest:
        raise WriteProblem(
            known.file, "was changed since it was read", expected="read it again, then write"
        )
    try:
        replace(known.file, new)
    except OSError as error:
        words = (error.strerror or "no reason given").lower()
        raise WriteProblem(
            known.file, f"cannot be written: {words}", expected="look at its permissions"
        ) from error
    return Notes(bench=bench, file=known.file, text=new, digest=digest_of(new))


def today() -> dt.date:
    """Return the day it is here.

    Where SOURCE_DATE_EPOCH is set, as by builds that are to come out the same on every day, the
    day of that second in Greenwich.
    """
    told = os.environ.get("SOURCE_DATE_EPOCH", "")
    if told.isdecimal():
        return dt.datetime.fromtimestamp(int(told), tz=dt.UTC).date()
    return dt.datetime.now().astimezone().date()

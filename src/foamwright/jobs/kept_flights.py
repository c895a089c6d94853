"""Flights kept with their plane: the log copied, what it told noted, its columns remembered."""

import os
import shutil
import tempfile
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from filecmp import cmp
from pathlib import Path

from foamwright.debrief.taking import Takes, kept_text
from foamwright.plane import flights
from foamwright.plane.flights import COLUMNS, FOLDER, FlightNote
from foamwright.plane.toml_text import text_of
from foamwright.plane.whole_files import replace
from foamwright.problems import WriteProblem


@dataclass(frozen=True, kw_only=True, slots=True)
class Keeping:
    """One flight to be kept."""

    file: Path | None
    """Its log; none for a card."""
    note: FlightNote
    header: tuple[str, ...]
    """Names of the log's columns."""
    takes: Takes | None
    """What the user said of them."""


def name_of(keeping: Keeping) -> str:
    """Return the name a flight is kept under: its day and its log."""
    day = keeping.note.date.isoformat()
    return f"{day} {keeping.file.stem}" if keeping.file else f"{day} card"


def kept_before(folder: Path, file: Path) -> Path | None:
    """Return the note of a kept flight whose log holds what a file does, byte for byte."""
    for flight in flights.load(folder):
        log = folder / FOLDER / flight.note.log if flight.note.log else None
        if log is not None and log.is_file() and file.is_file() and cmp(log, file, shallow=False):
            return folder / FOLDER / f"{flight.name}.toml"
    return None


def free_name(folder: Path, keeping: Keeping, taken: Collection[str] = ()) -> str:
    """Return a name no flight has yet, nor is `taken`; a log kept before is refused.

    Recorders call every log alike: another one of the same name and day is numbered.
    """
    if keeping.file is not None:
        note = kept_before(folder, keeping.file)
        if note is not None:
            raise WriteProblem(note, "is there already", expected="this flight was accepted before")
    place, suffix = folder / FOLDER, keeping.file.suffix if keeping.file else ""
    name, number = name_of(keeping), 1
    while name in taken or any((place / f"{name}{end}").exists() for end in (".toml", suffix)):
        number += 1
        name = f"{name_of(keeping)} {number}"
    return name


def copied(file: Path, to: Path) -> None:
    """Copy a log whole or not at all, over nothing."""
    if os.path.lexists(to):
        if file.resolve() == to.resolve():
            return
        raise WriteProblem(to, "is there already", expected="this log was accepted before")
    handle, draft = tempfile.mkstemp(dir=to.parent, prefix=f".{to.name}.")
    os.close(handle)
    try:
        shutil.copyfile(file, draft)
        Path(draft).replace(to)
    except BaseException:
        Path(draft).unlink(missing_ok=True)
        raise


def remembered(folder: Path, keeping: Keeping) -> Path | None:
    """Write what was said of columns beside the flights; return the file where there was any."""
    return remember(folder, keeping.header, keeping.takes) if keeping.takes else None


def remember(folder: Path, header: Sequence[str], takes: Takes) -> Path:
    """Write what the columns under a header are beside the flights; return the file."""
    file = folder / FOLDER / COLUMNS
    old = text_of(file) if file.exists() else ""
    replace(file, kept_text(old, header, takes))
    return file


def keep(folder: Path, keeping: Sequence[Keeping]) -> tuple[Path, ...]:
    """Keep flights with the plane in a folder; return the files written.

    Names are checked first, and what was written is taken back where a later file cannot be.
    """
    names: list[str] = []
    for one in keeping:
        names.append(free_name(folder, one, names))
    place = folder / FOLDER
    written: list[Path] = []
    try:
        place.mkdir(exist_ok=True)
        for name, one in zip(names, keeping, strict=True):
            note = one.note
            if one.file is not None:
                log = place / f"{name}{one.file.suffix}"
                copied(one.file, log)
                written.append(log)
                note = note.model_copy(update={"log": log.name})
            written.append(flights.write(folder, name, note))
    except BaseException as error:
        for file in written:
            file.unlink(missing_ok=True)
        if isinstance(error, OSError):
            what = f"cannot be written: {error.strerror or error}"
            raise WriteProblem(place, what, expected="look at its permissions") from error
        raise
    columns = [remembered(folder, one) for one in keeping]
    return (*written, *dict.fromkeys(path for path in columns if path is not None))

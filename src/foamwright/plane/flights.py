"""What flights told: one small text file a flight, beside its log, in the plane's `flights`."""

import datetime as dt
from dataclasses import dataclass
from pathlib import Path

from pydantic import Field, ValidationError

from foamwright.plane.filling import frozen
from foamwright.plane.findings import SHAPES, short
from foamwright.plane.placement import Written
from foamwright.plane.positions import line_of, lines_of
from foamwright.plane.toml_text import parsed, text_of
from foamwright.plane.whole_files import replace
from foamwright.problems import Finding, PlaneFileProblem, WriteProblem

FOLDER = "flights"

COLUMNS = "columns.toml"
"""What columns of logs were confirmed to be; it lies among the flights and is none."""

HEADER = """\
# What one flight told, in SI units (m, s, kg, A, V): written by foamwright when the flight was
# accepted. Take the file out, or an entry, and nothing is learned from it any more.
"""


class Seen(Written):
    """One thing observed in flight."""

    what: str
    """Its name, such as top_speed."""
    value: float
    """SI."""
    spread: float = Field(gt=0.0)
    """One standard deviation, SI."""
    speed: float | None = None
    """Airspeed it belongs to, where it needs one [m s^-1]."""
    time: float | None = None
    """How long it took, where it needs that [s]."""
    mass: float | None = Field(default=None, gt=0.0)
    """What the plane weighed then, where that counts and was told [kg]."""
    temperature: float | None = Field(default=None, gt=0.0)
    """Of the air then, likewise [K]."""
    rotation_speed: float | None = Field(default=None, gt=0.0)
    """Of the propeller, where it needs that [s^-1]."""
    voltage: float | None = Field(default=None, gt=0.0)
    """Of the pack under that load, where it needs that [V]."""


class FlightNote(Written):
    """One flight."""

    date: dt.date
    """The day."""
    log: str | None = None
    """The log beside this file."""
    note: str | None = None
    """Anything."""
    observations: tuple[Seen, ...] = ()
    """What was observed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Flight:
    """A flight and where it was read from."""

    name: str
    """Of the file, without its ending."""
    note: FlightNote
    text: str
    """As read."""


def load(folder: Path) -> tuple[Flight, ...]:
    """Return the flights noted in a plane's folder, by day and name.

    Raises PlaneFileProblem with the findings of the first file that is wrong.
    """
    files = sorted(file for file in (folder / FOLDER).glob("*.toml") if file.name != COLUMNS)
    found = []
    for file in files:
        text = text_of(file)
        found.append(Flight(name=file.stem, note=validated(text, file), text=text))
    return tuple(sorted(found, key=lambda flight: (flight.note.date, flight.name)))


def validated(text: str, file: Path) -> FlightNote:
    """Return a text as a flight, or raise PlaneFileProblem with everything wrong with it."""
    raw = parsed(text, file)
    try:
        return FlightNote.model_validate(frozen(raw))
    except ValidationError as error:
        lines = lines_of(text)
        findings = []
        for one in error.errors():
            words, expected = SHAPES.get(one["type"], (one["msg"][:1].lower() + one["msg"][1:], ""))
            what = f"{short(one['input'])} {words}" if one["type"] in SHAPES else words
            findings.append(
                Finding(
                    what=what,
                    expected=expected,
                    file=file,
                    line=line_of(lines, one["loc"]),
                    key=".".join(str(part) for part in one["loc"]),
                )
            )
        raise PlaneFileProblem(tuple(findings)) from error


def text_for(note: FlightNote) -> str:
    """Return a flight as the text of its file."""
    import tomlkit  # noqa: PLC0415 - only for writing

    told = note.model_dump(exclude_none=True, exclude={"observations"})
    body = tomlkit.dumps(told)
    for one in note.observations:
        body += f"\n[[observations]]\n{tomlkit.dumps(one.model_dump(exclude_none=True))}"
    return f"{HEADER}{body}"


def write(folder: Path, name: str, note: FlightNote) -> Path:
    """Write a flight into a plane's folder; a flight of that name is never overwritten."""
    file = folder / FOLDER / f"{name}.toml"
    if file.exists():
        raise WriteProblem(file, "is there already", expected="this flight was accepted before")
    try:
        file.parent.mkdir(exist_ok=True)
        replace(file, text_for(note))
    except OSError as error:
        words = (error.strerror or "no reason given").lower()
        raise WriteProblem(
            file, f"cannot be written: {words}", expected="look at its permissions"
        ) from error
    return file

"""What the user says columns are: `spd = ground_speed in kn`; kept with the plane."""

import difflib
import hashlib
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import tomlkit

from foamwright.debrief.logged_units import UNITS, in_dimension
from foamwright.debrief.naming import DIMENSION
from foamwright.problems import CallProblem, DataFileProblem, Finding

NOTHING = "nothing"
"""A column that is to be left out."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Taken:
    """What the user says one column is."""

    taken_as: str
    """One of `naming.DIMENSION`, or `nothing`."""
    unit: str
    """One of its dimension; empty where it was not said."""
    source: str = "you said so"
    """Who says so, for the reasons."""

    def text(self) -> str:
        """Return it as it is typed."""
        name = self.taken_as
        return f"{name} in {self.unit}" if self.unit else name


Takes = Mapping[str, Taken]
"""By column name."""


def refused(text: str, what: str, expected: str) -> CallProblem:
    """Return the problem with something that was said of a column."""
    return CallProblem(f"--take '{text}': {what}", expected=expected)


def taken_from(text: str, saying: str, source: str) -> Taken:
    """Return what a text says a column is; raises CallProblem."""
    name, _, unit = saying.partition(" in ")
    taken_as = name.strip().lower().replace(" ", "_")
    if taken_as == NOTHING:
        return Taken(taken_as=NOTHING, unit="", source=source)
    if taken_as not in DIMENSION:
        near = difflib.get_close_matches(taken_as, DIMENSION, n=3, cutoff=0.5) or sorted(DIMENSION)
        raise refused(text, f"nothing is called '{name.strip()}'", "known: " + ", ".join(near))
    dimension = DIMENSION[taken_as]
    exact = in_dimension(unit, dimension) if unit.strip() else ""
    if unit.strip() and not exact:
        known = ", ".join(UNITS[dimension])
        raise refused(text, f"'{unit.strip()}' is no unit of a {dimension}", f"known: {known}")
    return Taken(taken_as=taken_as, unit=exact, source=source)


def takes_of(texts: Sequence[str], names: Sequence[str]) -> Takes:
    """Return what some texts say of the columns of a log; raises CallProblem."""
    found: dict[str, Taken] = {}
    for text in texts:
        column, sign, saying = text.rpartition("=")
        wanted = column.strip()
        if not sign or not wanted:
            raise refused(text, "says nothing", 'write for instance "spd=ground_speed in kn"')
        same = [name for name in names if name == wanted] or [
            name for name in names if name.lower() == wanted.lower()
        ]
        if not same:
            near = difflib.get_close_matches(wanted, names, n=3, cutoff=0.4) or list(names)[:12]
            raise refused(text, f"there is no column '{wanted}'", "nearest: " + ", ".join(near))
        found[same[0]] = taken_from(text, saying.strip(), "you said so")
    return found


def key_of(names: Sequence[str]) -> str:
    """Return the key a header is remembered by."""
    return hashlib.sha256("\n".join(names).encode()).hexdigest()[:16]


def remembered(file: Path, names: Sequence[str]) -> Takes:
    """Return what was confirmed before for a log with this header; raises DataFileProblem."""
    if not file.is_file():
        return {}
    try:
        kept = tomllib.loads(file.read_text(encoding="utf-8")).get(key_of(names), {})
        return {
            name: taken_from(f"{name}={saying}", str(saying), "confirmed before")
            for name, saying in dict(kept).items()
            if name in names
        }
    except (OSError, ValueError, CallProblem) as error:
        what = f"cannot be used: {error}"
        finding = Finding(what=what, expected="mend it or delete it", file=file)
        raise DataFileProblem((finding,)) from error


def kept_text(old: str, names: Sequence[str], takes: Takes) -> str:
    """Return the text of the file that remembers columns, with those of one header added."""
    document = tomlkit.parse(old) if old else tomlkit.document()
    if not old:
        document.add(tomlkit.comment("What the columns of your logs are, as you confirmed it;"))
        document.add(tomlkit.comment("a table for each header. Delete one to be asked again."))
    table = tomlkit.table()
    for name, taken in sorted(takes.items()):
        table[name] = taken.text()
    document[key_of(names)] = table
    return tomlkit.dumps(document)

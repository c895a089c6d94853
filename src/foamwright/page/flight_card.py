"""The card of a flight as a form: one field a kind, read with the grammar of the command line."""

from collections.abc import Mapping
from dataclasses import dataclass

from foamwright.debrief.card import KINDS, Kind, reading_in
from foamwright.model.evidence import OBSERVABLE
from foamwright.problems import CallProblem, Finding, InputProblem
from foamwright.quantity import in_units, show
from foamwright.units import USUAL

BESIDE = (("time", "in", "time"), ("speed", "at", "speed"))
"""What an entry may need besides: its name, the word before it, its dimension."""

LONGEST = 60
"""Most letters of one part of an entry."""

PLAIN = frozenset("0123456789.,+-−e ")
"""Signs of a number without a unit."""


class CardProblem(InputProblem):
    """What is wrong with a card, by field."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Field:
    """One number that can be read off the screen."""

    name: str
    """As it stands on a card."""
    label: str
    dimension: str
    units: tuple[str, ...]
    """The likeliest first."""
    usual: str
    """The spread it gets where none is written."""
    beside: tuple[tuple[str, str, tuple[str, ...]], ...]
    """What belongs beside it: name, word before it, units."""


def units_of(dimension: str, units: str) -> tuple[str, ...]:
    """Return the units of a dimension, the one it is shown in first."""
    known = tuple(USUAL[dimension])
    own = "min" if dimension == "time" else in_units(1.0, dimension, units)[1]
    return (own, *(unit for unit in known if unit != own)) if own in known else known


def usual_spread(kind: Kind, units: str) -> str:
    """Return the spread of a kind in words."""
    least = show(kind.least, kind.dimension, units) if kind.least else ""
    if not kind.relative:
        return least
    share = f"{100.0 * kind.relative:g} %"
    return f"{share}, at least {least}" if least else share


def field_of(name: str, kind: Kind, units: str) -> Field:
    """Return a kind as a field."""
    known = OBSERVABLE.get(kind.name)
    needs = () if known is None else known.needs
    return Field(
        name=name,
        label=kind.label,
        dimension=kind.dimension,
        units=units_of(kind.dimension, units),
        usual=usual_spread(kind, units),
        beside=tuple(
            (what, word, units_of(dimension, units))
            for what, word, dimension in BESIDE
            if what in needs
        ),
    )


def fields(units: str) -> tuple[Field, ...]:
    """Return every number that can be read off the screen."""
    return tuple(field_of(name, kind, units) for name, kind in KINDS.items())


def part(told: Mapping[str, object], name: str) -> str:
    """Return what was typed into one part of a field; empty where nothing was."""
    found = told.get(name, "")
    if not isinstance(found, str) or len(found) > LONGEST:
        raise CallProblem(f"{name} is no short text", expected="what was typed")
    return found.strip()


def with_unit(text: str, unit: str) -> str:
    """Return a value with the unit chosen beside it, unless it carries its own."""
    return f"{text} {unit}".strip() if text and set(text) <= PLAIN else text


def entry_of(name: str, told: Mapping[str, object]) -> str:
    """Return one field as an entry of a card; empty where nothing was typed."""
    value, unit = part(told, "value"), part(told, "unit")
    if not value:
        return ""
    entry = f"{name} = {with_unit(value, unit)}"
    spread = part(told, "spread").lstrip("±").strip()
    if spread:
        entry += f" ± {with_unit(spread, unit)}"
    for what, word, _ in BESIDE:
        more = part(told, what)
        if more:
            entry += f" {word} {with_unit(more, part(told, f'{what}_unit'))}"
    return entry


def card_text(told: object) -> str | None:
    """Return a filled form as the text of a card; none for an empty one.

    Raises CardProblem with everything that is wrong, each with its field.
    """
    if not isinstance(told, dict) or not all(
        name in KINDS and isinstance(parts, dict) for name, parts in told.items()
    ):
        raise CallProblem("the card is no table", expected="fields by their names")
    entries, findings = [], []
    for name, parts in told.items():
        entry = entry_of(name, parts)
        if not entry:
            continue
        entries.append(entry)
        try:
            reading_in(entry)
        except CallProblem as problem:
            what = problem.what.removeprefix(f"--card '{entry}': ")
            findings.append(Finding(what=what, expected=problem.expected, key=name))
    if findings:
        raise CardProblem(tuple(findings))
    return ", ".join(entries) or None

"""The flights kept with a plane, for a template: when, what was foretold, what each taught."""

from collections.abc import Sequence

from foamwright.model.evidence import OBSERVABLE
from foamwright.model.learning import Checked, Learned, Taught
from foamwright.model.score import scored
from foamwright.page.bands import band
from foamwright.page.dress import fragment
from foamwright.page.flight_told import changes_told
from foamwright.physics.numerics.normal import TENTH
from foamwright.plane.flights import Flight, Seen
from foamwright.quantity import show, show_band
from foamwright.questions.debrief import figure_of

Row = dict[str, object]


def name_in_belief(flight: Flight) -> str:
    """Return what a flight is called among what was learned."""
    return f"flight {flight.name}"


def check_told(check: Checked, units: str) -> Row:
    """Return one reading against what was foretold of it just before."""
    figure = figure_of(check, units)
    expected = check.expected
    return {
        "label": figure.label,
        "seen": show_band(figure.low, figure.high, figure.dimension, units),
        "value": show(figure.value, figure.dimension, units),
        "foretold": "nothing"
        if expected is None
        else show_band(expected.low, expected.high, figure.dimension, units),
        "inside": fell(check),
        "why": check.why,
        "chart": band(figure, units, ""),
    }


def fell(check: Checked) -> str:
    """Return where a reading fell against its band, in words; empty where none was foretold."""
    if check.expected is None:
        return ""
    if check.bound:
        return "a bound, it holds" if check.inside else "below it, though it is a bound"
    return "inside" if check.inside else "outside"


def seen_told(seen: Seen, units: str) -> Row:
    """Return one reading of a flight that nothing was learned from yet."""
    kind = OBSERVABLE.get(seen.what)
    if kind is None:
        return {"label": seen.what, "value": f"{seen.value:g}", "seen": "", "why": "not known"}
    reach = TENTH * seen.spread
    return {
        "label": kind.label,
        "value": show(seen.value, kind.dimension, units),
        "seen": show_band(seen.value - reach, seen.value + reach, kind.dimension, units),
    }


def flight_told(flight: Flight, taught: Taught | None, units: str) -> Row:
    """Return one kept flight."""
    checks = () if taught is None else taught.checked
    foretold = () if taught is None else taught.foretold
    return {
        "name": flight.name,
        "date": flight.note.date.isoformat(),
        "log": flight.note.log,
        "note": flight.note.note,
        "inside": sum(check.inside for check in foretold),
        "of": len(foretold),
        "checks": [check_told(check, units) for check in checks],
        "seen": [] if checks else [seen_told(one, units) for one in flight.note.observations],
        "changes": [] if taught is None else changes_told(taught.changes, units),
    }


def kept_told(flights: Sequence[Flight], learned: Learned | None, units: str) -> str:
    """Return the flights kept with a plane as a piece of the page, the latest first."""
    taught = () if learned is None else learned.taught
    by_name = {entry.source.name: entry for entry in taught if entry.source.kind == "flight"}
    return fragment(
        "kept_flights.html",
        {
            "flights": [
                flight_told(flight, by_name.get(name_in_belief(flight)), units)
                for flight in reversed(flights)
            ],
            "score": scored(taught, "flight").sentence(),
        },
    )

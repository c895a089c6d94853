"""Did the flights go as foretold, and what did they teach?"""

import numpy as np

from foamwright.model.evidence import OBSERVABLE, Observation
from foamwright.model.learning import Change, Checked, Taught
from foamwright.model.score import scored
from foamwright.physics.numerics.normal import TENTH
from foamwright.quantity import SI_UNITS, show, show_band
from foamwright.questions.answer import Answer, Figure
from foamwright.questions.case import Case, Measured
from foamwright.questions.chance import verdict

ID = "debrief"
ASKS = "Did the flights go as foretold?"

EVEN = 0.5
"""Chance above which a bound is not odd at all."""
MOST_TOLD = 3
"""Changes and departures worth naming."""

CAUTION = (
    "A flight that fits nothing is looked into before the next: check the plane over, then fly it "
    "high and slow, away from people."
)


def flights(case: Case) -> tuple[Taught, ...]:
    """Return what each flight taught, oldest first."""
    taught = () if case.learned is None else case.learned.taught
    return tuple(entry for entry in taught if entry.source.kind == "flight")


def label_of(seen: Observation, units: str) -> str:
    """Return the words for a reading, with the state of the drive where it was read in many."""
    if seen.rotation_speed is None or seen.speed is None:
        return OBSERVABLE[seen.name].label
    turns = show(seen.rotation_speed, "rotation speed", units)
    return f"current at {turns} and {show(seen.speed, 'speed', units)}"


def figure_of(check: Checked, units: str) -> Figure:
    """Return a reading as a figure; its limits are where eight in ten were to lie.

    A bound has one only: nine in ten fly as slowly as it, or slower.
    """
    seen, kind = check.observation, OBSERVABLE[check.observation.name]
    reach = TENTH * seen.spread
    band = check.expected
    above = None if band is None or check.bound else band.high
    return Figure(
        name=seen.name,
        label=label_of(seen, units),
        value=seen.value,
        low=seen.value - reach,
        high=seen.value + reach,
        unit=SI_UNITS[kind.dimension].replace("**", "^") or "-",
        limit_low=None if band is None else band.low,
        limit_high=above,
        dimension=kind.dimension,
    )


def together(checks: tuple[Checked, ...]) -> float | None:
    """Return the chance of a departure as large as the largest of some, if all were foretold.

    Of k readings one is odd by luck more often than a single one: Sidak's correction. A bound
    that lies above the middle can be no odd one, and is none of them.
    """
    known = [
        check.probability
        for check in checks
        if check.probability is not None and not (check.bound and check.probability > EVEN)
    ]
    if not known:
        return None
    return float(1.0 - (1.0 - min(known)) ** len(known))


def measure(case: Case) -> Measured:
    """Return the last flight's readings against what was foretold just before it."""
    flown = flights(case)
    nothing = np.full(case.computed.samples, np.nan)
    if not flown:
        wanted = "a flight: foamwright debrief PLANE LOG --accept, or --card with a few numbers"
        return Measured(figures=(), probability=None, deciding=nothing, missing=(wanted,))
    checks = tuple(sorted(flown[-1].checked, key=oddity))
    line = scored(flown, "flight").sentence()
    return Measured(
        figures=tuple(figure_of(check, case.plane.units) for check in checks),
        probability=together(checks),
        deciding=nothing,
        assumed=(line,) if line else (),
    )


def oddity(check: Checked) -> float:
    """Return the chance of a departure as large; what could not be foretold comes last."""
    return 2.0 if check.probability is None else check.probability


def narrowed(change: Change) -> float:
    """Return how much narrower a band became: 1 for not at all."""
    before = change.before.high - change.before.low
    return (change.after.high - change.after.low) / max(before, 1e-12)


def taught_words(flight: Taught, units: str) -> str:
    """Return what a flight taught most."""
    found = sorted(flight.changes, key=narrowed)[:MOST_TOLD]
    parts = []
    for change in found:
        value = show(change.after.value, change.dimension, units)
        band = show_band(change.after.low, change.after.high, change.dimension, units)
        parts.append(f"{change.label} now {value} ({band})")
    return f"it taught: {'; '.join(parts)}" if parts else "it taught nothing new"


def because(case: Case, flown: tuple[Taught, ...]) -> str:
    """Return what the last flight said, and what was set aside."""
    last, units = flown[-1], case.plane.units
    inside = sum(check.inside for check in last.foretold)
    parts = [f"{last.source.name}: {inside} of {len(last.foretold)} readings in their band"]
    parts += [bound_words(check, units) for check in last.checked if check.bound and check.used]
    parts += [
        f"{OBSERVABLE[check.observation.name].label}: nothing learned, {check.why}"
        for check in last.checked
        if check.why
    ]
    parts.append(taught_words(last, units))
    return "; ".join(parts[: 1 + MOST_TOLD]) + "."


def bound_words(check: Checked, units: str) -> str:
    """Return what a reading says that bounds from one side, and what it was held against."""
    kind, band = OBSERVABLE[check.observation.name], check.expected
    words = f"{kind.label} {show(check.observation.value, kind.dimension, units)}: a bound"
    if band is None:
        return words
    foretold = show_band(band.low, band.high, kind.dimension, units)
    return f"{words}, it was to fly level down to {foretold}"


def answer(case: Case) -> Answer:
    """Return the answer."""
    measured, flown = measure(case), flights(case)
    return Answer(
        question=ID,
        asks=ASKS,
        verdict=verdict(measured.probability),
        probability=measured.probability,
        figures=measured.figures,
        because=because(case, flown) if flown else "No flight was taken into the folder yet.",
        missing=measured.missing,
        assumed=measured.assumed,
        cautions=(CAUTION,) if flown else (),
    )

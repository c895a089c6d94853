"""What a flight told: read the log, say what it shows, learn from it, keep it if told to."""

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path

from foamwright.debrief.card import card_of
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.judging import Expected
from foamwright.debrief.observed import Flown
from foamwright.debrief.outcome import Facts, Segment
from foamwright.debrief.read_off import Reading, readings_of
from foamwright.debrief.reading import read_log
from foamwright.jobs.ask import SCHEMA, figure_json
from foamwright.jobs.belief import belief_json, learned, observe, unused_in
from foamwright.jobs.confirmed_columns import on_accepting
from foamwright.jobs.flight_analysis import (
    Finding,
    Wind,
    analysed,
    facts_of,
    mass_words,
    with_drive,
)
from foamwright.jobs.kept_flights import Keeping, keep
from foamwright.jobs.paired_flights import Compared, as_flown, compared, compared_json
from foamwright.model.evidence import OBSERVABLE, Observation
from foamwright.model.learning import Change, Taught
from foamwright.physics.numerics.normal import TENTH
from foamwright.plane.bench import today
from foamwright.plane.document import LoadedPlane, load
from foamwright.plane.flights import COLUMNS, FOLDER, FlightNote, Seen
from foamwright.plane.gear import Motor, Pack, Propeller
from foamwright.problems import CallProblem
from foamwright.quantity import show
from foamwright.questions.answer import Figure

BRIM = 1.25
"""Most charge a pack gives, over what is printed on it: a fresh one and a charger that reads high;
common practice, no source."""
TOLD_BETTER = frozenset({"charge_put_back"})
"""What a card says that the analysis of the log beside it says again, and why."""
TOLD_BY = {"charge_logged": "charge_used"}
"""What is read straight off that the analysis tells with its reasons."""
CELL_FULL = 4.2
"""[V]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Wishes:
    """What a debrief is to do."""

    takes: tuple[str, ...] = ()
    """What columns are, as typed."""
    card: str | None = None
    """The numbers read off the screen, as typed."""
    accept: bool = False
    """Whether the flight is kept with the plane."""
    units: str | None = None
    before: tuple[Path, ...] = ()
    """Logs of flights before a change, to hold the others against."""
    same_wind: bool = False
    """Whether all flights were flown within the hour, in one wind."""
    before_card: str | None = None
    """The numbers read off the screen of such a flight, as typed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Told:
    """What one flight told."""

    file: Path | None
    """The log; none for a card alone."""
    log: FlightLog | None
    wind: Wind | None
    readings: tuple[Reading, ...]
    figures: tuple[Figure, ...]
    findings: tuple[Finding, ...]
    not_said: tuple[str, ...]
    segments: tuple[Segment, ...] = ()
    """Stretches of one kind of flying, in the order they were flown."""
    flown: Flown | None = None
    """As it is held beside other flights."""
    assumed: tuple[str, ...] = ()
    """What was taken for granted in reading it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Debriefed:
    """What all flights told together."""

    plane: str
    units: str
    flights: tuple[Told, ...]
    belief: tuple[Change, ...]
    """What the flights teach of the plane."""
    written: tuple[Path, ...]
    """Files that were written; none unless it was accepted."""
    compared: Compared | None = None
    """How it was before a change; none unless flights before it were named."""


def expected_of(loaded: LoadedPlane, units: str | None = None) -> Expected:
    """Return what a plane says its log may hold, to be told in `units` or else in its own."""
    items = loaded.plane.items
    pack = next((item for item in items if isinstance(item, Pack)), None)
    motor = next((item for item in items if isinstance(item, Motor)), None)
    propeller = next((item for item in items if isinstance(item, Propeller)), None)
    cells = pack.cells if pack else None
    return Expected(
        cells=cells,
        pack_charge=pack.capacity.value if pack and pack.capacity else None,
        pitch=propeller.pitch.value if propeller and propeller.pitch else None,
        no_load=motor.kv.value if motor and motor.kv else None,
        pole_pairs=motor.pole_pairs if motor else None,
        most_voltage=None if cells is None else cells * CELL_FULL,
        units=units or loaded.plane.units,
    )


def figure_of(reading: Reading) -> Figure:
    """Return a reading as a figure with the band in which eight in ten lie."""
    return Figure(
        name=reading.name,
        label=reading.label,
        value=reading.value,
        low=reading.value - TENTH * reading.spread,
        high=reading.value + TENTH * reading.spread,
        unit=reading.unit,
        dimension=reading.dimension,
    )


def told_by_log(file: Path, log: FlightLog, card: Sequence[Reading], facts: Facts) -> Told:
    """Return what a log and the card beside it tell; what stands on the card goes first."""
    found = analysed(log.recording, facts, log.fast)
    own = {reading.name for reading in card}
    seen = (*card, *(one for one in found.readings if one.name not in own))
    figures = [figure_of(one) for one in card if one.name not in TOLD_BETTER]
    figures += [one for one in found.figures if one.name not in own]
    told = {one.name for one in figures}
    figures += [
        figure_of(one)
        for one in readings_of(log.recording)
        if one.name not in told and TOLD_BY.get(one.name) not in told
    ]
    return Told(
        file=file,
        log=log,
        wind=found.wind,
        readings=seen,
        figures=tuple(figures),
        findings=found.findings,
        not_said=(*log.not_said, *found.not_said),
        segments=found.segments,
        flown=as_flown(card, found.flown),
    )


def told_by_card(card: Sequence[Reading]) -> Told:
    """Return what a card alone tells."""
    return Told(
        file=None,
        log=None,
        wind=None,
        readings=tuple(card),
        figures=tuple(figure_of(one) for one in card),
        findings=(),
        not_said=tuple(
            f"the {one.label} is not held against the model: say at what speed, and how long"
            for one in card
            if one.name in OBSERVABLE and lacking(one)
        ),
        flown=as_flown(card),
    )


def lacking(reading: Reading) -> tuple[str, ...]:
    """Return which of its conditions a reading would need told to teach something."""
    needs = OBSERVABLE[reading.name].needs
    return tuple(name for name in needs if getattr(reading, name) is None)


def observations_of(readings: Sequence[Reading]) -> tuple[Observation, ...]:
    """Return the readings that the model can be held against, as heavy and warm as was told."""
    told = {one.name: one.value for one in readings}
    mass, temperature = told.get("all_up_mass"), told.get("air_temperature")
    return tuple(
        Observation(
            name=one.name,
            value=one.value,
            spread=one.spread,
            speed=one.speed,
            time=one.time,
            mass=mass if OBSERVABLE[one.name].weighs else None,
            temperature=temperature if OBSERVABLE[one.name].weighs else None,
            rotation_speed=one.rotation_speed,
            voltage=one.voltage,
        )
        for one in readings
        if one.name in OBSERVABLE and not lacking(one)
    )


def check_charge(loaded: LoadedPlane, card: Sequence[Reading]) -> None:
    """Refuse a card on which more charge was drawn than the pack holds."""
    holds = expected_of(loaded).pack_charge
    for one in card:
        if one.dimension == "charge" and holds is not None and one.value > BRIM * holds:
            had = f"{show(one.value, 'charge')} of {one.label}"
            raise CallProblem(
                f"--card: {had} is more than the pack of {show(holds, 'charge')} holds",
                expected="a nought too many? or write the pack that flew into the plane file",
            )


def read_all(loaded: LoadedPlane, logs: Sequence[Path], wishes: Wishes) -> tuple[Told, ...]:
    """Return what every log and the card tell; the card belongs to the one log there is."""
    card = card_of(wishes.card) if wishes.card is not None else ()
    check_charge(loaded, card)
    if card and len(logs) > 1:
        raise CallProblem("--card belongs to one flight", expected="debrief one log at a time")
    if not logs and not card:
        raise CallProblem("there is nothing to debrief", expected="name a log, or give --card")
    expected, facts = expected_of(loaded, wishes.units), facts_of(loaded, card)
    if wishes.units is not None:
        facts = replace(facts, units=wishes.units)
    kept = loaded.folder / FOLDER / COLUMNS
    read = [read_log(file, wishes.takes, expected=expected, kept=kept) for file in logs]
    found = [
        told_by_log(file, log, card, with_drive(facts, loaded, log.recording))
        for file, log in zip(logs, read, strict=True)
    ]
    mass = mass_words(loaded, facts, card)
    return tuple(
        replace(one, assumed=(mass,)) if mass and observations_of(one.readings) else one
        for one in found or [told_by_card(card)]
    )


def taught_by(loaded: LoadedPlane, flights: Sequence[Told]) -> Taught | None:
    """Return what flights teach of a plane, or None where there is nothing; nothing is written."""
    seen = [one for flight in flights for one in observations_of(flight.readings)]
    taught = observe(loaded, seen).taught if seen else ()
    return taught[-1] if taught else None


def with_unlearned(flights: tuple[Told, ...], taught: Taught | None) -> tuple[Told, ...]:
    """Return flights, the last of which says from what nothing is learned, and why."""
    if taught is None or not flights:
        return flights
    reasons: dict[str, list[str]] = {}
    for label, why in unused_in(taught):
        names = reasons.setdefault(why, [])
        if label not in names:
            names.append(label)
    whose = "of all these flights together: " if len(flights) > 1 else ""
    said = (
        f"{whose}nothing is learned from {', '.join(f'the {name}' for name in names)}: {why}"
        for why, names in reasons.items()
    )
    return (*flights[:-1], replace(flights[-1], not_said=(*flights[-1].not_said, *said)))


def debrief(
    path: Path, logs: Sequence[Path], wishes: Wishes, step: Callable[[str], None] = lambda _: None
) -> Debriefed:
    """Return what flights told of the plane at a path; kept with it where that is wished.

    `step` is told what is being done.
    """
    loaded = load(path)
    step("reading the flight")
    flights = read_all(loaded, logs, wishes)
    beside = held_beside(loaded, flights, wishes)
    step("asking what it teaches of the plane")
    taught = taught_by(loaded, flights)
    written: tuple[Path, ...] = ()
    if wishes.accept:
        step("keeping it and learning from it")
        written = accepted(loaded, flights)
    return Debriefed(
        plane=loaded.plane.name,
        units=wishes.units or loaded.plane.units,
        flights=with_unlearned(flights, taught),
        belief=() if taught is None else taught.changes,
        written=written,
        compared=beside,
    )


def held_beside(loaded: LoadedPlane, flights: Sequence[Told], wishes: Wishes) -> Compared | None:
    """Return how flights before a change compare; none where none were named."""
    if not wishes.before and wishes.before_card is None:
        return None
    twice = {one.resolve() for one in wishes.before}
    both = next((one.file for one in flights if one.file and one.file.resolve() in twice), None)
    if both is not None:
        what = f"{both} is named before and after the change"
        raise CallProblem(what, expected="name each flight on one side")
    earlier = read_all(loaded, wishes.before, Wishes(takes=wishes.takes, card=wishes.before_card))
    sides = [[one.flown for one in side if one.flown] for side in (earlier, flights)]
    found = compared(*sides, same_wind=wishes.same_wind)
    holes = tuple(
        f"{one.file.name}, before: {word}" for one in earlier if one.file for word in one.not_said
    )
    return replace(found, not_said=(*found.not_said, *holes))


def accepted(loaded: LoadedPlane, flights: Sequence[Told]) -> tuple[Path, ...]:
    """Keep flights with the plane and learn from them; return the files written."""
    day = today()
    keeping = [
        Keeping(
            file=flight.file,
            note=note_of(flight, day),
            header=flight.log.header if flight.log else (),
            takes=on_accepting(flight.log) if flight.log else None,
        )
        for flight in flights
    ]
    written = keep(loaded.folder, keeping)
    learned(load(loaded.file), anew=True)
    return written


def note_of(flight: Told, day: dt.date) -> FlightNote:
    """Return a flight as its note says it."""
    return FlightNote(
        date=day,
        log=flight.file.name if flight.file else None,
        observations=tuple(
            Seen(
                what=one.name,
                value=one.value,
                spread=one.spread,
                speed=one.speed,
                time=one.time,
                mass=one.mass,
                temperature=one.temperature,
                rotation_speed=one.rotation_speed,
                voltage=one.voltage,
            )
            for one in observations_of(flight.readings)
        ),
    )


def log_json(log: FlightLog | None) -> dict[str, object] | None:
    """Return a log as the contract has it."""
    if log is None:
        return None
    return {
        "rows": log.rows,
        "seconds": float(log.recording.time[-1] - log.recording.time[0]),
        "coverage": log.recording.coverage,
        "gaps": [asdict(gap) for gap in log.recording.gaps],
        "columns": [
            {
                "column": column.column,
                "taken_as": column.taken_as or None,
                "unit": column.unit,
                "scale": column.scale,
                "sure": column.sure,
                "because": column.because,
            }
            for column in log.columns
        ],
    }


def flight_json(flight: Told) -> dict[str, object]:
    """Return what one flight told as the contract has it, without the belief."""
    return {
        "log": log_json(flight.log),
        "wind": asdict(flight.wind) if flight.wind else None,
        "figures": [figure_json(figure) for figure in flight.figures],
        "findings": [asdict(finding) for finding in flight.findings],
        "not_said": list(flight.not_said),
        "assumed": list(flight.assumed),
    }


def as_json(debriefed: Debriefed) -> dict[str, object]:
    """Return a debrief as the contract's JSON object; several flights as a list of them."""
    belief = belief_json(debriefed.belief)
    beside = compared_json(debriefed.compared) if debriefed.compared else {}
    if len(debriefed.flights) == 1:
        told = flight_json(debriefed.flights[0])
        return {"schema": SCHEMA, **told, "belief": belief, **beside}
    flights = [flight_json(flight) for flight in debriefed.flights]
    return {"schema": SCHEMA, "flights": flights, "belief": belief, **beside}

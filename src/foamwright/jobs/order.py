"""The build order: what is done, what is ready, and what stands against the next cut."""

import time
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Literal

from foamwright.jobs.ask import Settings, opened
from foamwright.jobs.output import free, put
from foamwright.paper.checklist import Tick, checklist
from foamwright.plane import bench
from foamwright.plane.bench_records import Step
from foamwright.plane.build_step import BuildStep
from foamwright.plane.build_steps import build_steps
from foamwright.problems import CallProblem
from foamwright.questions.answer import Verdict
from foamwright.questions.case import Case
from foamwright.questions.chance import verdict
from foamwright.questions.register import QUESTIONS

SCHEMA = 1
"""Version of the JSON that `order` prints."""

GOOD = ("yes", "likely")
"""Verdicts a hold point wants."""

AGAINST = ("no", "unlikely")
"""Verdicts at which a step is refused."""

State = Literal["done", "ready", "waiting", "held"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Hold:
    """One question that must stand before a step."""

    question: str
    """Its id."""
    asks: str
    """The question as a sentence."""
    verdict: Verdict
    """How it stands."""
    probability: float | None
    """The chance; none where it is open."""

    @property
    def good(self) -> bool:
        """Whether it stands at likely or better."""
        return self.verdict in GOOD


@dataclass(frozen=True, kw_only=True, slots=True)
class Finished:
    """What is known of a step that is done."""

    date: str
    """The day, as 2026-05-01; empty where the plane file shows it without one."""
    anyway: bool
    """Whether it was done though something stood against it."""
    reason: str
    """What stood against it."""
    note: str
    """The builder's note."""


@dataclass(frozen=True, kw_only=True, slots=True)
class OrderedStep:
    """One step and how it stands."""

    step: BuildStep
    """What to do."""
    holds: tuple[Hold, ...]
    """How its questions stand."""
    lacks: tuple[str, ...]
    """Steps before it that are not done."""
    state: State
    """Done; ready; waiting for other steps; or held by a question that does not stand."""
    record: Finished | None
    """What is known of it, where it is done."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Order:
    """The whole build."""

    plane: str
    """Its name."""
    variant: str | None
    """Which variant."""
    steps: tuple[OrderedStep, ...]
    """In an order that can be worked."""
    not_asked: tuple[str, ...]
    """Questions a hold point wants that cannot be asked yet."""
    seconds: float
    """How long it took."""

    def named(self, name: str) -> OrderedStep:
        """Return a step by its id; raises CallProblem with the nearest ones."""
        for ordered in self.steps:
            if ordered.step.id == name:
                return ordered
        known = ", ".join(ordered.step.id for ordered in self.steps)
        raise CallProblem(f"no step '{name}'", expected=f"one of {known}")


def standing(case: Case, wanted: Iterable[str]) -> dict[str, Hold]:
    """Return how the questions that hold points want stand."""
    found = {}
    for question in QUESTIONS:
        if question.id in wanted:
            chance = question.measure(case).probability
            found[question.id] = Hold(
                question=question.id,
                asks=question.asks,
                verdict=verdict(chance),
                probability=chance,
            )
    return found


def shown(note: str, date: str = "") -> Finished:
    """Return a step that the files show as done."""
    return Finished(date=date, anyway=False, reason="", note=note)


def weighed(case: Case, notes: bench.Notes) -> dict[str, Finished]:
    """Return the steps that the plane file and the bench notes show as done."""
    estimated = set(case.computed.masses.estimated)
    found = {}
    if "bare foam" not in estimated and case.plane.airframe.bare_balance is not None:
        found["weigh-foam"] = shown("mass and balance are written")
    if not estimated - {"bare foam"} and case.plane.items:
        found["weigh-gear"] = shown("every mass is written")
    if notes.bench.static:
        found["static-thrust"] = shown("in the bench notes", str(notes.bench.static[-1].date))
    return found


def recorded(notes: bench.Notes) -> dict[str, Finished]:
    """Return the steps that the builder recorded as done."""
    return {
        record.step: Finished(
            date=str(record.date),
            anyway=record.anyway,
            reason=record.reason or "",
            note=record.note or "",
        )
        for record in notes.bench.steps
    }


def state_of(record: Finished | None, lacks: tuple[str, ...], holds: tuple[Hold, ...]) -> State:
    """Return how a step stands."""
    if record is not None:
        return "done"
    if lacks:
        return "waiting"
    return "ready" if all(hold.good for hold in holds) else "held"


def order_of(case: Case, notes: bench.Notes, variant: str | None) -> Order:
    """Return the build order of a plane as it stands."""
    start = time.perf_counter()
    steps = build_steps(case.plane)
    records = weighed(case, notes) | recorded(notes)
    wanted = {question for step in steps for question in step.holds}
    known = standing(case, wanted)
    ordered = []
    for step in steps:
        holds = tuple(known[name] for name in step.holds if name in known)
        lacks = tuple(name for name in step.needs if name not in records)
        record = records.get(step.id)
        ordered.append(
            OrderedStep(
                step=step,
                holds=holds,
                lacks=lacks,
                state=state_of(record, lacks, holds),
                record=record,
            )
        )
    return Order(
        plane=case.plane.name,
        variant=variant,
        steps=tuple(ordered),
        not_asked=tuple(sorted(wanted - set(known))),
        seconds=round(time.perf_counter() - start, 3),
    )


def order(path: Path, settings: Settings) -> Order:
    """Return the build order of the plane at a path."""
    loaded, case = opened(path, settings)
    return order_of(case, bench.load(loaded.folder), settings.variant)


def objections(ordered: OrderedStep) -> list[str]:
    """Return what stands against doing a step now, in words."""
    found = []
    if ordered.lacks:
        found.append(
            f"{', '.join(ordered.lacks)} come{'s' if len(ordered.lacks) == 1 else ''} first"
        )
    for hold in ordered.holds:
        if hold.verdict in AGAINST:
            chance = "" if hold.probability is None else f" ({hold.probability:.0%})"
            found.append(f"{hold.question} stands at '{hold.verdict}'{chance}")
    return found


def warnings(ordered: OrderedStep) -> tuple[str, ...]:
    """Return what does not stand as it should, though it does not forbid the step."""
    return tuple(
        f"{hold.question} stands only at '{hold.verdict}'"
        for hold in ordered.holds
        if not hold.good and hold.verdict not in AGAINST
    )


@dataclass(frozen=True, kw_only=True, slots=True)
class Done:
    """A step that was recorded."""

    record: Step
    """As it stands in the bench notes."""
    file: Path
    """Where they are."""
    warnings: tuple[str, ...]
    """What did not stand as it should."""
    order: Order
    """The build as it stands now."""


def done(
    path: Path, name: str, settings: Settings, *, anyway: bool = False, note: str | None = None
) -> Done:
    """Record a step as done.

    Raises CallProblem where a step before it is missing or a question stands against it, unless
    it is done `anyway`; that is recorded with what stood against it.
    """
    loaded, case = opened(path, settings)
    notes = bench.load(loaded.folder)
    ordered = order_of(case, notes, settings.variant).named(name)
    if ordered.state == "done":
        raise CallProblem(f"'{name}' is done already", expected="nothing was written")
    against = objections(ordered)
    if against and not anyway:
        raise CallProblem(
            f"'{name}' is held: {'; '.join(against)}",
            expected=f"ask {asked_first(ordered)}, or do it --anyway, which is recorded",
        )
    record = Step(
        step=name,
        date=bench.today(),
        anyway=bool(against),
        reason="; ".join(against) if against else None,
        note=note,
    )
    after = bench.append(loaded.folder, record, notes)
    return Done(
        record=record,
        file=after.file,
        warnings=warnings(ordered),
        order=order_of(case, after, settings.variant),
    )


def asked_first(ordered: OrderedStep) -> str:
    """Return what to ask of a held step."""
    names = [hold.question for hold in ordered.holds if hold.verdict in AGAINST]
    return " and ".join(names) if names else "order"


def tick(ordered: OrderedStep) -> Tick:
    """Return a step as a line of the checklist on paper."""
    step = ordered.step
    told = []
    if ordered.holds:
        stand = (f"{h.question} {h.verdict}" for h in ordered.holds)
        told.append(f"Only if it stands at likely or better; today: {', '.join(stand)}.")
    if step.why:
        told.append(step.why[0].upper() + step.why[1:] + ".")
    told += step.cautions
    if ordered.record is not None:
        known = (ordered.record.date, ordered.record.note, ordered.record.reason)
        told = [", ".join(word for word in known if word)]
    return Tick(
        phase=step.phase,
        do=step.do,
        name=step.id,
        done=ordered.state == "done",
        hold=step.irreversible,
        told=tuple(word for word in told if word),
    )


def write(found: Order, file: Path, *, paper: str = "a4", force: bool = False) -> Path:
    """Write the checklist as a PDF; raises WriteProblem, and leaves nothing half-written."""
    free(file, (".pdf",), force=force)
    title = found.plane if found.variant is None else f"{found.plane}, {found.variant}"
    pages = checklist(title, tuple(tick(ordered) for ordered in found.steps), paper)
    put(file, pages, force=force)
    return file


def step_json(ordered: OrderedStep) -> dict[str, object]:
    """Return a step as the contract writes it."""
    step, record = ordered.step, ordered.record
    return {
        "id": step.id,
        "phase": step.phase,
        "do": step.do,
        "kind": step.kind,
        "irreversible": step.irreversible,
        "needs": list(step.needs),
        "holds": [
            {"question": h.question, "verdict": h.verdict, "probability": h.probability}
            for h in ordered.holds
        ],
        "state": ordered.state,
        "done": None if record is None else asdict(record),
        "why": step.why,
        "cautions": list(step.cautions),
    }


def as_json(found: Order) -> dict[str, object]:
    """Return the build order as the contract's JSON object."""
    return {
        "schema": SCHEMA,
        "plane": found.plane,
        "variant": found.variant,
        "seconds": found.seconds,
        "not_asked": list(found.not_asked),
        "steps": [step_json(ordered) for ordered in found.steps],
    }

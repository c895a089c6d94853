"""Read the plane, make it computable, answer."""

import csv
import dataclasses
import io
import time
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from foamwright.jobs.belief import knowing, sentence
from foamwright.jobs.output import free, put
from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.paper import charts
from foamwright.plane.bench import Notes
from foamwright.plane.document import LoadedPlane, load
from foamwright.plane.variants import overridden
from foamwright.problems import CallProblem
from foamwright.questions.answer import Answer, Figure
from foamwright.questions.case import Case
from foamwright.search.askable import ASKABLE, BY_NAME_ONLY, charts_of, wanted

SCHEMA = 1
"""Version of the JSON that `ask` prints."""

FEWEST, MOST = 1, 65536
"""Samples that can be asked for."""


UNTAUGHT = ("cost",)
"""Questions that no test and no flight has to do with."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Settings:
    """How to ask."""

    variant: str | None = None
    samples: int = 1024
    seed: int = 1
    units: str | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawn:
    """Charts that were written."""

    files: tuple[Path, ...]
    """Where."""
    without: tuple[str, ...]
    """Questions that have no chart, or none for this plane."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Asked:
    """What was asked and answered."""

    plane: str
    variant: str | None
    units: str
    currency: str
    samples: int
    seed: int
    seconds: float
    answers: tuple[Answer, ...]


def question_ids() -> tuple[str, ...]:
    """Return the names of all questions in asking order."""
    return tuple(question.id for question in ASKABLE)


def case_of(loaded: LoadedPlane, draws: Draws, like: ComputablePlane | None = None) -> Case:
    """Return a loaded plane as a case that can be changed with the same luck."""
    computed = ComputablePlane(loaded, draws, like)

    def changed(keys: Mapping[str, object]) -> Case:
        return case_of(overridden(loaded, keys), draws, computed)

    return Case(
        plane=loaded.plane,
        computed=computed,
        stock=loaded.stock,
        changed=changed,
    )


def opened(path: Path, settings: Settings, notes: Notes | None = None) -> tuple[LoadedPlane, Case]:
    """Return the plane at a path, and its case.

    Other bench `notes` than those in its folder may be given; nothing is written then.
    """
    if not FEWEST <= settings.samples <= MOST:
        raise CallProblem(
            f"--samples {settings.samples} is out of range", expected=f"{FEWEST} to {MOST}"
        )
    loaded = load(path, settings.variant, notes=notes)
    if settings.units is not None:
        # Sentences are written in the units asked for, like the figures beside them.
        plane = loaded.plane.model_copy(update={"units": settings.units})
        loaded = dataclasses.replace(
            loaded, plane=plane, raw={**loaded.raw, "units": settings.units}
        )
    fresh = Draws(settings.samples, settings.seed)
    draws, found = knowing(fresh, loaded, keep=notes is None)
    if settings.variant is not None:
        # Drawn for the plain plane first, so that a variant flies with the same luck.
        ComputablePlane(load(path, notes=notes), draws).settle()
    case = case_of(loaded, draws)
    case.computed.settle()

    def planned() -> ComputablePlane:
        whole = ComputablePlane(load(path, settings.variant, as_planned=True), fresh.branched())
        whole.settle_flight()
        return whole

    bench = loaded.notes.bench
    return loaded, dataclasses.replace(case, bench=bench, learned=found, planned=planned)


def with_lessons(answer: Answer, case: Case) -> Answer:
    """Return an answer that says from how many tests and flights it learned."""
    if answer.question in UNTAUGHT or answer.probability is None:
        return answer
    return dataclasses.replace(answer, assumed=(*answer.assumed, *sentence(case.learned)))


def named(questions: tuple[str, ...]) -> tuple[str, ...]:
    """Return the questions named; raises CallProblem for one that there is not."""
    known = question_ids()
    for name in questions:
        if name not in known:
            raise CallProblem(f"no question '{name}'", expected=f"one of {', '.join(known)}")
    return questions


def ask(path: Path, questions: tuple[str, ...], settings: Settings) -> Asked:
    """Return the answers to some questions, or to all of them if none is named."""
    start = time.perf_counter()
    named(questions)
    loaded, case = opened(path, settings)
    answers = tuple(with_lessons(one.answer(case), case) for one in wanted(questions))
    return Asked(
        plane=loaded.plane.name,
        variant=settings.variant,
        units=settings.units or loaded.plane.units,
        currency=loaded.plane.currency,
        samples=settings.samples,
        seed=settings.seed,
        seconds=round(time.perf_counter() - start, 3),
        answers=answers,
    )


def draw_charts(
    path: Path, questions: tuple[str, ...], settings: Settings, folder: Path, *, force: bool = False
) -> Drawn:
    """Write the charts of some questions, or of all, as SVG into a folder.

    Raises CallProblem or WriteProblem before anything is written.
    """
    loaded, case = opened(path, settings)
    names = named(questions) or tuple(q.id for q in ASKABLE if q.id not in BY_NAME_ONLY)
    units = settings.units or loaded.plane.units
    found = {name: charts_of(name, case) for name in names}
    files = {folder / f"{chart.name}.svg": chart for group in found.values() for chart in group}
    for file in files:
        free(file, (".svg",), force=force)
    for file, chart in files.items():
        put(file, charts.svg(chart, units).encode(), force=force)
    return Drawn(
        files=tuple(files), without=tuple(name for name, group in found.items() if not group)
    )


def figure_json(figure: Figure) -> dict[str, object]:
    """Return a figure as the contract writes it."""
    keys = ("name", "label", "value", "low", "high", "unit", "limit_low", "limit_high")
    return {key: getattr(figure, key) for key in keys}


def answer_json(answer: Answer) -> dict[str, object]:
    """Return an answer as the contract writes it."""
    told: dict[str, object] = {
        "question": answer.question,
        "asks": answer.asks,
        "verdict": answer.verdict,
        "probability": answer.probability,
        "figures": [figure_json(figure) for figure in answer.figures],
        "because": answer.because,
        "assumed": [*answer.assumed, *(f"missing: {key}" for key in answer.missing)],
        "carried_by": [{"input": s.input, "share": s.share} for s in answer.carried_by],
        "remedies": [
            {
                "do": remedy.do,
                "effect": [
                    {"figure": e.figure, "from": e.before, "to": e.after} for e in remedy.effect
                ],
            }
            for remedy in answer.remedies
        ],
        "cautions": list(answer.cautions),
    }
    if answer.shopping:
        told["shopping"] = [asdict(line) for line in answer.shopping]
    if answer.rules:
        told["rules"] = [asdict(rule) for rule in answer.rules]
    return told


def as_json(asked: Asked) -> dict[str, object]:
    """Return what was asked as the contract's JSON object."""
    return {
        "schema": SCHEMA,
        "plane": asked.plane,
        "variant": asked.variant,
        "seconds": asked.seconds,
        "answers": [answer_json(answer) for answer in asked.answers],
    }


def shopping_csv(asked: Asked) -> str:
    """Return the shopping list as comma-separated values with a header."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["item", "kind", "count", "price each", "currency", "owned", "price", "link"])
    for answer in asked.answers:
        for line in answer.shopping:
            price = "" if line.price_each is None else f"{line.price_each:.2f}"
            writer.writerow(
                [
                    line.item,
                    line.kind,
                    line.count,
                    price,
                    asked.currency,
                    "yes" if line.owned else "no",
                    "usual" if line.assumed else "written",
                    line.link,
                ]
            )
    return out.getvalue()

"""The plane as planned beside its variants: every question, with the same luck.

All variants share their draws, so what one makes of a plane is told sample by sample: a
difference of two planes built by the same hand, flown in the same air.
"""

import time
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import numpy as np

from foamwright.jobs.ask import Settings, case_of, figure_json, opened
from foamwright.physics.arrays import Samples
from foamwright.plane.document import LoadedPlane, load
from foamwright.problems import CallProblem
from foamwright.questions.answer import Figure, Verdict
from foamwright.questions.case import Case, Measured
from foamwright.questions.chance import figure, verdict
from foamwright.questions.register import QUESTIONS, Question

SCHEMA = 1
"""Version of the JSON that `compare` prints."""

ROUNDING = 1e-9
"""Differences smaller than this, as a share of the figure, are rounding."""

Told = Literal["more", "less", "same", "cannot tell"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Outcome:
    """What one question says of one variant."""

    variant: str | None
    """Which; none for the plane as planned."""
    verdict: Verdict
    """The chance in a word."""
    probability: float | None
    """The chance; none where the verdict is open."""
    figures: tuple[Figure, ...]
    """As `ask` tells them."""
    key_figure: Figure | None
    """The one the verdict hangs on."""
    missing: tuple[str, ...]
    """What has to be told before the question can be answered."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Difference:
    """What a variant changes in the figure the verdict hangs on."""

    variant: str
    """Which variant, against the plane as planned."""
    figure: Figure
    """Median and 10-90 % band of the difference taken sample by sample [SI]."""
    told: Told
    """More or less where the whole band says so; the same where nothing changes."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Row:
    """One question, answered for every variant."""

    question: str
    """The question's id."""
    asks: str
    """The question as a sentence."""
    outcomes: tuple[Outcome, ...]
    """As planned first, then the variants in the order they were named."""
    differences: tuple[Difference, ...]
    """One a variant, where both have the figure."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Compared:
    """What was compared."""

    plane: str
    variants: tuple[str, ...]
    units: str
    currency: str
    samples: int
    seed: int
    seconds: float
    rows: tuple[Row, ...]


def chosen(loaded: LoadedPlane, variants: tuple[str, ...]) -> tuple[str, ...]:
    """Return which variants to compare: those named, or all there are."""
    twice = sorted({name for name in variants if variants.count(name) > 1})
    if twice:
        raise CallProblem(
            f"variant '{twice[0]}' is named more than once", expected="name each variant once"
        )
    found = variants or loaded.variants
    if not found:
        raise CallProblem(
            f"{loaded.file} has no variants to compare",
            expected='write one below a header such as [variants."two cells"]',
        )
    return found


def told(band: Figure, size: float) -> Told:
    """Return what the band of a difference says, for a figure of a certain size."""
    if band.low is None or band.high is None:
        return "cannot tell"
    if max(abs(band.low), abs(band.high)) <= ROUNDING * size:
        return "same"
    if band.low > 0.0:
        return "more"
    return "less" if band.high < 0.0 else "cannot tell"


def difference(variant: str, planned: Measured, changed: Measured) -> Difference | None:
    """Return what a variant changes; none where one of the two has no such figure."""
    before, after = planned.key_figure, changed.key_figure
    if before is None or after is None or before.name != after.name:
        return None
    found: Samples = changed.deciding - planned.deciding
    band = figure(before.name, before.label, found, (before.unit, before.dimension))
    both = np.abs(planned.deciding[np.isfinite(found)])
    return Difference(
        variant=variant,
        figure=band,
        told=told(band, float(both.max(initial=0.0))),
    )


def row(question: Question, cases: dict[str | None, Case]) -> Row:
    """Return one question answered for every case; the plane as planned is first."""
    measured = {name: question.measure(case) for name, case in cases.items()}
    changes = (
        difference(name, measured[None], found)
        for name, found in measured.items()
        if name is not None
    )
    return Row(
        question=question.id,
        asks=question.asks,
        outcomes=tuple(
            Outcome(
                variant=name,
                verdict=verdict(found.probability),
                probability=found.probability,
                figures=found.figures,
                key_figure=found.key_figure,
                missing=found.missing,
            )
            for name, found in measured.items()
        ),
        differences=tuple(change for change in changes if change is not None),
    )


def compare(path: Path, variants: tuple[str, ...], settings: Settings) -> Compared:
    """Return every question answered for a plane as planned and for some of its variants."""
    start = time.perf_counter()
    names = chosen(load(path), variants)
    loaded_variants = [load(path, name) for name in names]
    loaded, planned = opened(path, settings)
    cases: dict[str | None, Case] = {None: planned}
    for name, changed in zip(names, loaded_variants, strict=True):
        # A branch a variant, so that no answer depends on which others stand beside it.
        cases[name] = case_of(changed, planned.computed.draws.branched(), planned.computed)
        cases[name].computed.settle()
    return Compared(
        plane=loaded.plane.name,
        variants=names,
        units=settings.units or loaded.plane.units,
        currency=loaded.plane.currency,
        samples=settings.samples,
        seed=settings.seed,
        rows=tuple(row(question, cases) for question in QUESTIONS),
        seconds=round(time.perf_counter() - start, 3),
    )


def outcome_json(outcome: Outcome) -> dict[str, object]:
    """Return what a question says of a variant, as the contract writes it."""
    return {
        "variant": outcome.variant,
        "verdict": outcome.verdict,
        "probability": outcome.probability,
        "figures": [figure_json(found) for found in outcome.figures],
    }


def difference_json(change: Difference) -> dict[str, object]:
    """Return what a variant changes, as the contract writes it."""
    return {
        "variant": change.variant,
        "figure": change.figure.name,
        "value": change.figure.value,
        "low": change.figure.low,
        "high": change.figure.high,
        "unit": change.figure.unit,
        "told": change.told,
    }


def as_json(compared: Compared) -> dict[str, object]:
    """Return what was compared as the contract's JSON object."""
    return {
        "schema": SCHEMA,
        "plane": compared.plane,
        "variants": list(compared.variants),
        "rows": [
            {
                "question": found.question,
                "asks": found.asks,
                "answers": [outcome_json(outcome) for outcome in found.outcomes],
                "differences": [difference_json(change) for change in found.differences],
            }
            for found in compared.rows
        ],
    }

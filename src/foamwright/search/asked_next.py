"""What is the one change or test worth doing next? The question that asks all the others."""

from weakref import WeakKeyDictionary

import numpy as np

from foamwright.model.computable import ComputablePlane
from foamwright.questions.answer import Answer, Effect, Figure, Remedy
from foamwright.questions.case import Case, Measured
from foamwright.questions.chart import Axis, Chart, Row
from foamwright.questions.charts import NOTHING, broken
from foamwright.search.next_step import NextStep, next_steps

ID = "next"
ASKS = "Which one change or test is worth doing next?"

MOST_TOLD = 3
"""Steps that are told as remedies."""

MOST_DRAWN = 10
"""Steps in the chart."""

CAUTION = (
    "One change at a time, or the next flight cannot tell which of them helped; check balance and "
    "controls anew after each."
)

ASSUMED = ("minutes of work, grams and money are weighed against each other by our own weights",)

_known: "WeakKeyDictionary[ComputablePlane, tuple[NextStep, ...]]" = WeakKeyDictionary()


def steps_of(case: Case) -> tuple[NextStep, ...]:
    """Return the steps worth taking, best first; looked for once a case, for it takes seconds."""
    if case.computed not in _known:
        _known[case.computed] = next_steps(case)
    return _known[case.computed]


def measure(case: Case) -> Measured:
    """Return how much the best steps are worth; there is no chance to it, so it stays open."""
    nothing = np.full(case.computed.samples, np.nan)
    return Measured(figures=figures(steps_of(case)), probability=None, deciding=nothing)


def figures(steps: tuple[NextStep, ...]) -> tuple[Figure, ...]:
    """Return what the best step is worth and gains."""
    if not steps:
        return ()
    best = steps[0]
    told = (
        ("next_worth", "percentage points, all questions together, for a minute", best.worth, "-"),
        ("next_gain", "questions that stand, all together, more than before", best.gain, "-"),
        ("next_minutes", "time it takes", 60.0 * best.minutes, "s"),
    )
    return tuple(
        Figure(
            name=name,
            label=label,
            value=value,
            low=value,
            high=value,
            unit=unit,
            dimension="time" if unit == "s" else "number",
        )
        for name, label, value, unit in told
    )


def remedy(step: NextStep) -> Remedy:
    """Return a step as something to do, with the chances it moves."""
    effect = tuple(
        Effect(
            figure=f"{one.question}_probability",
            before=one.before,
            after=one.after,
            label=f"{one.question}: chance"
            if step.kind == "change"
            else f"{one.question}: chance to decide it rightly",
            dimension="fraction",
        )
        for one in step.effect[:MOST_TOLD]
    )
    return Remedy(do=step.do, effect=effect, keys=dict(step.keys))


def because(steps: tuple[NextStep, ...]) -> str:
    """Return the best step and why it is."""
    if not steps:
        return "No change and no test that was tried moves a question by enough to tell."
    best, kinds = steps[0], {step.kind for step in steps}
    also = next((step for step in steps if step.kind != best.kind), None)
    lines = [f"{best.do} ({best.minutes:.0f} min): {best.because}."]
    if also is not None and len(kinds) > 1:
        lines.append(f"Of {also.kind}s, the best is: {also.do} ({also.minutes:.0f} min).")
    return " ".join(lines)


def answer(case: Case) -> Answer:
    """Return the answer."""
    steps = steps_of(case)
    return Answer(
        question=ID,
        asks=ASKS,
        verdict="open",
        probability=None,
        figures=figures(steps),
        because=because(steps),
        assumed=ASSUMED,
        remedies=tuple(remedy(step) for step in steps[:MOST_TOLD]),
        cautions=(CAUTION,) if steps else (),
    )


def charts(case: Case) -> tuple[Chart, ...]:
    """Return the best steps by their worth."""
    steps = steps_of(case)[:MOST_DRAWN]
    if not steps:
        return ()
    return (
        Chart(
            name="worth-of-steps",
            title="What the next steps are worth",
            x=Axis(label="points of chance, all questions, for a minute", dimension="number"),
            y=NOTHING,
            rows=tuple(
                Row(label=broken(f"{step.do}"), value=step.worth, low=0.0, high=step.worth)
                for step in steps
            ),
        ),
    )

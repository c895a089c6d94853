"""The list of questions, in asking order."""

from collections.abc import Callable
from dataclasses import dataclass

from foamwright.questions import (
    balance,
    bench,
    control,
    cost,
    debrief,
    electrics,
    endurance,
    fit,
    landing,
    launch,
    rules,
    speed,
    weight,
)
from foamwright.questions.answer import Answer
from foamwright.questions.case import Case, Measured


@dataclass(frozen=True, kw_only=True, slots=True)
class Question:
    """One question a builder can ask."""

    id: str
    """Its name on the command line and in JSON."""
    asks: str
    """The question as a sentence."""
    answer: Callable[[Case], Answer]
    """Answers it for a case."""
    measure: Callable[[Case], Measured]
    """Computes it without words: figures and the samples the verdict hangs on."""
    stands: Callable[[Case], Measured]
    """Computes the chance and for which samples it stands; figures may be left out."""


QUESTIONS: tuple[Question, ...] = tuple(
    Question(
        id=module.ID,
        asks=module.ASKS,
        answer=module.answer,
        measure=module.measure,
        stands=getattr(module, "stands", module.measure),
    )
    for module in (
        fit,
        weight,
        balance,
        electrics,
        speed,
        endurance,
        landing,
        control,
        launch,
        rules,
        cost,
        bench,
        debrief,
    )
)
"""Every question that can be answered, in the order a builder meets them."""

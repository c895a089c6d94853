"""Every question that can be asked: those of the register, and the one that asks them all."""

from foamwright.questions import charts as plane_charts
from foamwright.questions.case import Case
from foamwright.questions.chart import Chart
from foamwright.questions.register import QUESTIONS, Question
from foamwright.search import asked_next

NEXT = Question(
    id=asked_next.ID,
    asks=asked_next.ASKS,
    answer=asked_next.answer,
    measure=asked_next.measure,
    stands=asked_next.measure,
)

ASKABLE: tuple[Question, ...] = (*QUESTIONS, NEXT)
"""All of them, in asking order."""

BY_NAME_ONLY = frozenset({NEXT.id})
"""Asked only when named: it tries every change through all the others, which takes seconds."""


def wanted(names: tuple[str, ...]) -> tuple[Question, ...]:
    """Return the questions of some names; of none, all that are quick."""
    return tuple(
        question
        for question in ASKABLE
        if question.id in names or (not names and question.id not in BY_NAME_ONLY)
    )


def charts_of(question: str, case: Case) -> tuple[Chart, ...]:
    """Return the charts of a question about a case; none where it has no picture."""
    if question == NEXT.id:
        return asked_next.charts(case)
    return plane_charts.charts_of(question, case)

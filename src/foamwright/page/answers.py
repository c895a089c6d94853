"""Answers as the page tells them: a line beside the drawing, and the leaf that opens under it."""

from collections.abc import Mapping, Sequence

from foamwright.jobs.ask import with_lessons
from foamwright.page.bands import band, mark
from foamwright.page.dress import fragment
from foamwright.paper import charts
from foamwright.paper.chart_table import table_of
from foamwright.quantity import show, show_band
from foamwright.questions.answer import Answer, Effect, Figure, Remedy, Verdict
from foamwright.questions.case import Case, Measured
from foamwright.questions.chance import verdict
from foamwright.questions.chart import Chart
from foamwright.questions.register import QUESTIONS, Question

QUICK = ("fit", "weight", "balance")
"""What is asked while a part moves: these change with it at once."""

BY_ID: Mapping[str, Question] = {question.id: question for question in QUESTIONS}
"""Every question by its name."""

Told = dict[str, object]


def chance_words(probability: float | None) -> str:
    """Return a chance as planes of a hundred."""
    if probability is None:
        return ""
    share = round(100 * probability)
    if share == 100 and probability < 1.0:
        return "over 99 in 100"
    if share == 0 and probability > 0.0:
        return "under 1 in 100"
    return f"{share} in 100"


def wanted_words(figure: Figure, units: str, currency: str) -> str:
    """Return what is wanted of a figure in words; empty where nothing is."""
    low, high = figure.limit_low, figure.limit_high
    if low is not None and high is not None:
        return f"wanted {show_band(low, high, figure.dimension, units, currency=currency)}"
    if low is not None:
        return f"wanted at least {show(low, figure.dimension, units, currency)}"
    if high is not None:
        return f"wanted at most {show(high, figure.dimension, units, currency)}"
    return ""


def figure_told(figure: Figure, units: str, currency: str, *, ticks: bool = False) -> Told:
    """Return a figure for a template."""
    return {
        "name": figure.name,
        "label": figure.label,
        "value": show(figure.value, figure.dimension, units, currency),
        "band": show_band(figure.low, figure.high, figure.dimension, units, currency=currency),
        "low": show(figure.low, figure.dimension, units, currency),
        "high": show(figure.high, figure.dimension, units, currency),
        "wanted": wanted_words(figure, units, currency),
        "chart": band(figure, units, currency, ticks=ticks),
    }


def line_told(case: Case, found: Measured, word: Verdict) -> str:
    """Return one answer as the line beside the drawing."""
    units, currency = case.plane.units, case.plane.currency
    key = found.key_figure
    return fragment(
        "line.html",
        {
            "verdict": word,
            "mark": mark(word),
            "chance": chance_words(found.probability),
            "figure": None if key is None else figure_told(key, units, currency),
            "missing": found.missing,
        },
    )


def line_of(question: Question, case: Case) -> Told:
    """Return one question measured: no remedies, so it is quick."""
    found = question.measure(case)
    word = verdict(found.probability)
    return {"question": question.id, "verdict": word, "html": line_told(case, found, word)}


def effect_told(effect: Effect, units: str, currency: str) -> Told:
    """Return what a remedy does to one figure."""
    if effect.figure == "probability":
        ends = [chance_words(end) or "none" for end in (effect.before, effect.after)]
    else:
        ends = [
            show(end, effect.dimension, units, currency) for end in (effect.before, effect.after)
        ]
    return {"label": effect.label or effect.figure, "before": ends[0], "after": ends[1]}


def remedy_told(remedy: Remedy, units: str, currency: str) -> Told:
    """Return a remedy with the keys it would change, so that it can be tried."""
    return {
        "do": remedy.do,
        "keys": dict(remedy.keys),
        "effects": [effect_told(e, units, currency) for e in remedy.effect if e.before != e.after],
    }


def leaf_of(question: Question, case: Case) -> Told:
    """Return one question answered in full, as the leaf that opens under its line."""
    answer = with_lessons(question.answer(case), case)
    return {"question": question.id, "verdict": answer.verdict, "html": leaf_told(answer, case)}


def leaf_told(answer: Answer, case: Case) -> str:
    """Return an answer as the leaf under its line."""
    units, currency = case.plane.units, case.plane.currency
    first, *others = answer.figures or (None,)
    return fragment(
        "leaf.html",
        {
            "answer": answer,
            "key": None if first is None else figure_told(first, units, currency, ticks=True),
            "figures": [figure_told(f, units, currency) for f in (first, *others) if f],
            "remedies": [remedy_told(r, units, currency) for r in answer.remedies],
            "shopping": [
                {
                    "line": line,
                    "price": show(line.price_each, "money", units, currency)
                    if line.price_each is not None
                    else "unknown",
                }
                for line in answer.shopping
            ],
        },
    )


def charts_told(
    question: str, found: Sequence[Chart], units: str, width: int = charts.WIDTH
) -> Told:
    """Return the charts of one question, each drawn for light and for dark, and as a table."""
    told = [
        {
            "title": chart.title,
            "drawn": [
                (paper, charts.svg(chart, units, paper, width)) for paper in ("light", "dark")
            ],
            "table": table_of(chart, units),
        }
        for chart in found
    ]
    return {"question": question, "html": fragment("charts.html", {"charts": told})}

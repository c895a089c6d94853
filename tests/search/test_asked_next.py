"""The question what to do next."""

import pytest

from foamwright.questions.case import Case
from foamwright.search import asked_next
from foamwright.search.next_step import NextStep, StepEffect


def step(kind: str, do: str, worth: float = 1.0) -> NextStep:
    """Return a step."""
    return NextStep(
        do=do,
        kind="test" if kind == "test" else "change",
        minutes=5.0,
        mass=0.0,
        price=0.0,
        effect=(StepEffect(question="launch", before=0.7, after=0.9),),
        gain=0.2,
        worth=worth,
        because="it settles the thrust",
        keys={} if kind == "test" else {"items.pack.at.x": "90 mm"},
    )


def test_the_best_step_is_the_answer_and_the_other_kind_is_told(reedling: Case) -> None:
    """Steps are looked for once a case; the answer has them as things to try."""
    steps = asked_next.steps_of(reedling)
    found = asked_next.answer(reedling)
    assert asked_next.steps_of(reedling) is steps
    assert found.because.startswith(steps[0].do)
    assert [remedy.do for remedy in found.remedies] == [one.do for one in steps[:3]]
    assert found.verdict == "open"
    assert found.figures[0].value == pytest.approx(steps[0].worth)
    assert asked_next.measure(reedling).figures == found.figures


def test_the_chart_has_the_steps_in_their_order(reedling: Case) -> None:
    """A bar from nothing to its worth."""
    (chart,) = asked_next.charts(reedling)
    worths = [one.worth for one in asked_next.steps_of(reedling)]
    assert [row.value for row in chart.rows] == worths[: asked_next.MOST_DRAWN]
    assert all(row.low == 0.0 and row.high == row.value for row in chart.rows)


def test_a_change_and_the_best_test_are_both_named() -> None:
    """Who can do only one of them learns of both."""
    said = asked_next.because((step("change", "Move the pack"), step("test", "Weigh it")))
    assert said.startswith("Move the pack (5 min): it settles the thrust.")
    assert "Of tests, the best is: Weigh it (5 min)." in said


def test_nothing_worth_doing_is_said() -> None:
    """No step, no figure, no caution for a step."""
    assert "No change and no test" in asked_next.because(())
    assert asked_next.figures(()) == ()


def test_a_step_says_which_question_it_moves() -> None:
    """A test moves the chance to decide rightly, not the chance itself."""
    assert asked_next.remedy(step("change", "a")).effect[0].label == "launch: chance"
    told = asked_next.remedy(step("test", "b"))
    assert told.effect[0].label == "launch: chance to decide it rightly"
    assert told.keys == {}
    assert asked_next.remedy(step("change", "a")).keys == {"items.pack.at.x": "90 mm"}

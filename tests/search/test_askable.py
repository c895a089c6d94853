"""Every question that can be asked."""

from foamwright.questions.case import Case
from foamwright.questions.register import QUESTIONS
from foamwright.search.askable import ASKABLE, BY_NAME_ONLY, charts_of, wanted


def test_the_last_question_asks_all_the_others() -> None:
    """And nothing else is added to the register."""
    assert ASKABLE[:-1] == QUESTIONS
    assert ASKABLE[-1].id == "next"


def test_what_takes_seconds_is_answered_only_when_named() -> None:
    """Names come in asking order, however they were typed."""
    assert wanted(()) == QUESTIONS
    assert [one.id for one in wanted(("next", "fit"))] == ["fit", "next"]
    assert {"next"} == BY_NAME_ONLY


def test_charts_come_from_the_plane_or_from_the_steps(reedling: Case) -> None:
    """One door for both."""
    assert [chart.name for chart in charts_of("balance", reedling)] == ["margin-against-pack"]
    assert [chart.name for chart in charts_of("next", reedling)] == ["worth-of-steps"]
    assert charts_of("cost", reedling) == ()

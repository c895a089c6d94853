"""The build order as a terminal shows it."""

from foamwright.cli.checklist import WORDS, hold_words, under
from foamwright.cli.screen import Screen
from foamwright.jobs.order import Finished, Hold, OrderedStep, State
from foamwright.plane.build_step import BuildStep

STEP = BuildStep(
    id="cut-pack",
    phase="Cutting",
    do="Cut the pocket",
    kind="cut",
    why="foam cannot be uncut",
    cautions=("Sharp.",),
)
HOLD = Hold(question="fit", asks="Does it fit?", verdict="unlikely", probability=0.12)


def lines(state: State, *, signs: bool = True, record: Finished | None = None) -> list[str]:
    """Return the small lines under a step."""
    lacks = ("templates",) if state == "waiting" else ()
    ordered = OrderedStep(step=STEP, holds=(HOLD,), lacks=lacks, state=state, record=record)
    return [line.plain for line in under(Screen(signs=signs), ordered)]


def test_a_held_step_says_how_its_question_stands_and_what_to_mind() -> None:
    """With a shape and a word, so that colour carries nothing alone."""
    assert lines("held") == ["needs △ fit unlikely 12 %", "foam cannot be uncut", "Mind: Sharp."]


def test_a_waiting_step_says_what_comes_first() -> None:
    """And keeps its cautions for later."""
    assert lines("waiting")[-1] == "after templates"


def test_a_done_step_says_when_and_why_it_was_done_anyway() -> None:
    """What stood against it stays in sight."""
    record = Finished(date="2026-05-01", anyway=True, reason="fit stood at 'no'", note="sorry")
    told = lines("done", record=record)
    assert told == ["2026-05-01, sorry, done anyway: fit stood at 'no'"]


def test_plain_letters_stand_in_for_signs() -> None:
    """On a terminal that has none."""
    assert "/!\\ fit" in hold_words(Screen(signs=False), HOLD)


def test_every_state_has_its_own_word() -> None:
    """Four words, all different."""
    assert len(set(WORDS.values())) == 4

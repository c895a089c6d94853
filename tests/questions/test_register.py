"""Every question in the register keeps the promises all of them make."""

import dataclasses
import json
from collections.abc import Callable, Mapping

import numpy as np
import pytest

from foamwright.quantity import in_units
from foamwright.questions import electrics, endurance, rules, speed
from foamwright.questions.answer import Answer
from foamwright.questions.case import Case, Measured
from foamwright.questions.chance import verdict
from foamwright.questions.register import QUESTIONS
from foamwright.questions.remedies import Change

AnswersOf = Callable[[str], Mapping[str, Answer]]
Changes = Callable[[Case], list[Change]]
Measure = Callable[[Case], Measured]

PLANES = ("reedling", "windrow", "anvil")
ORDER = [
    "fit",
    "weight",
    "balance",
    "electrics",
    "speed",
    "endurance",
    "landing",
    "control",
    "launch",
    "rules",
    "cost",
    "bench",
    "debrief",
]

SI = {
    "mass": {"kg"},
    "length": {"m"},
    "elevation": {"m"},
    "speed": {"m s^-1"},
    "current": {"A"},
    "voltage": {"V"},
    "force": {"N"},
    "time": {"s"},
    "energy": {"J"},
    "energy per distance": {"J m^-1"},
    "wing loading": {"kg m^-2"},
    "rotation speed": {"s^-1"},
    "temperature": {"K"},
    "turn rate": {"rad s^-1"},
    "fraction": {"-"},
    "angle": {"rad"},
    "number": {"-"},
    "count": {"-"},
    "money": {"EUR"},
    "pull": {"N"},
}
"""The unit that figures of a dimension have in JSON."""

WISHES = (
    ("weight", "targets.mass_line"),
    ("speed", "targets.top_speed"),
    ("endurance", "targets.endurance"),
    ("landing", "targets.stall_speed"),
    ("cost", "targets.budget"),
)


def test_the_questions_come_in_the_order_a_builder_meets_them() -> None:
    """Weigh, balance, wire, fly, land, pay."""
    assert [question.id for question in QUESTIONS] == ORDER


def test_every_question_is_a_question() -> None:
    """One sentence with its question mark, none twice."""
    asked = [question.asks for question in QUESTIONS]
    assert all(text.endswith("?") and text[0].isupper() for text in asked)
    assert len(set(asked)) == len(asked)


@pytest.mark.parametrize("plane", PLANES)
def test_every_answer_says_what_it_answers(answers_of: AnswersOf, plane: str) -> None:
    """The id and the sentence are the question's, the reason is a sentence."""
    for question in QUESTIONS:
        answer = answers_of(plane)[question.id]
        assert (answer.question, answer.asks) == (question.id, question.asks)
        assert answer.because.endswith(".")


@pytest.mark.parametrize("plane", PLANES)
def test_the_verdict_is_the_word_for_the_chance(answers_of: AnswersOf, plane: str) -> None:
    """And only an open question has no chance."""
    for answer in answers_of(plane).values():
        assert answer.verdict == verdict(answer.probability)
        assert (answer.probability is None) == bool(answer.missing)


@pytest.mark.parametrize("plane", PLANES)
def test_shares_of_the_spread_are_sane(answers_of: AnswersOf, plane: str) -> None:
    """The largest first, together no more than all of it; a price carries nothing but costs."""
    for answer in answers_of(plane).values():
        shares = [share.share for share in answer.carried_by]
        assert bool(shares) is (answer.probability is not None)
        assert shares == sorted(shares, reverse=True)
        assert sum(shares) <= 1.05
        names = [share.input for share in answer.carried_by]
        assert len(set(names)) == len(names)
        assert all(name.startswith("price") == (answer.question == "cost") for name in names)


@pytest.mark.parametrize("plane", PLANES)
def test_remedies_help_and_come_best_first(answers_of: AnswersOf, plane: str) -> None:
    """Up to three; the chance first among the effects; each gains at least 2 points.

    A weighing comes first and need only do no harm: it costs a minute.
    """
    for answer in answers_of(plane).values():
        assert len(answer.remedies) <= 3
        gains = []
        weighing = bool(answer.remedies) and answer.remedies[0].do.startswith("Weigh")
        for remedy in answer.remedies:
            first = remedy.effect[0]
            assert first.figure == "probability"
            assert first.before == answer.probability
            gains.append((first.after or 0.0) - (first.before or 0.0))
            told = {figure.name: figure.value for figure in answer.figures}
            assert all(effect.before == told[effect.figure] for effect in remedy.effect[1:])
        assert all(gain >= 0.0 for gain in gains)
        costly = gains[1:] if weighing else gains
        assert costly == sorted(costly, reverse=True)
        assert all(gain >= 0.02 for gain in costly)


@pytest.mark.parametrize(("question", "key"), WISHES)
def test_without_its_wish_a_question_is_open(reedling: Case, question: str, key: str) -> None:
    """It names the wish, keeps its figures, and offers no remedy for what nobody asked."""
    asked = next(entry for entry in QUESTIONS if entry.id == question)
    answer = asked.answer(reedling.changed({key: None}))
    assert (answer.verdict, answer.probability) == ("open", None)
    assert any(missing.startswith(key) for missing in answer.missing)
    assert answer.figures
    assert answer.remedies == ()


@pytest.mark.parametrize("part", ["motor", "propeller", "pack"])
@pytest.mark.parametrize("question", ["electrics", "speed", "endurance", "rules"])
def test_without_a_whole_drive_flying_is_open(reedling: Case, question: str, part: str) -> None:
    """The part that is missing is named."""
    asked = next(entry for entry in QUESTIONS if entry.id == question)
    answer = asked.answer(reedling.changed({f"items.{part}": None}))
    assert answer.verdict == "open"
    assert any(part in missing for missing in answer.missing)
    assert answer.remedies == ()


def test_the_same_case_is_answered_the_same_twice(reedling: Case, answers_of: AnswersOf) -> None:
    """Nothing is used up by asking."""
    for question in QUESTIONS:
        assert question.answer(reedling) == answers_of("reedling")[question.id]


def test_asked_alone_a_question_tells_the_same_numbers(reedling: Case) -> None:
    """A fresh case, one question only, the last one first."""
    fresh = reedling.changed({})
    alone = [question.answer(fresh) for question in reversed(QUESTIONS)]
    among = [question.answer(reedling) for question in reversed(QUESTIONS)]
    assert [answer.figures for answer in alone] == [answer.figures for answer in among]


@pytest.mark.parametrize("plane", PLANES)
def test_every_answer_is_plain_enough_for_json(answers_of: AnswersOf, plane: str) -> None:
    """No number is infinite or not a number, nothing is an array."""
    for answer in answers_of(plane).values():
        told = dataclasses.asdict(answer)
        assert json.loads(json.dumps(told, allow_nan=False))["question"] == answer.question


@pytest.mark.parametrize("plane", PLANES)
def test_every_band_lies_around_its_median(answers_of: AnswersOf, plane: str) -> None:
    """10 % point, median and 90 % point in that order, or none of the three."""
    for answer in answers_of(plane).values():
        for figure in answer.figures:
            band = (figure.low, figure.value, figure.high)
            assert band == (None, None, None) or None not in band, figure.name
            if figure.low is not None and figure.value is not None and figure.high is not None:
                assert figure.low <= figure.value <= figure.high, figure.name


@pytest.mark.parametrize("plane", PLANES)
def test_limits_are_the_right_way_around(answers_of: AnswersOf, plane: str) -> None:
    """The least wanted is below the most wanted where both are told."""
    limits = [
        (figure.limit_low, figure.limit_high)
        for answer in answers_of(plane).values()
        for figure in answer.figures
    ]
    both = [(low, high) for low, high in limits if low is not None and high is not None]
    assert both
    assert all(low < high for low, high in both)


@pytest.mark.parametrize("plane", PLANES)
def test_figures_of_one_answer_have_names_of_their_own(answers_of: AnswersOf, plane: str) -> None:
    """No name and no label twice in an answer; names are made for JSON."""
    for answer in answers_of(plane).values():
        names = [figure.name for figure in answer.figures]
        labels = [figure.label for figure in answer.figures]
        assert len(set(names)) == len(names)
        assert len(set(labels)) == len(labels)
        assert all(name.isidentifier() and name == name.lower() for name in names)


@pytest.mark.parametrize("plane", PLANES)
def test_units_are_si_and_can_be_shown(answers_of: AnswersOf, plane: str) -> None:
    """One unit a dimension, and every dimension has a unit on the screen, metric or imperial."""
    for answer in answers_of(plane).values():
        for figure in answer.figures:
            assert figure.unit in SI[figure.dimension], figure.name
            for units in ("metric", "imperial"):
                _, shown = in_units(figure.value or 1.0, figure.dimension, units)
                assert (shown == "") == (figure.dimension in ("number", "count")), figure.name


@pytest.mark.parametrize(
    ("id_", "changes", "measure", "wish"),
    [
        ("endurance", endurance.changes, endurance.measure, {"targets.endurance": "18 min"}),
        ("speed", speed.changes, speed.measure, {"targets.top_speed": "27 m/s"}),
        ("rules", rules.changes, rules.measure, {"region": "US"}),
        ("electrics", electrics.changes, electrics.measure, {"items.ESC.cooling": "buried"}),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_the_same_remedy_applied_by_hand_does_the_same(
    case: Callable[[str], Case],
    *,
    id_: str,
    changes: Changes,
    measure: Measure,
    wish: Mapping[str, object],
) -> None:
    """On the glider and the plank every effect told is that of the plane with the change."""
    asked = next(question for question in QUESTIONS if question.id == id_)
    for plane in (case("reedling").changed(wish), case("windrow").changed(wish)):
        keys = {change.do: change.keys for change in changes(plane)}
        for remedy in asked.answer(plane).remedies:
            after = measure(plane.changed(keys[remedy.do]))
            told = {effect.figure: effect.after for effect in remedy.effect}
            assert told.pop("probability") == after.probability
            assert told == {name: after.named(name).value for name in told}


def test_no_battery_makes_three_hours_of_seventeen_minutes(reedling: Case) -> None:
    """Nothing is offered where nothing reaches, nor where all is well."""
    for wish in ("180 min", "1 min"):
        plane = reedling.changed({"targets.endurance": wish})
        assert endurance.answer(plane).remedies == ()


@pytest.mark.parametrize("plane", PLANES)
def test_what_stands_is_what_is_measured(case: Callable[[str], Case], plane: str) -> None:
    """Asked for the chance alone, each question tells the same as with all its figures."""
    fresh = case(plane).changed({"airframe.bare_mass": "133 ± 2 g"})
    for question in QUESTIONS:
        found, whole = question.stands(fresh), question.measure(fresh)
        assert found.probability == whole.probability, question.id
        one, other = (np.asarray(told.holds).tolist() for told in (found, whole))
        assert one == other, question.id

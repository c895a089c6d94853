"""The next cheap step."""

import numpy as np
import pytest

from foamwright.questions import speed
from foamwright.questions.case import Case
from foamwright.search.next_step import (
    LEAST_GAIN,
    NextStep,
    effort,
    next_steps,
    outcome,
    standing,
)


@pytest.fixture(scope="module")
def steps(reedling: Case) -> tuple[NextStep, ...]:
    """Return all steps for the glider."""
    return next_steps(reedling)


def test_steps_come_best_first_and_all_gain(steps: tuple[NextStep, ...]) -> None:
    """Worth is gain for effort."""
    worths = [step.worth for step in steps]
    assert worths == sorted(worths, reverse=True)
    for step in steps:
        assert step.gain >= LEAST_GAIN
        assert step.worth == pytest.approx(
            100.0 * step.gain / effort(step.minutes, step.mass, step.price)
        )


def test_a_change_is_recomputed_not_promised(reedling: Case, steps: tuple[NextStep, ...]) -> None:
    """The effect told is what asking the changed plane tells."""
    step = next(s for s in steps if s.do == "Fit a 5x4 propeller")
    told = next(e for e in step.effect if e.question == "speed")
    changed = reedling.changed(
        {
            "items.propeller.stock": "propeller 5x4",
            **{f"items.propeller.{key}": None for key in ("mass", "price")},
        }
    )
    assert told.before == speed.measure(reedling).probability
    assert told.after == pytest.approx(speed.measure(changed).probability, abs=0.02)


def test_the_bench_run_is_worth_something_while_speed_is_unsure(
    steps: tuple[NextStep, ...],
) -> None:
    """And its effect is to decide more questions rightly, never fewer."""
    tests = [step for step in steps if step.kind == "test"]
    assert any("full throttle" in test.do for test in tests)
    for test in tests:
        assert all(effect.after > effect.before for effect in test.effect)


def test_questions_that_stand_are_counted_by_sample(reedling: Case) -> None:
    """The mean of the count is the sum of the chances."""
    found = outcome(reedling)
    names = tuple(found.measured)
    total = standing(found, names)
    assert np.mean(total) == pytest.approx(sum(found.chance(name) for name in names))


def test_rules_and_bench_are_no_wishes(reedling: Case) -> None:
    """Nobody is to make a plane lighter for a threshold that was not wished for."""
    assert not {"rules", "bench"} & set(outcome(reedling).measured)


def test_effort_counts_minutes_grams_and_money() -> None:
    """Our own weights: a gram a minute, a unit of money two; nothing is free of effort."""
    assert effort(10.0, 0.0, 0.0) == 10.0
    assert effort(10.0, 0.003, 5.0) == pytest.approx(23.0)
    assert effort(0.0, -0.050, 0.0) == 1.0


def test_every_try_is_told_as_it_goes(reedling: Case) -> None:
    """For a progress line."""
    told: list[str] = []
    next_steps(reedling, told.append)
    assert len(told) > 8

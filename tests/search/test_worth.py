"""What a test is worth."""

import numpy as np
import pytest
from scipy.special import ndtri
from scipy.stats import norm

from foamwright.search.worth import (
    MOST_INPUTS,
    chances_after,
    chosen_inputs,
    decided,
    gained,
    results,
    value_of_test,
)


def draws(count: int = 4096, inputs: int = 2) -> np.ndarray:
    """Return independent standard normals (n, k), the same every time."""
    return np.random.default_rng(3).standard_normal((count, inputs))


def stands(normals: np.ndarray, limit: float) -> np.ndarray:
    """Return whether the first input lies above a limit, one choice and one question (n, 1, 1)."""
    return (normals[:, :1] > limit).astype(float)[:, None]


def test_a_result_keeps_the_spread_it_should_leave() -> None:
    """Of normal draws read with that noise, the spread left is as said: the normal update."""
    z = draws()[:, :1]
    read = results(z, 0.4, np.random.default_rng(1))
    slope = float(np.cov(z[:, 0], read[:, 0])[0, 1] / read.var())
    assert np.std(z - slope * read) == pytest.approx(0.4, rel=0.05)


@pytest.mark.parametrize("chance", [0.5, 0.65, 0.8])
def test_knowing_nearly_everything_is_worth_what_theory_says(chance: float) -> None:
    """The value of perfect information: P - max(2P - 1, 0), halved; the regression is a curve and
    misses a part of a step: 62 % to 90 % of it is found, never more than there is.
    """
    z = draws()
    found = value_of_test(z[:, :1], 0.02, stands(z, float(ndtri(1.0 - chance))))
    perfect = (chance - max(2.0 * chance - 1.0, 0.0)) / 2.0
    assert 0.6 * perfect < found <= 1.02 * perfect


def test_a_result_that_has_nothing_to_do_with_it_is_worth_nothing() -> None:
    """What luck gives is taken off."""
    z = draws(1024)
    assert value_of_test(z[:, 1:], 0.1, stands(z, 0.0)) < 0.01


def test_a_question_that_is_sure_needs_no_test() -> None:
    """It stands whatever is read."""
    z = draws()
    assert value_of_test(z[:, :1], 0.1, stands(z, -5.0)) == pytest.approx(0.0, abs=1e-3)


def test_a_sharper_test_is_worth_more() -> None:
    """Monotonous in what it leaves."""
    z = draws()
    found = [value_of_test(z[:, :1], leaves, stands(z, 0.0)) for leaves in (0.9, 0.6, 0.3)]
    assert found == sorted(found)


def test_a_choice_between_two_planes_can_be_worth_a_test() -> None:
    """One stands where the other falls: known, the right one is taken every time."""
    z = draws()
    high = (z[:, :1] > 0.0).astype(float)
    both = np.stack([high, 1.0 - high], axis=1)
    assert value_of_test(z[:, :1], 0.05, both) > 0.3


def test_chances_after_a_result_follow_the_normal_curve() -> None:
    """Near the middle the regression is close to the probit that generated it."""
    z = draws(20000)
    read = results(z[:, :1], 0.7, np.random.default_rng(2))
    after = chances_after(read, stands(z, 0.0))[:, 0, 0]
    near = np.abs(read[:, 0]) < 0.8
    exact = norm.cdf((1 - 0.7**2) * read[near, 0] / 0.7)
    assert np.abs(after[near] - exact).mean() < 0.05


def test_holding_is_never_worse_than_nothing() -> None:
    """A question that rather falls is held."""
    assert decided(np.array([0.2, 0.5, 0.9])) == pytest.approx(0.8)


def test_only_inputs_that_matter_enter() -> None:
    """The one that decides is among the four taken of twenty."""
    z = draws(1024, 20)
    outcome = (z[:, 13] > 0.0).astype(float)[:, None, None]
    found = chosen_inputs(z, outcome)
    assert len(found) == MOST_INPUTS
    assert found[0] == 13


def test_no_input_is_worth_nothing() -> None:
    """A test that settles nothing of this plane."""
    z = draws(64)
    assert value_of_test(z[:, :0], 0.1, stands(z, 0.0)) == 0.0
    assert gained(z[:, :1], stands(z, 0.0)) >= 0.0

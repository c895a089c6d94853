"""Samples: stable draws, stated spreads, and who carries a spread."""

import numpy as np
import pytest

from foamwright.model.ensemble import Draws, Knowledge, carriers


def test_the_same_seed_gives_the_same_draws() -> None:
    """Same name, samples and seed: same numbers; another seed: others."""
    first = Draws(256, 7).normal("a", "a")
    assert np.array_equal(first, Draws(256, 7).normal("a", "a"))
    assert not np.array_equal(first, Draws(256, 8).normal("a", "a"))


def test_an_input_added_later_leaves_the_others_alone() -> None:
    """A remedy that adds a part compares two planes with the same luck."""
    draws = Draws(128, 1)
    before = draws.normal("a", "a").copy()
    draws.normal("b", "b")
    assert np.array_equal(before, draws.normal("a", "a"))


def test_draws_are_standard_normal_and_independent() -> None:
    """Mean 0, deviation 1, no correlation: sample moments of 1024 Sobol points."""
    draws = Draws(1024, 1)
    first, second = draws.normal("a", "a"), draws.normal("b", "b")
    assert abs(first.mean()) < 0.01
    assert first.std() == pytest.approx(1.0, abs=0.02)
    assert abs(np.corrcoef(first, second)[0, 1]) < 0.05


def test_a_sample_count_that_is_no_power_of_two_is_honoured() -> None:
    """Asking for 100 samples gives 100, without a warning."""
    assert Draws(100, 1).normal("a", "a").shape == (100,)
    assert Draws(1, 1).normal("a", "a").shape == (1,)


def test_a_wide_positive_quantity_never_turns_negative() -> None:
    """A mass of 10 ± 8 g stays positive and keeps its median."""
    values = Draws(1024, 1).around(10.0, 8.0, key="m", label="m")
    assert values.min() > 0
    assert np.median(values) == pytest.approx(10.0, rel=0.01)


def test_carriers_share_out_the_variance_of_a_sum() -> None:
    """y = 3a + 4b: shares 9/25 and 16/25 (analytic), and an idle input carries nothing."""
    draws = Draws(1024, 3)
    a, b = draws.normal("a", "a"), draws.normal("b", "b")
    draws.normal("idle", "idle")
    shares = dict(carriers(draws, 3 * a + 4 * b))
    assert shares["a"] == pytest.approx(9 / 25, abs=0.04)
    assert shares["b"] == pytest.approx(16 / 25, abs=0.04)
    assert "idle" not in shares


def test_inputs_of_one_label_are_told_as_one() -> None:
    """Both coordinates of a part's place count together."""
    draws = Draws(512, 3)
    total = draws.normal("p.x", "place") + draws.normal("p.y", "place")
    assert len(carriers(draws, total)) == 1


def test_a_constant_is_carried_by_nothing() -> None:
    """No spread, no carriers."""
    draws = Draws(64, 1)
    draws.normal("a", "a")
    assert carriers(draws, np.full(64, 2.0)) == ()


def test_a_branch_shares_what_was_drawn_and_goes_its_own_way() -> None:
    """Known inputs keep their draws; what one branch adds leaves the other's columns alone."""
    draws = Draws(64, 1)
    known = draws.normal("a", "a")
    first, second = draws.branched(), draws.branched()
    assert np.array_equal(first.normal("a", "a"), known)
    added = first.normal("b", "b")
    assert np.array_equal(second.normal("c", "c"), added)
    assert [entry.key for entry in draws.inputs()] == ["a"]
    assert first.same_luck(draws)
    assert not first.same_luck(Draws(64, 1))


def test_what_was_learned_moves_and_ties_the_draws() -> None:
    """Mean and covariance are the learned ones; the other inputs keep their draws."""
    covariance = np.array([[0.3, -0.2], [-0.2, 0.5]])
    known = Knowledge(
        keys=("a", "c"),
        labels=("a", "c"),
        mean=np.array([1.0, -1.0]),
        factor=np.linalg.cholesky(covariance),
    )
    plain = Draws(4096, 1)
    before = {key: plain.normal(key, key) for key in ("a", "b", "c")}
    draws = plain.knowing(known)
    a, b, c = (draws.normal(key, key) for key in ("a", "b", "c"))
    assert np.array_equal(b, before["b"])
    assert np.cov(a, c) == pytest.approx(covariance, abs=0.01)
    assert (a.mean(), c.mean()) == pytest.approx((1.0, -1.0), abs=0.01)
    assert np.corrcoef(a, before["a"])[0, 1] > 0.999
    assert draws.same_luck(plain)


def test_a_learned_input_asked_for_first_is_tied_all_the_same() -> None:
    """Whatever is asked for first, the joint normal is the learned one."""
    covariance = np.array([[0.3, -0.2], [-0.2, 0.5]])
    known = Knowledge(
        keys=("a", "c"), labels=("a", "c"), mean=np.zeros(2), factor=np.linalg.cholesky(covariance)
    )
    draws = Draws(4096, 1).knowing(known)
    c = draws.normal("c", "c")
    assert np.cov(draws.normal("a", "a"), c) == pytest.approx(covariance, abs=0.01)


@pytest.mark.parametrize("centre", [1e-15, 1e-6, 0.4e-3])
def test_a_quantity_far_smaller_than_its_spread_stays_within_a_few_spreads(centre: float) -> None:
    """A scale good to 0.7 g that shows next to nothing: at most some grams, never tonnes."""
    values = Draws(1024, 1).around(centre, 0.7e-3, key="m", label="m")
    assert values.min() > 0.0
    assert values.max() < 5 * 0.7e-3
    assert np.median(values) < centre + 0.05e-3

"""Bracketed roots: known answers, kinks, missing brackets, batches."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.arrays import Samples
from foamwright.physics.numerics.roots import bracketed_root


def cubic(shift: Samples) -> Callable[[Samples], Samples]:
    """Return x^3 + x - shift, one shift a sample."""
    return lambda x: x**3 + x - shift


@given(st.floats(min_value=0.01, max_value=99.0))
def test_the_square_root_is_found(square: float) -> None:
    """x^2 = square between 0 and 10."""
    root, unbracketed = bracketed_root(lambda x: x**2 - square, np.zeros(1), np.full(1, 10.0))
    assert root == pytest.approx([square**0.5], rel=1e-7)
    assert not unbracketed.any()


def test_a_kink_does_not_stop_it() -> None:
    """Slope 1 on one side of the root and 1000 on the other."""

    def kinked(x: Samples) -> Samples:
        return np.where(x < 0.3, x - 0.3, 1000.0 * (x - 0.3))

    root, _ = bracketed_root(kinked, np.zeros(1), np.ones(1))
    assert root == pytest.approx([0.3], abs=1e-8)


def test_a_jump_is_found_where_it_jumps() -> None:
    """Without a root the change of sign is what is left to find."""
    root, unbracketed = bracketed_root(
        lambda x: np.where(x < 0.7, -1.0, 1.0), np.zeros(1), np.ones(1)
    )
    assert root == pytest.approx([0.7], abs=1e-8)
    assert not unbracketed.any()


def test_no_change_of_sign_is_flagged_with_the_nearer_end() -> None:
    """x^2 + 1 has no root; at 1 it is smaller than at 3."""
    root, unbracketed = bracketed_root(lambda x: x**2 + 1.0, np.array([3.0]), np.array([1.0]))
    assert unbracketed.tolist() == [True]
    assert root.tolist() == [1.0]


def test_an_unbracketed_sample_does_not_disturb_the_others() -> None:
    """Only the sample without a root is flagged."""
    targets = np.array([4.0, 900.0, 9.0])
    root, unbracketed = bracketed_root(lambda x: x**2 - targets, np.zeros(3), np.full(3, 10.0))
    assert unbracketed.tolist() == [False, True, False]
    assert root[[0, 2]] == pytest.approx([2.0, 3.0])


def test_a_root_at_an_end_is_taken() -> None:
    """Zero at the lower or the upper end counts as a root."""
    low, _ = bracketed_root(lambda x: x, np.zeros(1), np.ones(1))
    high, _ = bracketed_root(lambda x: x - 1.0, np.zeros(1), np.ones(1))
    assert low == pytest.approx([0.0], abs=1e-12)
    assert high == pytest.approx([1.0], abs=1e-12)


@given(st.integers(min_value=0, max_value=2**31))
def test_a_batch_is_its_loop(seed: int) -> None:
    """Cubic equations solved together and one by one agree."""
    shift = np.random.default_rng(seed).uniform(-0.9, 0.9, 4)
    batch, _ = bracketed_root(cubic(shift), np.full(4, -1.0), np.ones(4))
    for i in range(4):
        one, _ = bracketed_root(cubic(shift[i : i + 1]), np.full(1, -1.0), np.ones(1))
        assert batch[i] == pytest.approx(one[0], abs=1e-8)


def test_the_number_of_steps_is_limited() -> None:
    """One step of a hard equation is not yet the answer, five dozen are."""

    def hard(x: Samples) -> Samples:
        return np.asarray(np.exp(20.0 * x) - 3.0)

    rough, _ = bracketed_root(hard, np.zeros(1), np.ones(1), most=1)
    fine, _ = bracketed_root(hard, np.zeros(1), np.ones(1))
    assert abs(rough[0] - np.log(3.0) / 20.0) > 1e-3
    assert fine == pytest.approx([np.log(3.0) / 20.0], rel=1e-6)


def test_what_is_given_is_left_alone() -> None:
    """A residual may hand back its guesses, or one array for all; ends may be the caller's own."""
    low, high = np.array([-1.0, -2.0]), np.array([2.0, 1.0])
    root, _ = bracketed_root(lambda x: x, low, high)
    assert root == pytest.approx([0.0, 0.0], abs=1e-8)
    assert low.tolist() == [-1.0, -2.0]
    assert high.tolist() == [2.0, 1.0]


@given(st.lists(st.floats(-50.0, 50.0), min_size=1, max_size=6))
def test_the_ends_may_stand_either_way(shifts: list[float]) -> None:
    """Low first or high first, or mixed: the same roots, each as if it were alone."""
    shift = np.array(shifts)
    low, high = np.full(shift.size, -5.0), np.full(shift.size, 6.0)
    turned = np.arange(shift.size) % 2 == 1
    plain, _ = bracketed_root(cubic(shift), low, high)
    mixed, _ = bracketed_root(
        cubic(shift), np.where(turned, high, low), np.where(turned, low, high)
    )
    assert mixed == pytest.approx(plain, abs=1e-7)
    for index, one in enumerate(shift):
        alone, _ = bracketed_root(cubic(np.array([one])), low[:1], high[:1])
        assert alone[0] == pytest.approx(plain[index], abs=1e-7)

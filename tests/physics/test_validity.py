"""A range flags what lies outside it, and nothing else."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.validity import Range

REYNOLDS = Range(quantity="Reynolds number", unit="-", low=2e4, high=6e5)


def test_both_limits_belong_to_the_range() -> None:
    """A value exactly at a limit was checked."""
    assert REYNOLDS.beyond(np.array([2e4, 6e5])).tolist() == [False, False]


def test_values_outside_either_limit_are_flagged() -> None:
    """Below and above, one flag a sample."""
    assert REYNOLDS.beyond(np.array([1.9e4, 1e5, 6.1e5])).tolist() == [True, False, True]


def test_the_shape_of_the_values_is_kept() -> None:
    """Strips of samples give strips of flags."""
    assert REYNOLDS.beyond(np.full((4, 3), 1e5)).shape == (4, 3)


@given(st.floats(min_value=-1e6, max_value=1e6))
def test_a_flag_is_the_comparison(value: float) -> None:
    """Flagged means smaller than low or larger than high."""
    assert REYNOLDS.beyond(np.array([value]))[0] == (not 2e4 <= value <= 6e5)


def test_a_range_cannot_be_changed() -> None:
    """What was checked is a fact, not a setting."""
    with pytest.raises(AttributeError):
        REYNOLDS.low = 0.0  # type: ignore[misc]

"""Samples and a limit made into a chance, its word, a band."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.questions.chance import SHARE, chance, figure, verdict

ORDER = ["no", "unlikely", "unsure", "likely", "yes"]


@pytest.mark.parametrize(
    ("probability", "word"),
    [
        (1.0, "yes"),
        (0.95, "yes"),
        (0.9499, "likely"),
        (0.75, "likely"),
        (0.7499, "unsure"),
        (0.2501, "unsure"),
        (0.25, "unlikely"),
        (0.0501, "unlikely"),
        (0.05, "no"),
        (0.0, "no"),
        (None, "open"),
    ],
)
def test_words_change_at_their_thresholds(probability: float | None, word: str) -> None:
    """Yes from 95 %, likely from 75 %, unlikely to 25 %, no to 5 %."""
    assert verdict(probability) == word


@given(st.floats(0, 1), st.floats(0, 1))
def test_a_better_chance_never_has_a_worse_word(first: float, second: float) -> None:
    """Monotone in the chance."""
    low, high = sorted((first, second))
    assert ORDER.index(verdict(low)) <= ORDER.index(verdict(high))


def test_the_chance_is_the_share_of_the_samples() -> None:
    """3 of 4."""
    assert chance(np.array([True, True, False, True])) == 0.75


def test_a_band_is_the_middle_eighty_per_cent() -> None:
    """0, 1, ... 100: median 50, from 10 to 90."""
    found = figure("f", "f", np.arange(101.0), SHARE, limits=(1.0, None))
    assert (found.low, found.value, found.high) == (10.0, 50.0, 90.0)
    assert (found.unit, found.dimension) == ("-", "fraction")
    assert (found.limit_low, found.limit_high) == (1.0, None)


def test_samples_without_a_value_are_left_out_until_they_are_the_most() -> None:
    """Half of the planes cannot fly level: the rest have a top speed; more, and there is none."""
    half = np.where(np.arange(10) < 5, np.nan, 20.0)
    assert figure("f", "f", half, SHARE).value == 20.0
    most = np.where(np.arange(10) < 6, np.nan, 20.0)
    none = figure("f", "f", most, SHARE)
    assert none.value is none.low is none.high is None


def test_infinite_samples_never_reach_a_figure() -> None:
    """All infinite: no value rather than one nobody can read."""
    assert figure("f", "f", np.full(8, np.inf), SHARE).value is None

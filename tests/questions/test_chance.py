"""Chances, words and bands."""

import numpy as np
import pytest

from foamwright.questions.chance import MASS, chance, figure, verdict


@pytest.mark.parametrize(
    ("probability", "word"),
    [
        (1.0, "yes"),
        (0.95, "yes"),
        (0.949, "likely"),
        (0.75, "likely"),
        (0.749, "unsure"),
        (0.251, "unsure"),
        (0.25, "unlikely"),
        (0.051, "unlikely"),
        (0.05, "no"),
        (0.0, "no"),
        (None, "open"),
    ],
)
def test_every_chance_has_its_word(probability: float | None, word: str) -> None:
    """Both sides of every threshold."""
    assert verdict(probability) == word


def test_a_figure_is_the_median_and_the_tenth_points() -> None:
    """Of 0..100 they are 10, 50 and 90."""
    found = figure("m", "mass", np.arange(101.0), MASS, limits=(None, 80.0))
    assert (found.low, found.value, found.high) == (10.0, 50.0, 90.0)
    assert found.limit_high == 80.0
    assert chance(np.arange(101.0) <= 80.0) == pytest.approx(81 / 101)


def test_a_figure_that_most_samples_lack_has_no_value() -> None:
    """A plane that mostly cannot fly level has no top speed to print."""
    samples = np.array([np.nan, np.nan, np.nan, 20.0])
    assert figure("v", "speed", samples, MASS).value is None
    assert figure("v", "speed", samples[2:], MASS).value == 20.0

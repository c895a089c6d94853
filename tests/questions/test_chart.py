"""Charts as data."""

import numpy as np
import pytest

from foamwright.questions.chart import curve, told


def test_a_curve_holds_median_and_band() -> None:
    """Of a uniform spread: the tenths are where they belong."""
    samples = np.linspace(0.0, 1.0, 1001)[:, None] + np.array([0.0, 10.0])
    found = curve("thing", np.array([1.0, 2.0]), samples)
    assert found.x == (1.0, 2.0)
    assert found.y == pytest.approx((0.5, 10.5))
    assert found.low == pytest.approx((0.1, 10.1))
    assert found.high == pytest.approx((0.9, 10.9))


def test_where_most_samples_have_no_value_there_is_none() -> None:
    """A plane that mostly cannot fly there has no current there."""
    samples = np.full((10, 2), np.nan)
    samples[:, 0] = 1.0
    samples[:4, 1] = 1.0
    found = curve("thing", np.array([1.0, 2.0]), samples)
    assert found.y == (1.0, None)
    assert found.low[1] is found.high[1] is None


def test_no_number_is_told_as_none() -> None:
    """JSON has no not-a-number."""
    assert told(np.array([1.0, np.nan, np.inf])) == (1.0, None, None)

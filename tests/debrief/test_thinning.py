"""Fast logs thinned."""

import numpy as np
import pytest

from foamwright.debrief.thinning import bins_of, meant, picked, thinned

TIME = np.arange(0.0, 10.0, 0.001)


def test_a_slow_log_is_left_alone() -> None:
    """25 rows a second need no thinning."""
    assert bins_of(np.arange(0.0, 10.0, 0.04), 0.04) is None
    kept = thinned({"a": np.array([1.0, 2.0])}, None, frozenset())
    assert kept["a"] == pytest.approx([1.0, 2.0])


def test_the_mean_of_a_bin_is_that_of_its_rows() -> None:
    """A straight line stays where it was; 250 bins of 40 rows."""
    bins = bins_of(TIME, 0.001)
    assert bins is not None
    assert bins.time.size == 250
    assert meant(2.0 * TIME, bins) == pytest.approx(2.0 * bins.time)


def test_rows_without_a_value_do_not_count() -> None:
    """A bin with one value has that one, a bin without has none."""
    bins = bins_of(TIME, 0.001)
    assert bins is not None
    values = np.full(TIME.size, np.nan)
    values[3] = 7.0
    found = meant(values, bins)
    assert found[0] == 7.0
    assert np.isnan(found[1:]).all()
    assert picked(values, bins)[0] == 7.0
    assert np.isnan(picked(values, bins)[1])


def test_an_angle_is_picked_and_not_averaged_across_its_end() -> None:
    """359 and 1 degree never make 180."""
    bins = bins_of(TIME, 0.001)
    angle = (100.0 * TIME) % 360.0
    found = thinned({"course": angle, "speed": TIME}, bins, frozenset({"course"}))
    assert bins is not None
    away = (found["course"] - 100.0 * bins.time + 180.0) % 360.0 - 180.0
    assert np.abs(away).max() < 2.1


def test_no_bin_reaches_over_a_gap() -> None:
    """Rows of before and after are in different bins."""
    time = np.concatenate((TIME[:1000], TIME[:1000] + 5.0))
    bins = bins_of(time, 0.001)
    assert bins is not None
    assert not ((bins.time > 1.05) & (bins.time < 4.95)).any()

"""How far readings may be off, alone and together."""

import numpy as np
import pytest

from foamwright.model.evidence import OBSERVABLE, Observation
from foamwright.model.reading_error import (
    bounds_in,
    compared,
    misses,
    noise,
    odd_words,
    reading_error,
)


def seen(name: str, value: float = 1.0) -> Observation:
    """Return an observation within a tenth."""
    return Observation(name=name, value=value, spread=0.1 * value)


def test_a_place_is_compared_as_it_is_and_all_else_by_its_logarithm() -> None:
    """A balance may lie at zero; a speed may not."""
    place = Observation(name="balance_place", value=0.0, spread=0.002)
    assert compared(np.array([-0.01]), place) == pytest.approx([-0.01])
    assert reading_error(place) == 0.002
    speed = seen("top_speed", 20.0)
    assert compared(np.array([np.e, -1.0]), speed) == pytest.approx([1.0, np.nan], nan_ok=True)
    assert reading_error(speed) == pytest.approx(0.1)


def test_what_the_model_misses_is_missed_in_every_flight() -> None:
    """Two top speeds share a discrepancy, a stall speed has its own."""
    found = noise((seen("top_speed"), seen("top_speed"), seen("stall_speed")))
    missed = OBSERVABLE["top_speed"].discrepancy ** 2
    assert found[0, 1] == pytest.approx(missed)
    assert found[0, 0] == pytest.approx(0.01 + missed)
    assert found[0, 2] == 0.0
    assert np.all(np.linalg.eigvalsh(found) > 0.0)


def test_a_bound_misses_what_the_stall_speed_does() -> None:
    """Both hang on one largest lift, so a wrong one is wrong in both."""
    bound, stall = seen("lowest_speed"), seen("stall_speed")
    found = noise((bound, stall, bound))
    assert misses(bound) == misses(stall) == "stall_speed"
    assert found[0, 1] == found[0, 2] == pytest.approx(0.03**2)
    assert np.all(np.linalg.eigvalsh(found) > 0.0)


def test_only_the_lowest_speed_is_a_bound() -> None:
    """And what fits nothing is told in its own words."""
    told = (seen("stall_speed"), seen("lowest_speed"), seen("top_speed"))
    assert bounds_in(told) == (1,)
    assert "0.5% of such planes fly level so slowly" in odd_words(told[1], 0.005)
    assert "less than 0.1% of such planes are as far off" in odd_words(told[2], 1e-5)

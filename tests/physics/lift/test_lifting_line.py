"""Lifting line: batch, least drag, limits."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.physics.lift.closed_form import wing_slope
from foamwright.physics.lift.lifting_line import lifting_line


def test_a_batch_is_the_same_as_one_by_one() -> None:
    """Samples do not see each other."""
    ratio, taper, section = np.asarray([4.0, 9.0]), np.asarray([0.4, 1.0]), np.asarray([5.5, 6.2])
    both = lifting_line(ratio, taper, section)
    for k in (0, 1):
        one = lifting_line(ratio[k : k + 1], taper[k : k + 1], section[k : k + 1])
        assert one.slope == pytest.approx(both.slope[k : k + 1], rel=1e-12)
        assert one.drag_excess == pytest.approx(both.drag_excess[k : k + 1], rel=1e-9)


@pytest.mark.parametrize(("ratio", "best", "least"), [(6.0, 0.37, 0.00858), (8.0, 0.36, 0.0126)])
def test_least_drag_is_near_a_taper_of_a_third(ratio: float, best: float, least: float) -> None:
    """The taper with the least induced drag, and that drag (200 terms, computed apart)."""
    taper = np.arange(0.25, 0.5, 0.01)
    same = np.ones_like(taper)
    found = lifting_line(ratio * same, taper, 2.0 * np.pi * same).drag_excess
    assert taper[found.argmin()] == pytest.approx(best, abs=0.0101)
    assert found.min() == pytest.approx(least, rel=0.02)


@settings(max_examples=20, deadline=None)
@given(st.floats(4.0, 20.0), st.floats(0.1, 1.0), st.floats(4.0, 7.0))
def test_tau_is_what_glauerts_formula_needs(ratio: float, taper: float, section: float) -> None:
    """Slope from the closed form with this tau is the slope; both excesses are losses."""
    a, lam, slope = (np.asarray([value]) for value in (ratio, taper, section))
    found = lifting_line(a, lam, slope)
    assert wing_slope(slope, a, found.slope_excess) == pytest.approx(found.slope)
    assert found.slope_excess > 0.0
    assert found.drag_excess > 0.0

"""The corrections do what their docstrings say and no more."""

import numpy as np
import pytest

from foamwright.physics.lift.correction import (
    SECTION_CLMAX_BIAS,
    WORKING_DRAG_LN_BIAS,
    corrected_lift,
    peak_lift,
    sheet_drag,
    working_drag,
    zero_lift_shift,
)

ALPHA = np.deg2rad(np.linspace(-16.0, 22.0, 39))
LIFT = np.clip(6.0 * ALPHA, -1.0, 1.0)[None, None, :]
"""A line that breaks at one: every number is known."""


def test_peak_is_taken_off_and_slope_left_alone() -> None:
    """The peak falls by the bias; below 0.6 of it nothing moves."""
    lift = corrected_lift(ALPHA, LIFT, np.array([False]), np.array([0.0]))
    assert lift.max() == pytest.approx(1.0 + SECTION_CLMAX_BIAS)
    assert lift.min() == pytest.approx(-1.0 - SECTION_CLMAX_BIAS)
    low = np.abs(LIFT) < 0.6
    assert lift[low] == pytest.approx(LIFT[low])


def test_back_of_a_cambered_section_is_left_alone() -> None:
    """The stall at negative lift was not measured, so it keeps the atlas value."""
    lift = corrected_lift(ALPHA, LIFT, np.array([False]), np.array([0.03]))
    assert lift.min() == pytest.approx(-1.0)
    assert lift.max() == pytest.approx(1.0 + SECTION_CLMAX_BIAS)


def test_sheet_keeps_its_maximum() -> None:
    """Measured and atlas maximum of bent sheet agree."""
    lift = corrected_lift(ALPHA, LIFT, np.array([True]), np.array([0.06]))
    assert lift == pytest.approx(LIFT)


def test_first_peak_counts_not_the_deep_stall() -> None:
    """A curve that drops at 10 deg and climbs higher at 18 deg has its maximum at 10 deg."""
    degrees = np.rad2deg(ALPHA)
    lift = np.where(degrees <= 10.0, 0.1 * degrees, 0.6 + 0.06 * (degrees - 10.0))[None, None, :]
    top, place = peak_lift(ALPHA, lift, np.array([False]))
    assert top[0, 0] == pytest.approx(1.0)
    assert degrees[place[0, 0]] == pytest.approx(10.0)


def test_working_drag_is_none_at_the_ends() -> None:
    """Nothing at minimum drag and at the stall, the full bias between."""
    found = working_drag(np.array([0.0, 0.2, 0.6, -0.6, 0.95, 1.2]))
    full = WORKING_DRAG_LN_BIAS
    assert found == pytest.approx([0.0, 0.0, full, full, 0.0, 0.0])


def test_flat_sheet_factors_are_those_of_the_measured_plate() -> None:
    """Factor on minimum drag 1.31, 1.60, 1.78 at 100 k, 200 k, 300 k; rows give 1.31-1.77."""
    found = np.exp(sheet_drag(np.log([1.0e5, 2.0e5, 3.0e5]), np.array([0.0])))
    assert found[0] == pytest.approx([1.31, 1.60, 1.77], rel=0.02)


def test_zero_lift_shift_is_none_for_symmetric_sections_and_odd_in_camber() -> None:
    """Upside down the shift changes sign; at 60 k it is -1.1 deg for full camber."""
    found = zero_lift_shift(np.log([6.0e4]), np.array([0.0, 0.04, -0.04]))
    assert np.rad2deg(found[:, 0]) == pytest.approx([0.0, -1.1, 1.1], abs=0.01)

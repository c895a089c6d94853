"""Propeller tables: look-up, multipliers, flags."""

import numpy as np
import pytest

from foamwright.physics.drive.blade import label_blade
from foamwright.physics.drive.blade_element import Operation, blade_element
from foamwright.physics.drive.propeller import (
    CurveRows,
    Multipliers,
    advance_axis,
    beyond_measured,
    coefficients,
    measured_table,
    propeller_table,
    tip_mach,
)

BLADE = label_blade(0.127, 0.09, 2.0)
TABLE, ROOTLESS = propeller_table(BLADE)


def test_the_table_reaches_past_1_3_of_zero_thrust() -> None:
    """Thrust is negative from 1 / 1.3 of the axis on, at every speed but the crawl."""
    assert not ROOTLESS.any()
    assert np.all(np.diff(advance_axis(BLADE)) > 0)
    for column in TABLE.thrust[:, 1:].T:
        zero = float(np.interp(0.0, -column, TABLE.advance_ratio))
        assert TABLE.advance_ratio[-1] > 1.3 * zero


def test_looking_up_agrees_with_solving() -> None:
    """Between nodes within 1 % of the static values."""
    J = np.linspace(0.0, 0.7, 29)
    n = np.linspace(60.0, 400.0, 29)
    CT, CP, outside = coefficients(TABLE, J, n)
    points = Operation(advance_ratio=J, revolutions=n, kinematic_viscosity=np.full(29, 1.5e-5))
    want = blade_element(BLADE, points)
    assert np.abs(CT - want[0]).max() < 0.01 * want[0][0]
    assert np.abs(CP - want[1]).max() < 0.01 * want[1][0]
    assert not outside.any()


def test_multipliers_stretch_the_curves() -> None:
    """CT(J) = kT CT0(J / kJ): twice the scale, half the advance ratio looked up."""
    given = Multipliers(advance=np.array([2.0]), thrust=np.array([1.1]), power=np.array([0.9]))
    n = np.array([200.0])
    plain = coefficients(TABLE, np.array([0.2]), n)
    CT, CP, _ = coefficients(TABLE, np.array([0.4]), n, given)
    assert pytest.approx(1.1 * plain[0]) == CT
    assert pytest.approx(0.9 * plain[1]) == CP


def test_outside_the_table_is_flagged() -> None:
    """Beyond the last advance ratio and beyond the fastest speed."""
    J, n = np.array([0.3, 9.0, 0.3]), np.array([200.0, 200.0, 2000.0])
    _, _, outside = coefficients(TABLE, J, n)
    assert outside.tolist() == [False, True, True]


def test_a_measured_table_goes_on_past_its_last_row() -> None:
    """Rows that end at 0.8 of zero thrust are carried along their line to beyond it."""
    J = np.linspace(0.0, 0.64, 9)
    rows = CurveRows(advance_ratio=J, thrust=0.12 * (1 - J / 0.8), power=0.06 * (1 - 0.5 * J))
    table = measured_table(rows, 0.2)
    CT, CP, outside = coefficients(table, np.array([0.8, 1.0]), np.array([100.0, 100.0]))
    assert pytest.approx([0.0, -0.03], abs=1e-4) == CT
    assert pytest.approx([0.036, 0.03], abs=1e-4) == CP
    assert not outside.any()


def test_tip_mach_counts_both_speeds() -> None:
    """76 mm at 933 rev/s is 0.65 of sound at rest, and flagged only when it passes 0.75."""
    sound = np.full(2, 343.0)
    mach, fast = tip_mach(
        np.full(2, 0.0762), np.array([933.3, 1100.0]), np.array([0.0, 30.0]), sound
    )
    assert mach[0] == pytest.approx(0.651, abs=0.001)
    assert fast.tolist() == [False, True]


def test_small_fast_propellers_are_an_extrapolation() -> None:
    """5 inch at Re 70 000 or tip Mach 0.5 is beyond the data; 8 inch is not."""
    Re, mach = np.array([30e3, 70e3, 30e3]), np.array([0.2, 0.2, 0.5])
    assert beyond_measured(0.127, Re, mach).tolist() == [False, True, True]
    assert beyond_measured(0.2032, Re, mach).tolist() == [False, False, False]

"""Thin-airfoil theory in cases that can be done by hand."""

import numpy as np
import pytest

from foamwright.physics.lift.thin_airfoil import four_digit, from_slope, stations


def test_parabola_has_zero_lift_angle_of_twice_its_camber() -> None:
    """Mean line 4 m x (1 - x): zero lift at -2 m, moment -pi m, for m = 3 %."""
    theory = from_slope((0.12 * (1.0 - 2.0 * stations(2000)))[None, :])
    assert theory.zero_lift[0] == pytest.approx(-0.06, rel=1e-6)
    assert theory.moment[0] == pytest.approx(-np.pi * 0.03, rel=1e-6)


def test_flat_line_does_nothing() -> None:
    """No camber, no zero-lift angle, no moment."""
    theory = four_digit(np.array([0.0]), np.array([0.4]))
    assert theory.zero_lift[0] == 0.0
    assert theory.moment[0] == 0.0

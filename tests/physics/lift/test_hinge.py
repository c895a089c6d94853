"""Hinge moments of plain flaps."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.lift.hinge import (
    hinge_coefficient,
    hinge_moment,
    mean_square_chord,
    speed_held,
)


@given(inner=st.floats(0.005, 0.2), outer=st.floats(0.005, 0.2))
def test_the_mean_square_is_that_of_a_straight_taper(inner: float, outer: float) -> None:
    """The integral of the square of a line, by 20001 midpoints."""
    along = (np.arange(20001) + 0.5) / 20001
    by_sum = float(np.mean((inner + (outer - inner) * along) ** 2))
    found = mean_square_chord(np.array([inner]), np.array([outer]))
    assert found[0] == pytest.approx(by_sum, rel=1e-7)


@given(fraction=st.floats(0.1, 0.5), angle=st.floats(-0.2, 0.2), throw=st.floats(-0.5, 0.5))
def test_angle_and_deflection_add_up(fraction: float, angle: float, throw: float) -> None:
    """A line in both, odd in both; each alone pushes the flap back."""
    cut = np.array([fraction])

    def at(alpha: float, delta: float) -> float:
        return float(hinge_coefficient(cut, np.array([alpha]), np.array([delta]))[0])

    assert at(angle, throw) == pytest.approx(at(angle, 0.0) + at(0.0, throw), abs=1e-12)
    assert at(-angle, -throw) == pytest.approx(-at(angle, throw), abs=1e-12)
    assert at(0.1, 0.0) < 0.0
    assert at(0.0, 0.1) < 0.0


def test_the_moment_is_coefficient_pressure_chord_squared_length() -> None:
    """By hand: 0.1 of 200 Pa on 30 mm squared over 200 mm is 3.6 mN m."""
    found = hinge_moment(np.array([0.1]), np.array([200.0]), np.array([9e-4]), np.array([0.2]))
    assert found[0] == pytest.approx(3.6e-3)


def test_four_times_the_moment_is_twice_the_speed() -> None:
    """Moments go with the square of the speed."""
    found = speed_held(np.array([0.04, -0.01]), np.array([0.01, 0.01]), np.array([20.0, 20.0]))
    assert found == pytest.approx([40.0, 20.0])

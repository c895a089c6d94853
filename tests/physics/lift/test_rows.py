"""Rows along a chord carry the lift and moment of thin-aerofoil theory."""

import numpy as np
import pytest

from foamwright.physics.arrays import Grid
from foamwright.physics.lift.flaps import flap_effectiveness, flap_pitching_moment
from foamwright.physics.lift.rows import Rows, rows


def section_loads(cut: Rows, angle: Grid) -> tuple[float, float]:
    """Lift and quarter-chord moment of plain two-dimensional vortices, solved here again."""
    wash = np.asarray([[1.0 / (2.0 * np.pi * (c - v)) for v in cut.vortex] for c in cut.control])
    circulation = np.linalg.solve(wash, angle)
    return 2.0 * float(circulation.sum()), 2.0 * float(circulation @ (0.25 - cut.vortex))


@pytest.mark.parametrize("count", [2, 3, 6])
@pytest.mark.parametrize("share", [0.15, 0.3, 0.6])
def test_flap_rows_give_glauerts_lift_and_moment(count: int, share: float) -> None:
    """To rounding, however few the rows."""
    cut = rows(count, share)
    lift, moment = section_loads(cut, cut.flap)
    assert lift == pytest.approx(2.0 * np.pi * float(flap_effectiveness(np.asarray(share))))
    assert moment == pytest.approx(float(flap_pitching_moment(np.asarray(share))))


@pytest.mark.parametrize("count", [2, 4, 7])
def test_mean_line_rows_give_the_four_digit_section(count: int) -> None:
    """NACA 2412 (Abbott & von Doenhoff's theory): -2.0772 degrees, -0.05312."""
    cut = rows(count, 0.0)
    lift, moment = section_loads(cut, -0.02 * cut.mean_line)
    assert np.degrees(lift / 2.0 / np.pi) == pytest.approx(2.0772, rel=1e-4)
    assert moment == pytest.approx(-0.05312, rel=1e-3)


def test_a_single_row_has_the_right_zero_lift_angle() -> None:
    """One row can hold one thing, and lift is it."""
    cut = rows(1, 0.0)
    lift, _ = section_loads(cut, -0.02 * cut.mean_line)
    assert np.degrees(lift / 2.0 / np.pi) == pytest.approx(2.0772, rel=1e-4)


def test_the_hinge_is_a_row_edge() -> None:
    """No panel lies half on the flap: vortices and control points fall on one side in pairs."""
    cut = rows(5, 0.27)
    assert np.array_equal(cut.vortex > 0.73, cut.control > 0.73)
    assert 0 < np.count_nonzero(cut.vortex > 0.73) < 5


def test_an_all_moving_surface_turns_as_a_whole() -> None:
    """A flap over the whole chord is an angle of attack on every row."""
    assert rows(3, 1.0).flap == pytest.approx(np.ones(3))

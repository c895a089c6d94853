"""Wing and tail in closed form: trends."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.lift.tailed_plane import (
    TailedPlane,
    margin,
    moment_at_rest,
    moment_slope,
    trim_angle,
)

PLANE = TailedPlane(
    moment_at_centre=np.asarray([-0.05]),
    slope=np.asarray([4.8]),
    centre_aft=np.asarray([0.05]),
    tail_volume=np.asarray([0.5]),
    tail_slope=np.asarray([3.6]),
    tail_setting=np.asarray([0.06]),
    downwash_slope=np.asarray([0.4]),
)


@given(st.floats(-0.2, 0.15))
def test_moving_the_balance_takes_margin_chord_for_chord(aft: float) -> None:
    """The margin and the place of the balance add up to the neutral point."""
    moved = replace(PLANE, centre_aft=np.asarray([aft]))
    assert margin(moved) + aft == pytest.approx(margin(PLANE) + 0.05)


def test_at_the_trim_angle_there_is_no_moment() -> None:
    """Moment at rest and moment slope cancel."""
    total = moment_at_rest(PLANE) + moment_slope(PLANE) * trim_angle(PLANE)
    assert total == pytest.approx([0.0], abs=1e-15)


def test_without_a_tail_only_the_wing_is_left() -> None:
    """Moment slope is the wing's lift slope times how far the balance lies aft."""
    bare = replace(PLANE, tail_volume=np.zeros(1))
    assert moment_slope(bare) == pytest.approx([0.24])
    assert margin(bare) == pytest.approx([-0.05])

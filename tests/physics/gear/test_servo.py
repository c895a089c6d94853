"""What a servo holds and how fast it is."""

import numpy as np
import pytest

from foamwright.physics.gear.servo import LOADED_SPEED, USABLE_TORQUE, held_moment, time_for


def test_two_fifths_of_the_label_are_held() -> None:
    """1:1, common practice; a mechanical advantage of two doubles it, whatever its sign."""
    found = held_moment(np.array([0.05, 0.05, 0.05]), np.array([1.0, 2.0, -2.0]))
    assert found == pytest.approx([0.02, 0.04, 0.04])
    assert pytest.approx(0.4) == USABLE_TORQUE


def test_time_goes_with_the_turn_and_the_load() -> None:
    """30 degrees take half the label's time; under load 1/0.7 of that."""
    turn = np.radians([30.0, -30.0])
    found = time_for(turn, np.array([0.1, 0.1]), np.array([1.0, LOADED_SPEED[0]]))
    assert found == pytest.approx([0.05, 0.05 / 0.7])

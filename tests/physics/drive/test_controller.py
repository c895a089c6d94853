"""The speed controller: power in and out."""

import numpy as np
import pytest

from foamwright.physics.drive.controller import current_gain, motor_voltage

THROTTLE = np.linspace(0.05, 1.0, 20)


def test_a_lossless_converter_keeps_power() -> None:
    """Voltage goes down as current goes up, at every duty."""
    volts, current = 11.1, 6.0
    into = volts * current_gain(THROTTLE, np.zeros(20)) * current
    assert into == pytest.approx(motor_voltage(np.full(20, volts), THROTTLE) * current)


def test_part_throttle_costs_and_full_throttle_does_not() -> None:
    """The share lost falls in a line to nothing at full."""
    gain = current_gain(THROTTLE, np.full(20, 0.15)) / THROTTLE
    assert gain[-1] == pytest.approx(1.0)
    assert np.all(np.diff(gain) < 0)
    assert gain[0] == pytest.approx(1.1425)


def test_pack_current_rises_with_throttle() -> None:
    """Even with a large loss more duty draws more, so duty can be found from current."""
    assert np.all(np.diff(current_gain(THROTTLE, np.full(20, 0.3))) > 0)

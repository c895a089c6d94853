"""Closed forms of the three-constant motor against a scan."""

import numpy as np
import pytest

from foamwright.physics.drive.motor_limits import (
    best_current,
    best_efficiency,
    efficiency_at,
    greatest_power,
    linear_torque,
    speed_at,
    torque_at,
)

KV = 2300.0 * 2.0 * np.pi / 60.0
VOLTAGE, IDLE, RESISTANCE = np.array([11.1]), np.array([0.6]), np.array([0.1])
CURRENT = np.linspace(0.7, 110.0, 20001)


def test_best_efficiency_is_where_a_scan_finds_it() -> None:
    """Current within a step, efficiency to six digits."""
    scanned = efficiency_at(VOLTAGE, CURRENT, IDLE, RESISTANCE)
    at = best_current(VOLTAGE, IDLE, RESISTANCE)[0]
    assert CURRENT[scanned.argmax()] == pytest.approx(at, abs=0.01)
    assert best_efficiency(VOLTAGE, IDLE, RESISTANCE)[0] == pytest.approx(scanned.max(), abs=1e-6)


def test_greatest_power_is_where_a_scan_finds_it() -> None:
    """Torque times speed peaks halfway to stall."""
    power = torque_at(CURRENT, 0.6, KV) * speed_at(VOLTAGE, CURRENT, (KV, 0.1))
    most, at = greatest_power(VOLTAGE, IDLE, RESISTANCE)
    assert power.max() == pytest.approx(most[0], rel=1e-6)
    assert CURRENT[power.argmax()] == pytest.approx(at[0], abs=0.01)


def test_torque_falls_on_a_straight_line() -> None:
    """Torque at a current, read at the speed of that current, is the line from stall to no load."""
    stall = torque_at(VOLTAGE / RESISTANCE, 0.6, KV)
    no_load = speed_at(VOLTAGE, IDLE, (KV, 0.1))
    line = linear_torque(stall, no_load, speed_at(VOLTAGE, CURRENT, (KV, 0.1)))
    assert line == pytest.approx(torque_at(CURRENT, 0.6, KV))

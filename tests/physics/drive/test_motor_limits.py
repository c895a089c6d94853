"""Closed forms of the three-constant motor against a scan."""

import numpy as np
import pytest

from foamwright.physics.drive.motor_limits import (
    BURST_LN,
    best_current,
    best_efficiency,
    burst_current,
    efficiency_at,
    greatest_power,
    lasting_current,
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


def test_burst_current_agrees_with_the_classes() -> None:
    """Middles of twelve classes, 1103 to 2207, have the stated mean and spread between them.

    Common practice, no source: mass and ten-second current, low to high.
    """
    classes = np.array(
        [
            *[(3.5, 4.5, 5, 7), (5, 6.5, 6, 8), (6, 7.5, 7, 9), (8.5, 10, 9, 13)],
            *[(13, 16, 14, 20), (16, 20, 12, 18), (15, 18, 14, 20), (21, 26, 14, 20)],
            *[(26, 30, 22, 30), (29, 32, 25, 34), (31, 34, 28, 38), (32, 36, 30, 40)],
        ]
    )
    mass = np.sqrt(classes[:, 0] * classes[:, 1]) * 1e-3
    middle = np.sqrt(classes[:, 2] * classes[:, 3])
    errors = np.log(middle / burst_current(mass))
    within = np.log(classes[:, 3] / classes[:, 2]).mean() / 2.563
    assert abs(errors.mean()) < 0.02
    assert np.hypot(errors.std(ddof=1), within) == pytest.approx(BURST_LN, abs=0.01)


def test_what_lasts_is_about_half_of_a_burst() -> None:
    """0.5 to 0.6 A a gram against 1.0 to 1.2 (common practice, no source)."""
    mass = np.array([0.006, 0.030])
    assert lasting_current(mass) / burst_current(mass) == pytest.approx(0.53, abs=0.05)
    assert lasting_current(mass)[1] == pytest.approx(16.5)

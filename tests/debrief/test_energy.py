"""Charge, resistance and the sensor of a pack that is known."""

from dataclasses import replace

import numpy as np
import pytest
from tests.debrief.simulator import RESISTANCE, Plan, fly, with_holes

from foamwright.debrief.energy import charge_used, pack_resistance, sensor_scale
from foamwright.debrief.outcome import Facts
from foamwright.debrief.read_off import integrated
from foamwright.debrief.recording import Gap, Recording


def driven(seconds: int = 240) -> Recording:
    """Return a flight whose throttle changes every eight seconds."""
    throttle = np.where(np.arange(seconds) // 8 % 2 == 0, 0.9, 0.5)
    return fly(Plan(throttle=throttle, bank=np.zeros(seconds)))


def steady(amps: float, kept: float = 1.0) -> Recording:
    """Return 400 s at one current, the last share of each 10 s missing."""
    time = np.arange(0.0, 400.0, 0.1)
    rows = time % 10.0 < 10.0 * kept - 1e-9
    time = time[rows]
    holes = np.flatnonzero(np.diff(time) > 0.5)
    gaps = tuple(Gap(start=float(time[i]), end=float(time[i + 1])) for i in holes)
    return Recording(time=time, channels={"current": np.full(time.size, amps)}, gaps=gaps)


def test_the_resistance_is_that_of_the_pack() -> None:
    """35 milliohm are found within 5 %, in spite of the pack running down."""
    found = pack_resistance(driven())
    assert found is not None
    assert found.value == pytest.approx(RESISTANCE, rel=0.05)
    assert abs(found.value - RESISTANCE) < 4.0 * found.sd


def test_a_steady_current_tells_no_resistance() -> None:
    """Without changes of current nothing is said."""
    log = steady(8.0)
    volts = {**log.channels, "voltage": np.full(log.time.size, 11.0)}
    assert pack_resistance(replace(log, channels=volts)) is None
    assert pack_resistance(log) is None


def test_a_whole_log_counts_its_charge() -> None:
    """8 A for 400 s are 3200 coulomb with a band on both sides."""
    found = charge_used(steady(8.0), Facts())
    assert found is not None
    assert found.value == pytest.approx(3200.0, rel=1e-3)
    assert found.low < found.value < found.high < 3700.0


def test_gaps_make_the_charge_a_floor() -> None:
    """With 22 % missing the sum counts what is there and has no upper end."""
    found = charge_used(steady(8.0, 0.78), Facts())
    assert found is not None
    assert found.value == pytest.approx(0.78 * 3200.0, rel=0.02)
    assert found.high == float("inf")
    assert "at least" in found.label


def test_the_charger_has_the_last_word() -> None:
    """What was put back is the charge, 508 mAh."""
    found = charge_used(steady(4.0, 0.78), Facts(charge_put_back=508 * 3.6))
    assert found is not None
    assert found.value == pytest.approx(1828.8)


def test_the_counter_comes_before_the_sum() -> None:
    """A counter on board runs on through the gaps."""
    log = steady(8.0, 0.78)
    found = charge_used(
        replace(log, channels={**log.channels, "charge_used": 8.0 * log.time}), Facts()
    )
    assert found is not None
    assert found.value == pytest.approx(3200.0, rel=0.02)


def test_gaps_are_named_before_the_sensor_is_blamed() -> None:
    """412 logged of 508 mAh with 78 % recorded: the gaps explain it, correct nothing."""
    one_ampere = integrated(steady(1.0, 0.78))
    assert one_ampere is not None
    log = steady(412 * 3.6 / one_ampere, 0.78)
    found = sensor_scale(log, Facts(charge_put_back=508 * 3.6))
    assert found is not None
    assert "do not correct" in found.what
    assert "the gaps explain it" in found.because
    assert "1.23" in found.because


def test_a_wrong_sensor_is_named_where_nothing_is_missing() -> None:
    """A ratio of 1.23 without gaps is the sensor's."""
    found = sensor_scale(steady(4.0), Facts(charge_put_back=1.23 * 1600.0))
    assert found is not None
    assert "reads low" in found.what
    assert "1.23" in found.check_first[0]


def test_a_sensor_that_agrees_is_left_alone() -> None:
    """Two per cent off is not worth a word."""
    assert sensor_scale(steady(4.0), Facts(charge_put_back=1.02 * 1600.0)) is None
    assert sensor_scale(steady(4.0), Facts()) is None


def test_holes_do_not_bend_the_resistance() -> None:
    """With a fifth of the rows gone it is still found within 10 %."""
    found = pack_resistance(with_holes(driven(), 0.22))
    assert found is not None
    assert found.value == pytest.approx(RESISTANCE, rel=0.1)

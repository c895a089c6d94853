"""Judging attitude, rates, loads and sticks."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest

from foamwright.debrief.judging import ENOUGH, Bench, Expected
from foamwright.debrief.judging_body import (
    acceleration,
    change_of,
    rate,
    satellites,
    share,
    signal,
    temperature,
    tilt,
    up_acceleration,
)
from foamwright.debrief.naming import Meaning

Truth = Mapping[str, np.ndarray]
DEG = 180 / np.pi


def meaning(taken_as: str, unit: str = "") -> Meaning:
    """Return what a name says."""
    return Meaning(taken_as=taken_as, unit=unit, strength=0.95)


@pytest.fixture
def bench(truth: Truth) -> Bench:
    """Return a bench without anything settled."""
    return Bench(time=truth["time"], step=0.1, expected=Expected())


def test_angles_of_one_log_share_their_unit(truth: Truth, bench: Bench) -> None:
    """A whole turn beside it tells that a small pitch is in radians."""
    for factor, unit in ((DEG, "deg"), (1.0, "rad"), (100 * DEG, "cdeg")):
        beside = replace(
            bench,
            written={"pitch": truth["pitch"] * factor, "heading": truth["heading"] * factor},
        )
        found = tilt(beside, truth["pitch"] * factor, meaning("pitch"))
        assert (found.unit, found.sure > ENOUGH) == (unit, True)
    assert tilt(bench, truth["pitch"], meaning("pitch")).sure < ENOUGH
    assert tilt(bench, truth["pitch"], meaning("pitch", "rad")).sure > ENOUGH


def test_a_rate_is_the_change_of_its_angle(truth: Truth, bench: Bench) -> None:
    """Unit and sign; a header in the wrong unit is contradicted."""
    known = replace(bench, known={"roll": truth["roll"]})
    for factor, unit in ((1.0, "rad/s"), (DEG, "deg/s"), (1000.0, "mrad/s")):
        found = rate(known, truth["roll_rate"] * factor, meaning("roll_rate"))
        assert (found.unit, found.sure > 0.9) == (unit, True)
    assert rate(known, -truth["roll_rate"], meaning("roll_rate")).factor == -1.0
    assert rate(known, truth["roll_rate"], meaning("roll_rate", "deg/s")).sure < ENOUGH
    assert change_of(bench, "roll_rate") is None


def test_a_rate_alone_is_told_only_beyond_what_sensors_show(truth: Truth, bench: Bench) -> None:
    """300 cannot be radians a second; 20 may be either."""
    wild = 300.0 * np.sin(truth["time"])
    assert rate(bench, wild, meaning("roll_rate")).unit == "deg/s"
    assert rate(bench, wild, meaning("roll_rate")).sure > ENOUGH
    assert rate(bench, wild / 20, meaning("roll_rate")).sure < ENOUGH


def test_a_wanted_rate_has_the_unit_of_the_measured_one(truth: Truth, bench: Bench) -> None:
    """It is followed."""
    known = replace(
        bench, known={"roll_rate": truth["roll_rate"]}, written={"roll_rate": truth["roll_rate"]}
    )
    found = rate(known, truth["roll_rate"] * DEG, meaning("roll_rate_wanted"))
    assert (found.unit, found.sure > ENOUGH) == ("deg/s", True)


def test_the_load_of_a_flight_is_one_g_upwards(truth: Truth, bench: Bench) -> None:
    """In g or metres a second squared, whichever way the sensor counts."""
    load = truth["up_acceleration"]
    assert up_acceleration(bench, load, meaning("up_acceleration")).unit == "m/s2"
    assert up_acceleration(bench, load / 9.80665, meaning("up_acceleration")).unit == "g"
    down = up_acceleration(bench, -load, meaning("up_acceleration", "m/s2"))
    assert down.factor == -1.0
    assert up_acceleration(bench, load * 7, meaning("up_acceleration", "m/s2")).sure < ENOUGH
    assert up_acceleration(bench, load * 52, meaning("up_acceleration")).sure < ENOUGH
    assert acceleration(bench, load, meaning("forward_acceleration")).sure < ENOUGH


@pytest.mark.parametrize(
    ("written", "unit"), [((1.0, 0.0), "1"), ((100.0, 0.0), "%"), ((1000.0, 1000.0), "us")]
)
def test_a_throttle_is_a_share_percent_or_pulse(
    written: tuple[float, float], unit: str, truth: Truth, bench: Bench
) -> None:
    """Half throttle is 0.5, 50 or 1500."""
    factor, offset = written
    found = share(bench, truth["throttle"] * factor + offset, meaning("throttle"))
    assert found.unit == unit
    assert 0.5 * factor * found.factor + offset * found.factor + found.offset == pytest.approx(0.5)
    assert found.sure > ENOUGH


def test_sticks_run_both_ways(truth: Truth, bench: Bench) -> None:
    """A pulse of 1500 is the middle; numbers of no scale are not taken."""
    stick = 0.9 * np.sin(truth["time"])
    found = share(bench, 1500 + 500 * stick, meaning("aileron"))
    assert 1500 * found.factor + found.offset == pytest.approx(0.0)
    assert share(bench, stick * 100, meaning("elevator")).unit == "%"
    assert share(bench, stick * 777, meaning("rudder")).sure < ENOUGH
    assert share(bench, stick * 1024, meaning("aileron")).sure > ENOUGH
    assert share(bench, np.abs(stick) * 100, meaning("elevator")).sure < ENOUGH


def test_a_throttle_may_rest_at_the_lower_end_of_a_stick(truth: Truth, bench: Bench) -> None:
    """From -1024 to 1024: the middle is half throttle; one that stays in the middle is unsure."""
    cut = share(bench, (2 * truth["throttle"] - 1) * 1024, meaning("throttle"))
    assert cut.sure < ENOUGH  # from 0.2 to 0.8: nobody knows where the ends are
    ends = share(bench, 1024 * np.sin(truth["time"]), meaning("throttle"))
    assert ends.sure > ENOUGH
    assert 0.0 * ends.factor + ends.offset == 0.5
    assert share(bench, 0.5 * np.sin(truth["time"]) + 0.4, meaning("throttle")).sure < ENOUGH


def test_counts_signals_and_temperatures(truth: Truth, bench: Bench) -> None:
    """Whole satellites, negative decibels, degrees that are no frost."""
    assert satellites(bench, truth["satellites"], meaning("satellites")).sure > 0.9
    assert satellites(bench, truth["satellites"] * 0.7, meaning("satellites")).sure < ENOUGH
    assert signal(bench, -60 - truth["satellites"], meaning("signal_strength")).sure > ENOUGH
    assert signal(bench, 60 + truth["satellites"], meaning("signal_strength")).sure < ENOUGH
    assert temperature(bench, 20 + truth["satellites"], meaning("temperature")).unit == "degC"
    assert temperature(bench, 60 + truth["satellites"], meaning("temperature")).sure < ENOUGH

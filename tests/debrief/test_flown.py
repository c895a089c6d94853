"""A flight as it is held beside others."""

from dataclasses import replace

import numpy as np
import pytest
from tests.debrief.simulator import MASS, RESISTANCE, Plan, circles, fly

from foamwright.debrief.analysis import analyse
from foamwright.debrief.flown import flown_of, placed, rough_resistance
from foamwright.debrief.outcome import Facts
from foamwright.debrief.recording import Recording

FACTS = Facts(mass=MASS, air_density=1.19)


def flight() -> Recording:
    """Return circles, a dash and a glide."""
    turning = circles(150)
    bank, throttle = turning.bank.copy(), turning.throttle.copy()
    bank[100:], throttle[104:120], throttle[120:] = 0.0, 1.0, 0.0
    return fly(Plan(throttle=throttle, bank=bank, seed=4))


def test_every_reading_has_its_speed_and_conditions() -> None:
    """The dash: 12.4 V less 2 mV a second, without the sag of 25 A."""
    log = flight()
    found = flown_of(log, analyse(log, FACTS))
    readings = {one.name: one for one in found.readings}
    assert {"top_speed", "top_speed_current", "glide_ratio", "drag_area"} <= set(readings)
    top = readings["top_speed"]
    assert set(top.conditions) == {"voltage"}
    assert top.conditions["voltage"] == pytest.approx(12.4 - 0.002 * 112.0, abs=0.05)
    assert top.heading is not None
    assert found.wind is not None
    glide = readings["glide_ratio"].speed
    assert glide is not None
    assert 12.0 < glide < 22.0
    assert 0.0 < found.wind_sd < 1.5


def test_observations_are_placed_in_their_segments() -> None:
    """Each that names a segment gets its airspeed and how long it was."""
    log = flight()
    analysis = analyse(log, FACTS)
    glide = next(one for one in placed(log, analysis) if one.name == "glide_ratio")
    part = next(one for one in analysis.segments if one.name == glide.segment)
    assert glide.time == pytest.approx(part.end - part.start)
    whole = next(one for one in placed(log, analysis) if one.name == "pack_resistance")
    assert (whole.speed, whole.time) == (None, None)


def test_a_log_without_current_tells_no_voltage_at_rest() -> None:
    """The sag is not known then, so no correction is made from it."""
    log = flight()
    channels = {name: v for name, v in log.channels.items() if name != "current"}
    bare = replace(log, channels=channels)
    found = flown_of(bare, analyse(bare, FACTS))
    assert found.readings
    for one in found.readings:
        assert one.conditions == {}


def test_the_rough_resistance_is_near_the_packs() -> None:
    """35 milliohm within a tenth; none from a steady current or too few rows."""
    log = flight()
    assert rough_resistance(log) == pytest.approx(RESISTANCE, rel=0.1)
    steady = {**log.channels, "current": np.full(log.time.size, 8.0)}
    assert rough_resistance(replace(log, channels=steady)) is None
    assert rough_resistance(log.between(0.0, 3.0)) is None

"""The lowest speed, with and without a stall behind it."""

from dataclasses import replace

import numpy as np
import pytest
from tests.debrief.simulator import gusts

from foamwright.debrief.outcome import Facts, Share
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene, scene_of
from foamwright.debrief.slow_flight import lowest_of, lowest_speed, read_slow

LOW = 8.0


def slowed(*, stalls: bool, nose: float = 20.0, closed: bool = False) -> Recording:
    """Return a flight at 14 m/s that slows to 8 m/s at 60 s; then it drops, or goes on."""
    time = np.asarray(np.arange(0.0, 100.0, 0.1), dtype=np.float64)
    speed = np.interp(time, [0, 40, 56, 60, 63, 100], [14.0, 14.0, LOW, LOW, 13.0, 14.0])
    height, pitch = np.full(time.size, 60.0), np.full(time.size, np.radians(8.0))
    throttle = np.full(time.size, 0.4)
    if stalls:
        height = np.interp(time, [0, 60, 61, 63, 65, 100], [60.0, 60.0, 58.5, 51.0, 50.0, 50.0])
        pitch = np.radians(np.interp(time, [0, 60, 61, 64, 100], [8.0, 8.0, 8 - nose, 0.0, 8.0]))
    if closed:
        throttle = np.where(time > 60.0, 0.0, 0.4)
    height[:20] = 0.0
    return Recording(
        time=time,
        channels={"airspeed": speed, "height": height, "pitch": pitch, "throttle": throttle},
        step=0.1,
    )


def scene(log: Recording) -> Scene:
    """Return the scene of a log with a pitot."""
    return scene_of(log, Facts())[0]


def test_a_break_makes_it_the_stall() -> None:
    """Height and nose drop right after: it is observed, with how it showed."""
    found = read_slow(scene(slowed(stalls=True)))
    (stall,) = found.observations
    assert stall.name == "stall_speed"
    assert stall.value == pytest.approx(LOW, abs=0.2)
    assert stall.sd > 0.1
    assert "nose went down" in stall.segment
    assert found.figures == ()


def test_without_a_break_it_is_an_upper_bound_only() -> None:
    """It must not be taught as the stall, and what would show the stall is said."""
    found = read_slow(scene(slowed(stalls=False)))
    (bound,) = found.observations
    assert bound.name == "lowest_speed"
    assert bound.value == pytest.approx(LOW, abs=0.2)
    assert bound.segment == "at 58 s"
    assert "stall speed" in found.not_said[0]


def names(found: Share) -> list[str]:
    """Return what was observed."""
    return [one.name for one in found.observations]


def test_a_throttle_that_was_closed_is_no_stall() -> None:
    """The pilot let it down."""
    assert names(read_slow(scene(slowed(stalls=True, closed=True)))) == ["lowest_speed"]


def test_a_nose_that_stays_up_is_no_stall() -> None:
    """A downdraught lowers the height, not the nose."""
    assert names(read_slow(scene(slowed(stalls=True, nose=2.0)))) == ["lowest_speed"]


@pytest.mark.parametrize(("load", "stalls"), [(0.5, True), (0.95, False)])
def test_without_a_nose_the_load_tells(load: float, *, stalls: bool) -> None:
    """A wing that stalls carries less for a moment."""
    log = slowed(stalls=True)
    felt = np.where((log.time > 60.2) & (log.time < 61.5), load, 1.0) * 9.80665
    channels = {name: v for name, v in log.channels.items() if name != "pitch"}
    found = read_slow(scene(replace(log, channels={**channels, "up_acceleration": felt})))
    assert names(found) == ["stall_speed" if stalls else "lowest_speed"]


def test_height_alone_is_not_believed() -> None:
    """With neither nose nor load logged the lowest speed stays a bound."""
    log = slowed(stalls=True)
    channels = {name: v for name, v in log.channels.items() if name != "pitch"}
    assert names(read_slow(scene(replace(log, channels=channels)))) == ["lowest_speed"]


@pytest.mark.parametrize("bank", [35.0, -35.0])
def test_a_turn_is_more_than_one_g(bank: float) -> None:
    """What was flown slowly in a bank is not told as level."""
    log = slowed(stalls=False)
    roll = np.where((log.time > 50.0) & (log.time < 62.0), np.radians(bank), 0.0)
    found = lowest_speed(scene(replace(log, channels={**log.channels, "roll": roll})))
    assert found is None or found.speed > LOW + 1.5


def test_a_flight_that_never_was_slow_tells_nothing() -> None:
    """14 m/s all the time says nothing of the stall; nor does a log without height."""
    log = slowed(stalls=False)
    steady = {**log.channels, "airspeed": np.full(log.time.size, 14.0)}
    assert read_slow(scene(replace(log, channels=steady))) == Share()
    bare = {name: v for name, v in log.channels.items() if name != "height"}
    assert read_slow(scene(replace(log, channels=bare))) == Share()


@pytest.mark.parametrize("count", [1, 2, 5, 20])
def test_the_lowest_of_many_lies_too_low_by_so_much(count: int) -> None:
    """Against the mean lowest of that many normal draws; no fewer than one are counted."""
    drawn = np.random.default_rng(1).normal(size=(40_000, count)).min(axis=1)
    assert lowest_of(float(count)) == pytest.approx(-drawn.mean(), abs=0.03)
    assert lowest_of(0.3) == 0.0


def in_gusts(seed: int, held: float, strength: float) -> Recording:
    """Return circles for the wind, then a flight slowed to 9 m/s for a while, in gusts."""
    random, step = np.random.default_rng(seed), 0.1
    time = np.asarray(np.arange(0.0, 150.0 + held, step), dtype=np.float64)
    speed = np.interp(time, [0, 90, 110, 110 + held, 115 + held], [14, 14, 9.0, 9.0, 14])
    heading = np.cumsum(np.where(time < 70.0, 2.0 * np.pi / 20.0, 0.0)) * step
    north, east = (
        speed * part + wind + gusts(time.size, step, strength, random)
        for part, wind in ((np.cos(heading), 3.0), (np.sin(heading), -2.0))
    )
    height = 80.0 + random.normal(0.0, 0.2, time.size)
    height[:20] = 0.0
    channels = {
        "ground_speed": np.hypot(north, east),
        "course": np.mod(np.arctan2(east, north), 2.0 * np.pi),
        "height": height,
    }
    return Recording(time=time, channels=channels, step=step)


@pytest.mark.slow
@pytest.mark.parametrize("held", [0.0, 3.0, 10.0, 30.0])
@pytest.mark.parametrize("strength", [0.4, 0.8, 1.5])
def test_the_lower_end_of_a_bound_is_true_in_gusts(held: float, strength: float) -> None:
    """The lowest of many means is too low, the longer it is looked at: that is given back.

    Of 100 flights at 9 m/s the whole band lies below the truth in 10 if it is right; 20 are let
    pass (at 30 s in gusts of 1.5 m/s it were 35 without it).
    """
    logs = (in_gusts(seed, held, strength) for seed in range(100))
    found = [one for log in logs if (one := lowest_speed(scene(log)))]
    assert len(found) > 90
    low = [one.speed + 1.2816 * one.sd < 9.0 for one in found]
    assert np.mean(low) <= 0.20
    assert abs(np.mean([(one.speed - 9.0) / one.sd for one in found])) < 0.9

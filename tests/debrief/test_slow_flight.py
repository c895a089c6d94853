"""The lowest speed, with and without a stall behind it."""

from dataclasses import replace

import numpy as np
import pytest

from foamwright.debrief.outcome import Facts, Share
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene, scene_of
from foamwright.debrief.slow_flight import lowest_speed, read_slow

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
    """A figure that says so, no observation: it must not be taught as the stall."""
    found = read_slow(scene(slowed(stalls=False)))
    assert found.observations == ()
    (figure,) = found.figures
    assert figure.name == "lowest_speed"
    assert figure.value == pytest.approx(LOW, abs=0.2)
    assert "stalls below" in figure.label
    assert "stall speed" in found.not_said[0]


def test_a_throttle_that_was_closed_is_no_stall() -> None:
    """The pilot let it down."""
    assert read_slow(scene(slowed(stalls=True, closed=True))).observations == ()


def test_a_nose_that_stays_up_is_no_stall() -> None:
    """A downdraught lowers the height, not the nose."""
    assert read_slow(scene(slowed(stalls=True, nose=2.0))).observations == ()


@pytest.mark.parametrize(("load", "stalls"), [(0.5, True), (0.95, False)])
def test_without_a_nose_the_load_tells(load: float, *, stalls: bool) -> None:
    """A wing that stalls carries less for a moment."""
    log = slowed(stalls=True)
    felt = np.where((log.time > 60.2) & (log.time < 61.5), load, 1.0) * 9.80665
    channels = {name: v for name, v in log.channels.items() if name != "pitch"}
    found = read_slow(scene(replace(log, channels={**channels, "up_acceleration": felt})))
    assert bool(found.observations) == stalls


def test_height_alone_is_not_believed() -> None:
    """With neither nose nor load logged the lowest speed stays a bound."""
    log = slowed(stalls=True)
    channels = {name: v for name, v in log.channels.items() if name != "pitch"}
    assert read_slow(scene(replace(log, channels=channels))).observations == ()


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

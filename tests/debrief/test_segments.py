"""Flights cut into what was flown."""

from dataclasses import replace

import numpy as np
import pytest
from tests.debrief.simulator import Plan, circles, fly, with_holes

from foamwright.debrief.recording import Recording
from foamwright.debrief.segments import find_segments


def made(speed: np.ndarray, **more: np.ndarray) -> Recording:
    """Return a recording at 10 Hz of what is given."""
    time = np.arange(speed.size) / 10.0
    return Recording(time=time, channels={"ground_speed": speed, **more})


def kinds(recording: Recording, airspeed: np.ndarray | None = None) -> list[str]:
    """Return the kinds in order."""
    return [segment.kind for segment in find_segments(recording, airspeed)]


def test_a_flight_from_bench_to_landing() -> None:
    """Standing, thrown, cruised, slowed down to a stop: each is found, in order."""
    speed = np.concatenate([np.zeros(50), np.full(300, 15.0), np.linspace(15, 0, 60), np.zeros(50)])
    assert kinds(made(speed)) == ["bench", "launch", "cruise", "landing", "bench"]


def test_a_dead_stop_is_a_crash() -> None:
    """From 20 m/s to nothing between two rows is no landing."""
    speed = np.concatenate([np.zeros(50), np.full(300, 20.0), np.zeros(50)])
    assert "crash" in kinds(made(speed))
    assert "landing" not in kinds(made(speed))


@pytest.mark.parametrize(
    ("channel", "value", "kind"),
    [("throttle", 1.0, "dash"), ("throttle", 0.0, "glide"), ("climb_rate", 3.0, "climb")],
)
def test_each_kind_has_its_sign(channel: str, value: float, kind: str) -> None:
    """Full and no throttle and climbing are told from cruise."""
    values = np.full(300, 0.5)
    values[100:160] = value
    found = find_segments(made(np.full(300, 15.0), **{channel: values}), None)
    told = [one for one in found if one.kind == kind]
    assert len(told) == 1
    assert told[0].start == pytest.approx(10.0)
    assert told[0].end == pytest.approx(15.9)


def test_circles_are_turns() -> None:
    """A circle of 25 s, gusts and all, is a turn for most of its time."""
    found = find_segments(fly(circles(60)), None)
    turning = sum(one.end - one.start for one in found if one.kind == "turn")
    assert turning > 25.0


def test_slow_flight_needs_the_airspeed() -> None:
    """It is told from the airspeed; with the ground speed alone nothing is said."""
    speed = np.full(300, 15.0)
    speed[100:150] = 8.0
    assert "slow flight" in kinds(made(speed), speed)
    assert "slow flight" not in kinds(made(speed))


def test_no_segment_spans_a_hole() -> None:
    """Every segment of a log with holes has its rows less than half a second apart."""
    plan = Plan(throttle=np.full(200, 0.8), bank=np.zeros(200))
    log = with_holes(fly(plan), 0.22)
    found = find_segments(log, None)
    assert len(found) > 5
    for one in found:
        inside = log.time[(log.time >= one.start) & (log.time <= one.end)]
        assert np.diff(inside).max() <= 0.5


def test_a_log_without_speed_has_no_segments() -> None:
    """Voltage alone tells no flying."""
    log = replace(made(np.zeros(50)), channels={"voltage": np.full(50, 12.0)})
    assert find_segments(log, None) == ()

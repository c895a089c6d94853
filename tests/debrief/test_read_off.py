"""Numbers straight off a recording."""

import numpy as np
import pytest

from foamwright.debrief.read_off import (
    charge,
    counted,
    integrated,
    moments,
    peak,
    readings_of,
    spread_of,
)
from foamwright.debrief.recording import Gap, Recording

TIME = np.arange(0.0, 100.0, 0.1)


def recording(**channels: np.ndarray) -> Recording:
    """Return 100 s at ten rows a second."""
    return Recording(time=TIME, channels=channels, step=0.1)


def test_a_peak_is_a_mean_over_a_moment() -> None:
    """One odd row of 90 makes no top speed; five seconds at 25 do."""
    speed = np.where((TIME > 40) & (TIME < 45), 25.0, 15.0)
    speed[700] = 90.0
    assert peak(recording(ground_speed=speed), "ground_speed") == pytest.approx(25.0, abs=0.01)
    assert peak(recording(voltage=speed), "voltage", low=True) == pytest.approx(15.0, abs=0.01)
    assert moments(np.arange(3.0), np.array([1.0, 3.0, 3.0])) == pytest.approx([2.0, 3.0])


def test_no_peak_reaches_over_a_gap() -> None:
    """A moment that is not wholly recorded is none."""
    kept = (TIME < 50.0) | (TIME > 50.4)
    speed = np.where((TIME > 49.5) & (TIME < 50.9), 30.0, 15.0)
    edge = int(np.flatnonzero(np.diff(TIME[kept]) > 0.15)[0])
    before, after = (float(value) for value in TIME[kept][edge : edge + 2])
    held = Recording(
        time=TIME[kept],
        channels={"ground_speed": speed[kept]},
        gaps=(Gap(start=before, end=after),),
        step=0.1,
    )
    found = peak(held, "ground_speed")
    assert found is not None
    assert found < 24.0


def test_charge_is_counted_or_integrated_without_the_gaps() -> None:
    """3 A for 99.9 s; with ten seconds missing thirty coulombs less; a counter goes first."""
    current = np.full(TIME.size, 3.0)
    assert integrated(recording(current=current)) == pytest.approx(299.7)
    kept = (TIME < 20.0) | (TIME > 30.0)
    gappy = Recording(
        time=TIME[kept],
        channels={"current": current[kept]},
        gaps=(Gap(start=19.9, end=30.1),),
        step=0.1,
    )
    assert integrated(gappy) == pytest.approx(269.1, abs=0.01)
    both = recording(current=current, charge_used=3.2 * TIME)
    assert counted(both) == pytest.approx(319.68)
    assert charge(both) == pytest.approx(319.68)
    assert charge(recording(height=TIME)) is None


def test_everything_that_was_recorded_is_read() -> None:
    """By name, with a spread, in SI."""
    found = {
        one.name: one
        for one in readings_of(
            recording(
                ground_speed=15.0 + TIME / 10,
                current=np.full(TIME.size, 3.0),
                voltage=12.0 - TIME / 100,
                height=10.0 * np.sin(TIME / 20) + 5.0,
            )
        )
    }
    assert found["recorded_time"].value == pytest.approx(99.9)
    assert found["top_ground_speed"].value == pytest.approx(24.94, abs=0.02)
    assert found["lowest_voltage"].value == pytest.approx(11.0, abs=0.01)
    assert found["greatest_height"].value == pytest.approx(10.0, abs=0.01)
    assert found["charge_logged"].value == pytest.approx(299.7)
    assert all(one.spread > 0 for one in found.values())


def test_a_recording_of_nothing_but_time_tells_its_length() -> None:
    """And no more; a channel without values makes no peak."""
    silent = recording(ground_speed=np.full(TIME.size, np.nan))
    assert [one.name for one in readings_of(silent)] == ["recorded_time"]
    assert spread_of("ground_speed", 20.0) == 0.15

"""Runs of even rows from uneven ones."""

import numpy as np
import pytest
from tests.debrief.rates_simulator import with_holes

from foamwright.debrief.even import cut_up, even_runs, usual_step
from foamwright.debrief.outcome import Facts, Segment
from foamwright.debrief.recording import Gap, Recording
from foamwright.debrief.scene import Scene

BOTH = ("aileron", "roll_rate")


def scene(recording: Recording, *segments: Segment) -> Scene:
    """Return a scene of rates alone."""
    return Scene(
        recording=recording, facts=Facts(), wind=None, airspeed=None, segments=tuple(segments)
    )


def wave(time: np.ndarray, gaps: tuple[Gap, ...] = (), step: float = 0.01) -> Recording:
    """Return 2 Hz in both channels, the aileron a tenth of the rate."""
    rate = np.sin(2 * np.pi * 2.0 * time)
    return Recording(
        time=time, channels={"roll_rate": rate, "aileron": 0.1 * rate}, gaps=gaps, step=step
    )


def test_even_rows_stay_as_they_are() -> None:
    """100 Hz wanted at 100 Hz: one run, the same values."""
    log = wave(np.arange(0.0, 10.0, 0.01))
    step, (run,) = even_runs(scene(log), BOTH, finest=0.01, shortest=3.0)
    assert step == pytest.approx(0.01)
    assert run.channels["roll_rate"] == pytest.approx(log.channel("roll_rate"), abs=1e-9)


@pytest.mark.parametrize("hertz", [1000, 500, 200])
def test_fast_rows_are_meant_in_step(hertz: int) -> None:
    """Means over 10 ms keep wave and time: within the 0.7 % that a mean takes off at 2 Hz."""
    log = wave(np.arange(0.0, 10.0, 1 / hertz), step=1 / hertz)
    step, (run,) = even_runs(scene(log), BOTH, finest=0.01, shortest=3.0)
    assert step == pytest.approx(0.01)
    truth = np.sin(2 * np.pi * 2.0 * run.time)
    assert run.channels["roll_rate"] == pytest.approx(truth, abs=0.007)
    assert run.channels["aileron"] == pytest.approx(0.1 * truth, abs=0.0007)


def test_slow_rows_are_never_made_up() -> None:
    """A log at 25 Hz stays at 25 Hz."""
    log = wave(np.arange(0.0, 10.0, 0.04), step=0.04)
    step, (run,) = even_runs(scene(log), BOTH, finest=0.01, shortest=3.0)
    assert step == pytest.approx(0.04)
    assert run.time.size == log.time.size


def test_uneven_rows_are_read_off_lines() -> None:
    """A clock that trembles by a fifth of a step bends nothing."""
    random = np.random.default_rng(1)
    time = np.arange(0.0, 10.0, 0.01) + random.uniform(-0.001, 0.001, 1000)
    _, (run,) = even_runs(scene(wave(time)), BOTH, finest=0.01, shortest=3.0)
    inside = slice(2, -2)
    truth = np.sin(2 * np.pi * 2.0 * run.time)
    assert run.channels["roll_rate"][inside] == pytest.approx(truth[inside], abs=0.01)
    assert np.ptp(np.diff(run.time)) < 1e-9


def test_no_run_spans_a_hole() -> None:
    """Every run lies between two holes, and short ones are left out."""
    log = with_holes(wave(np.arange(0.0, 60.0, 0.01)), 0.2)
    _, runs = even_runs(scene(log), BOTH, finest=0.01, shortest=3.0)
    assert runs
    for run in runs:
        assert run.time[-1] - run.time[0] >= 2.98
        for gap in log.gaps:
            assert gap.start >= run.time[-1] - 0.011 or gap.end <= run.time[0] + 0.011


def test_a_channel_with_fewer_rows_sets_the_step() -> None:
    """An aileron in every second row makes the rows that hold both the usual ones."""
    log = wave(np.arange(0.0, 10.0, 0.01))
    log.channels["aileron"][1::2] = np.nan
    assert usual_step(log, BOTH) == pytest.approx(0.02)
    assert usual_step(log, ("roll_rate",)) == pytest.approx(0.01)
    step, (run,) = even_runs(scene(log), BOTH, finest=0.01, shortest=3.0)
    assert step == pytest.approx(0.02)
    assert np.isfinite(run.channels["aileron"]).all()


def test_a_channel_without_values_gives_no_run() -> None:
    """Nothing known, nothing read."""
    log = wave(np.arange(0.0, 10.0, 0.01))
    log.channels["aileron"][:] = np.nan
    assert even_runs(scene(log), BOTH, finest=0.01, shortest=3.0) == (float("inf"), [])


def test_what_happens_on_the_ground_is_left_out() -> None:
    """Bench and landing are moved by other things than air."""
    log = wave(np.arange(0.0, 30.0, 0.01))
    ground = (
        Segment(kind="bench", start=0.0, end=5.0),
        Segment(kind="cruise", start=5.0, end=20.0),
        Segment(kind="landing", start=20.0, end=30.0),
    )
    _, (run,) = even_runs(scene(log, *ground), BOTH, finest=0.01, shortest=3.0)
    assert run.time[0] > 5.0
    assert run.time[-1] < 20.0


@pytest.mark.parametrize(("seconds", "parts"), [(29.0, 1), (30.0, 1), (31.0, 2), (95.0, 4)])
def test_long_runs_are_cut_evenly(seconds: float, parts: int) -> None:
    """No part is longer than 30 s, no row is lost."""
    log = wave(np.arange(0.0, seconds, 0.01))
    step, (run,) = even_runs(scene(log), BOTH, finest=0.01, shortest=3.0)
    found = cut_up(run, step, 30.0)
    assert len(found) == parts
    assert sum(part.time.size for part in found) == run.time.size
    assert max(part.time.size for part in found) * step <= 30.0 + step

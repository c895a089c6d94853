"""Full throttle on the ground before the launch."""

from dataclasses import replace

import numpy as np
import pytest

from foamwright.debrief.analysis import analyse
from foamwright.debrief.outcome import Facts, Observation
from foamwright.debrief.recording import Gap, Recording
from foamwright.debrief.scene import scene_of
from foamwright.debrief.standing import read_standing


def run_up(full: tuple[float, float] = (5.0, 9.0), rolling: float = 0.2) -> Recording:
    """Return 20 s on the ground with a run-up, then 40 s of flight at full throttle."""
    time = np.asarray(np.arange(0.0, 60.0, 0.1), dtype=np.float64)
    throttle = np.where((time >= full[0]) & (time < full[1]) | (time >= 19.0), 1.0, 0.0)
    spun = 1.0 - np.exp(-np.maximum(time - full[0], 0.0) / 0.15)
    current = 0.3 + 12.0 * throttle * np.where(time < 19.0, spun, 0.8)
    channels = {
        "ground_speed": np.where(time < 20.0, rolling, 14.0),
        "course": np.zeros(time.size),
        "height": np.where(time < 20.0, 0.0, 30.0),
        "throttle": throttle,
        "current": current,
        "voltage": 12.4 - 0.05 * current,
        "rotation_speed": 150.0 * throttle,
    }
    return Recording(time=time, channels=channels, step=0.1)


def told(log: Recording) -> dict[str, Observation]:
    """Return the observations of a log by name."""
    return {one.name: one for one in read_standing(scene_of(log, Facts())[0]).observations}


def test_a_run_up_is_a_bench_reading() -> None:
    """Current, voltage and propeller speed are those after the motor has run up."""
    seen = told(run_up())
    assert seen["static_current"].value == pytest.approx(12.3, rel=0.005)
    assert seen["static_voltage"].value == pytest.approx(12.4 - 0.05 * 12.3, rel=0.002)
    assert seen["static_rotation_speed"].value == pytest.approx(150.0)
    assert {one.segment for one in seen.values()} == {"bench at 5 s"}
    assert seen["static_current"].sd == pytest.approx(0.05 * 12.3, rel=0.01)


def test_it_reaches_the_analysis() -> None:
    """The observations become figures with a band and words."""
    found = analyse(run_up(), Facts())
    labels = {one.name: one.label for one in found.figures}
    assert "standing still" in labels["static_current"]
    assert "static_current" in {one.name for one in found.observations}


def test_the_throw_is_no_bench() -> None:
    """Full throttle from the second before it flies is not read."""
    assert told(run_up((15.0, 15.0))) == {}


@pytest.mark.parametrize("full", [(5.0, 6.0), (5.0, 6.5)])
def test_a_blip_is_not_read(full: tuple[float, float]) -> None:
    """Shorter than 1.7 s nothing has settled."""
    assert told(run_up(full)) == {}


def test_a_taxi_is_not_standing() -> None:
    """At 2 m/s over the ground the propeller flies."""
    assert told(run_up(rolling=2.0)) == {}


@pytest.mark.parametrize("missing", ["throttle", "ground_speed"])
def test_without_throttle_or_speed_nothing_is_said(missing: str) -> None:
    """Nobody knows then whether it was full, or standing."""
    whole = run_up()
    channels = {name: v for name, v in whole.channels.items() if name != missing}
    assert told(replace(whole, channels=channels)) == {}


def test_what_was_not_logged_is_left_out() -> None:
    """Without a current the voltage alone is told."""
    whole = run_up()
    channels = {n: v for n, v in whole.channels.items() if n in ("throttle", "ground_speed")}
    log = replace(whole, channels={**channels, "voltage": whole.channel("voltage")})
    assert set(told(log)) == {"static_voltage"}


def test_a_hole_ends_a_run_up() -> None:
    """A run-up of 4 s with a hole after 1.5 s is two, and the longer one is read."""
    whole = run_up()
    kept = (whole.time < 6.5) | (whole.time > 7.15)
    log = Recording(
        time=whole.time[kept],
        channels={name: values[kept] for name, values in whole.channels.items()},
        gaps=(Gap(start=6.4, end=7.19),),
        step=0.1,
    )
    assert told(log)["static_current"].segment == "bench at 7 s"

"""A flight by the second."""

from dataclasses import replace

import numpy as np
import pytest
from tests.debrief.simulator import DENSITY, MASS, circles, fly, with_holes

from foamwright.debrief.by_second import AROUND, Seconds, seconds_of_flight, window
from foamwright.debrief.outcome import Facts
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import scene_of


def seconds(log: Recording) -> Seconds | None:
    """Return a log by the second."""
    return seconds_of_flight(scene_of(log, Facts(mass=MASS, air_density=DENSITY, cells=3))[0])


def test_energy_height_is_height_and_speed() -> None:
    """The means of a second: height and half the square of the speed over gravity."""
    log = fly(replace(circles(100), gust=0.0))
    found = seconds(log)
    assert found is not None
    height = log.channel("height").mean()
    assert found.energy.mean() == pytest.approx(
        height + float(np.mean(found.speed**2)) / 2.0 / 9.80665, abs=0.5
    )
    power = log.channel("current") * log.channel("voltage")
    assert found.power.mean() == pytest.approx(power.mean(), rel=0.02)
    assert found.running.all()


def test_the_load_is_that_of_the_turn() -> None:
    """Circles of 25 s at about 15.5 m/s: the heading turns as the load says."""
    found = seconds(fly(replace(circles(100), gust=0.0)))
    assert found is not None
    load = np.hypot(1.0, found.speed * 2.0 * np.pi / 25.0 / 9.80665)
    assert np.median(found.load) == pytest.approx(np.median(load), rel=0.05)
    turned = np.unwrap(found.heading)
    assert (turned[40] - turned[5]) / 35.0 == pytest.approx(-2.0 * np.pi / 25.0, rel=0.1)


def test_holes_cut_stretches() -> None:
    """A stretch with a hole is two; each is at least eight seconds long."""
    whole, holed = (seconds(log) for log in (fly(circles(200)), with_holes(fly(circles(200)), 0.1)))
    assert whole is not None
    assert holed is not None
    assert np.unique(holed.stretch).size > np.unique(whole.stretch).size
    assert min(np.bincount(holed.stretch.astype(int))) >= 8


@pytest.mark.parametrize("missing", ["height", "current", "voltage", "throttle"])
def test_a_channel_that_lacks_leaves_none(missing: str) -> None:
    """Nothing is made up for it."""
    log = fly(circles(60))
    channels = {name: values for name, values in log.channels.items() if name != missing}
    assert seconds(replace(log, channels=channels)) is None


def test_the_window_takes_means() -> None:
    """Of the seconds around each, fewer at the ends; a constant stays what it is."""
    assert window(20, AROUND) @ np.full(20, 7.0) == pytest.approx(np.full(20, 7.0))
    line = window(30, AROUND) @ np.arange(30.0)
    assert line[AROUND:-AROUND] == pytest.approx(np.arange(30.0)[AROUND:-AROUND])
    assert line[0] == pytest.approx(np.arange(AROUND + 1).mean())

"""Top speed and glide of an aeroplane whose drag is known."""

import numpy as np
import pytest
from tests.debrief.simulator import AREA, DENSITY, GRAVITY, INDUCED, MASS, Plan, circles, fly

from foamwright.debrief.outcome import Facts
from foamwright.debrief.polar import drag_area, glide_ratio, read_polar, top_speed, unread
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import scene_of
from foamwright.debrief.segments import find_segments
from foamwright.debrief.wind import airspeed, find_wind

SECONDS = 150


def flight(seed: int, last: float) -> Recording:
    """Return two and more circles, then straight on: at full throttle or gliding."""
    turning = circles(SECONDS)
    bank, throttle = turning.bank.copy(), turning.throttle.copy()
    bank[110:], throttle[115:] = 0.0, last
    return fly(Plan(throttle=throttle, bank=bank, seed=seed))


def full_speed() -> float:
    """Return the airspeed at which thrust is drag, wings level, by bisection."""
    low, high = 12.0, 33.0
    for _ in range(60):
        v = 0.5 * (low + high)
        q = 0.5 * DENSITY * v**2
        left = 12.0 * (1.0 - v / 33.0) - q * AREA - INDUCED / q
        low, high = (v, high) if left > 0 else (low, v)
    return low


def test_the_top_speed_is_that_through_the_air() -> None:
    """Over ten gusty flights it is found within 0.7 m/s, though the wind adds to the ground's."""
    found = []
    for seed in range(10):
        log = flight(seed, 1.0)
        wind, _ = find_wind(log)
        flown = airspeed(log, wind)
        assert flown is not None
        seen = {one.name: one for one in top_speed(log, flown, wind, find_segments(log, flown))}
        found.append(seen["top_speed"].value)
        assert seen["top_speed_current"].value == pytest.approx(25.3, rel=0.02)
        assert 10.0 < seen["top_speed_voltage"].value < 12.0
    assert np.median(found) == pytest.approx(full_speed(), abs=0.7)


def test_the_glide_tells_ratio_and_drag_area() -> None:
    """Over ten flights both come out within 10 % of drag at the speed they were flown at."""
    ratios, areas = [], []
    for seed in range(10):
        log = flight(seed, 0.0)
        wind, _ = find_wind(log)
        flown = airspeed(log, wind)
        assert flown is not None
        for one, speed in glide_ratio(log, flown, wind, find_segments(log, flown)):
            q = 0.5 * DENSITY * speed**2
            drag = q * AREA + INDUCED / q
            ratios.append(one.value / (MASS * GRAVITY / drag))
            area = drag_area(one, (speed, 0.5), Facts(mass=MASS))
            assert area is not None
            areas.append(area.value / (drag / q))
            assert area.sd / area.value > 1.5 / speed
            assert drag_area(one, (speed, 0.5), Facts()) is None
    assert len(ratios) >= 5
    assert np.median(ratios) == pytest.approx(1.0, abs=0.1)
    assert np.median(areas) == pytest.approx(1.0, abs=0.1)


def test_circles_show_neither() -> None:
    """Without a dash or a glide nothing is read."""
    log = fly(circles(60))
    wind, _ = find_wind(log)
    flown = airspeed(log, wind)
    assert flown is not None
    cut = find_segments(log, flown)
    assert top_speed(log, flown, wind, cut) == ()
    assert glide_ratio(log, flown, wind, cut) == ()


def test_a_dive_is_no_top_speed() -> None:
    """A full throttle stretch that sinks by more than a tenth of its speed is left out."""
    time = np.arange(0.0, 60.0, 0.1)
    speed = np.full(time.size, 30.0)
    channels = {
        "ground_speed": speed,
        "throttle": np.where(time > 50.0, 1.0, 0.5),
        "height": 300 - 5 * time,
    }
    dive = Recording(time=time, channels=channels)
    assert top_speed(dive, speed, None, find_segments(dive, speed)) == ()
    level = Recording(time=time, channels={**channels, "height": np.full(time.size, 80.0)})
    assert top_speed(level, speed, None, find_segments(level, speed))[0].value == 30.0


@pytest.mark.parametrize(
    ("without", "speed", "glide"),
    [
        (("throttle",), "tells no throttle", "tells no throttle"),
        (("height",), "no level full throttle", "tells no height"),
        (("throttle", "height"), "tells no throttle", "tells no throttle and no height"),
        ((), "no level full throttle", "no settled throttle-off"),
    ],
)
def test_why_nothing_was_read_is_what_the_log_lacks(
    without: tuple[str, ...], speed: str, glide: str
) -> None:
    """A log without throttle has no dash; that is said, and no hole is blamed."""
    log = flight(0, 0.5)
    kept = {name: one for name, one in log.channels.items() if name not in without}
    bare = Recording(time=log.time, channels=kept, step=log.step)
    said = unread(bare, fast=False, glides=False)
    assert speed in said[0]
    assert glide in said[1]
    assert read_polar(scene_of(bare, Facts())[0]).not_said == said
    assert unread(bare, fast=True, glides=True) == ()

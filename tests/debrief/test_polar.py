"""Top speed and glide of an aeroplane whose drag is known."""

import numpy as np
import pytest
from tests.debrief.simulator import AREA, DENSITY, GRAVITY, INDUCED, MASS, Plan, circles, fly

from foamwright.debrief.outcome import Facts
from foamwright.debrief.polar import (
    UNTOLD,
    drag_area,
    glide_ratio,
    levelness,
    read_polar,
    top_speed,
    unread,
)
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
        assert wind is not None
        assert flown is not None
        for one, speed, off in glide_ratio(log, flown, wind, find_segments(log, flown)):
            assert 0.0 < off <= 1.001 * wind.sd
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


def dash(**channels: np.ndarray) -> Recording:
    """Return a minute at 30 m/s, full throttle in its last ten seconds, and nothing of height."""
    time = np.arange(0.0, 60.0, 0.1)
    held = {"ground_speed": np.full(time.size, 30.0), "airspeed": np.full(time.size, 30.0)}
    throttle = np.where(time > 50.0, 1.0, 0.5)
    return Recording(time=time, channels={**held, "throttle": throttle, **channels}, step=0.1)


ROWS = 600


def test_a_dash_nobody_knows_to_be_level_teaches_no_top_speed() -> None:
    """It is told as no more than it is, without its current, and what to log is named."""
    log = dash(current=np.full(ROWS, 9.0))
    found = read_polar(scene_of(log, Facts())[0])
    assert found.observations == ()
    (figure,) = found.figures
    assert figure.name == "full_throttle_speed"
    assert figure.value == pytest.approx(30.0)
    assert "level or not" in figure.label
    assert found.not_said[0] == UNTOLD
    assert "log one of them" in UNTOLD
    assert levelness(log) == ""


@pytest.mark.parametrize(
    ("name", "level", "steep"),
    [("height", 0.0, -5.0), ("climb_rate", 0.0, -5.0), ("pitch", 0.0, np.radians(-12.0))],
)
def test_any_of_three_channels_tells_a_dash_from_a_dive(
    name: str, level: float, steep: float
) -> None:
    """Height, climb or nose; 5 m/s down at 30, or the nose 12 degrees lower than in cruise."""
    for value, flat in ((level, True), (steep, False)):
        full = np.maximum(np.arange(ROWS) * 0.1 - 50.0, 0.0)
        told = 80.0 + value * full if name == "height" else np.where(full > 0.0, value, 0.0)
        log = dash(**{name: told})
        assert levelness(log) == name
        found = read_polar(scene_of(log, Facts())[0])
        assert ([one.name for one in found.observations] == ["top_speed"]) == flat
        assert found.figures == ()
        assert any("no level full throttle" in said for said in found.not_said) != flat


def test_what_the_nose_alone_calls_level_is_less_sure() -> None:
    """A sensor that sits five degrees off is off in cruise as well; the band holds three more."""
    nose = np.full(ROWS, np.radians(5.0))
    tops = []
    for channels in ({"pitch": nose}, {"pitch": nose, "climb_rate": np.zeros(ROWS)}):
        (top,) = read_polar(scene_of(dash(**channels), Facts())[0]).observations
        tops.append(top)
    assert tops[0].value == tops[1].value
    assert np.sqrt(tops[0].sd ** 2 - tops[1].sd ** 2) == pytest.approx(0.05 * 30.0, rel=1e-6)


def test_a_height_lost_in_the_dash_tells_nothing_of_it() -> None:
    """Logged elsewhere, not there: no guess is made, and the nose is not asked instead."""
    gone = np.where(np.arange(ROWS) > 495, np.nan, 80.0)
    log = dash(height=gone, pitch=np.zeros(ROWS))
    found = read_polar(scene_of(log, Facts())[0])
    assert found.observations == ()
    assert "no level full throttle stretch" in found.not_said[0]


@pytest.mark.filterwarnings("error")
def test_a_dash_without_airspeed_is_passed_over_in_silence() -> None:
    """Level by its height, but its airspeed was never told: no top speed, and no warning."""
    log = dash(height=np.full(ROWS, 80.0))
    flown = log.channel("airspeed").copy()
    segments = find_segments(log, flown)
    assert any(segment.kind == "dash" for segment in segments)
    assert top_speed(log, flown, None, segments) != ()
    flown[480:] = np.nan
    assert top_speed(log, flown, None, segments) == ()


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

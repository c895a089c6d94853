"""Positions and a pitot of known faults."""

from dataclasses import replace

import numpy as np
import pytest
from tests.debrief.simulator import Plan, circles, fly

from foamwright.debrief.air_data import poor_fixes, read_fixes, read_pitot
from foamwright.debrief.outcome import Facts
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene, scene_of

WIND = (3.0, -2.0)


def scene(log: Recording, density: float = 1.225, **channels: np.ndarray) -> Scene:
    """Return the scene of a recording with more channels."""
    more = replace(log, channels={**log.channels, **channels})
    return scene_of(more, Facts(air_density=density))[0]


def pitot(log: Recording, scale: float, density: float = 1.225) -> np.ndarray:
    """Return what a pitot shows: the true airspeed by the known wind, its dynamic pressure taken
    as if the air had the density of the standard atmosphere (ISO 2533)."""
    speed, course = log.channel("ground_speed"), log.channel("course")
    true = np.hypot(speed * np.cos(course) - WIND[0], speed * np.sin(course) - WIND[1])
    noise = np.random.default_rng(8).normal(0.0, 0.4, true.size)
    return np.asarray(scale * true * np.sqrt(density / 1.225) + noise)


@pytest.mark.parametrize("scale", [0.85, 1.0, 1.08])
def test_the_scale_of_a_pitot_is_found(scale: float) -> None:
    """Within 3 % in gusts; 8 % high and 15 % low are findings, a right one is none."""
    log = fly(circles(150))
    told = read_pitot(scene(log, airspeed=pitot(log, scale)))
    (figure,) = told.figures
    assert figure.value == pytest.approx(scale, abs=0.03)
    assert figure.low < scale < figure.high
    words = [one.what for one in told.findings]
    assert words == ([] if scale == 1.0 else [words[0]])
    if words:
        assert ("high" if scale > 1.0 else "low") in words[0]


def test_thin_air_is_not_a_wrong_pitot() -> None:
    """At 0.95 kg/m3 it reads 12 % below the true airspeed, and rightly so."""
    log = fly(circles(150))
    told = read_pitot(scene(log, density=0.95, airspeed=pitot(log, 1.0, 0.95)))
    assert told.figures[0].value == pytest.approx(1.0, abs=0.03)
    assert told.findings == ()


def test_eight_in_ten_bands_hold_the_scale() -> None:
    """Of 60 flights in other gusts, 42 to 57 do."""
    held = 0
    for seed in range(60):
        log = fly(circles(120, seed=seed))
        (told,) = read_pitot(scene(log, airspeed=pitot_true(seed, 1.05))).figures
        held += told.low < 1.05 < told.high
    assert 42 <= held <= 57


def pitot_true(seed: int, scale: float) -> np.ndarray:
    """Return a pitot's airspeed of a flight in the same air without its gusts."""
    still = fly(replace(circles(120, seed=seed), gust=0.0))
    return pitot(still, scale)


def test_a_pitot_without_the_wind_is_not_judged() -> None:
    """A straight flight tells no wind: said; nor do a few rows of airspeed."""
    straight = fly(Plan(throttle=np.full(60, 0.8), bank=np.zeros(60)))
    told = read_pitot(scene(straight, airspeed=np.full(straight.time.size, 15.0)))
    assert "needs the wind" in told.not_said[0]
    log = fly(circles(100))
    few = np.full(log.time.size, np.nan)
    few[:50] = 15.0
    assert "too few rows" in read_pitot(scene(log, airspeed=few)).not_said[0]
    assert read_pitot(scene(log)).not_said == ()


def test_good_positions_are_a_figure_and_no_word() -> None:
    """Twelve satellites all the way."""
    log = fly(circles(100))
    told = read_fixes(scene(log, satellites=np.full(log.time.size, 12.0)))
    assert told.figures[0].value == 0.0
    assert told.findings == ()
    assert read_fixes(scene(log)).figures == ()


def test_poor_positions_are_told_with_what_they_do_to_the_wind() -> None:
    """Where speeds run 30 % high while few satellites are seen, the wind without them differs."""
    log = fly(circles(150))
    poor = (log.time > 60.0) & (log.time < 72.0)
    speed = np.where(poor, 1.3 * log.channel("ground_speed"), log.channel("ground_speed"))
    sats = np.where(poor, 5.0, 13.0)
    told = read_fixes(scene(log, satellites=sats, ground_speed=speed))
    assert told.figures[0].value == pytest.approx(12.0 / 150.0, abs=0.01)
    (found,) = told.findings
    assert "8 % of it; without those rows the wind is" in found.because
    assert "band" in found.because


def test_a_wind_that_hangs_on_poor_rows_is_said() -> None:
    """Circles flown with five satellites, straights with twelve: nothing is left to fit."""
    turning = circles(100)
    bank = turning.bank.copy()
    bank[60:] = 0.0
    log = fly(replace(turning, bank=bank))
    found = read_fixes(scene(log, satellites=np.where(log.time < 62.0, 5.0, 12.0))).findings
    assert "hangs on them" in found[0].because


def test_either_sign_makes_a_position_poor() -> None:
    """Few satellites, or a large error that the receiver owns to; a gap of both is not poor."""
    channels = {
        "satellites": np.array([12.0, 5.0, 12.0, np.nan]),
        "position_error": np.array([1.0, 1.0, 9.0, np.nan]),
    }
    log = Recording(time=np.arange(4.0), channels=channels)
    found = poor_fixes(log)
    assert found is not None
    assert found.tolist() == [False, True, True, False]
    assert poor_fixes(Recording(time=np.arange(4.0), channels={})) is None

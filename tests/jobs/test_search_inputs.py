"""The wind as typed or logged, the glide as the model has it."""

import numpy as np
import pytest
from tests.debrief.lost_planes import lose
from tests.jobs.lost_log import EXAMPLES

from foamwright.jobs.ask import Settings, opened
from foamwright.jobs.search_inputs import air_of, glider_of, typed_wind
from foamwright.problems import CallProblem


@pytest.mark.parametrize(
    ("text", "north", "east"),
    [
        ("4 m/s from 90", 0.0, -4.0),
        ("4 m/s from E", 0.0, -4.0),
        ("10 km/h from 180 deg", 2.778, 0.0),
        ("3 m/s from 0°", -3.0, 0.0),
        ("10 mph from NW", -3.161, 3.161),
        ("0 m/s from 250", 0.0, 0.0),
    ],
)
def test_a_wind_blows_from_where_it_says(text: str, north: float, east: float) -> None:
    """In any unit, by degrees or points of the compass."""
    air = typed_wind(text)
    assert (air.north, air.east) == pytest.approx((north, east), abs=2e-3)
    assert air.spread == 1.5


def test_a_written_spread_is_kept() -> None:
    """Of either part."""
    assert typed_wind("4 ± 0.5 m/s from 90").spread == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("4 from 90", "has no unit"),
        ("4 m/s", "is no wind"),
        ("4 m/s from up", "no point of the compass 'UP'"),
        ("4 m/s from 400", "more than a circle"),
        ("4 kg from 90", "is no speed"),
        ("-4 m/s from 90", "--wind"),
        ("", "is no wind"),
    ],
)
def test_what_is_no_wind_is_told_with_an_example(text: str, told: str) -> None:
    """One sentence, and what would be right."""
    with pytest.raises(CallProblem, match="4 m/s from 250") as raised:
        typed_wind(text)
    assert told in str(raised.value)


def test_the_wind_of_the_log_is_wider_than_its_fit() -> None:
    """It may have changed; a log without circles has a wide wind from anywhere, and says so."""
    lost = lose(0)
    air, words = air_of(lost.recording, None)
    assert (air.north, air.east) == pytest.approx(lost.wind, abs=1.0)
    assert air.spread >= 1.0
    assert "the log shows" in words
    end = float(lost.recording.time[-1])
    air, words = air_of(lost.recording.between(end - 3.0, end), None)
    assert (air.north, air.east, air.spread) == (0.0, 0.0, 3.0)
    assert "say it with --wind" in words
    assert "circles next time" not in words
    assert "up to 6.00 m/s from anywhere" in words
    assert "mph" in air_of(lost.recording.between(end - 3.0, end), None, "imperial")[1]


def test_the_plane_glides_as_its_answers_say() -> None:
    """The same best glide ratio as in slow flight, within the steps of the speeds."""
    _, case = opened(EXAMPLES / "reedling", Settings(samples=64))
    glider, words = glider_of(case.computed, np.random.default_rng(1))
    slow = case.computed.slow_flight
    which = np.arange(glider.best.size)
    assert glider.at(which, slow.glide_speed) == pytest.approx(slow.glide_ratio, rel=0.02)
    assert np.median(glider.best_ratio) == pytest.approx(np.median(slow.glide_ratio), rel=0.05)
    assert "its model" in words

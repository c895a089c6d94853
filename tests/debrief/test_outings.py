"""Several flights in one log."""

import numpy as np
import pytest

from foamwright.debrief.analysis import analyse
from foamwright.debrief.outcome import Facts
from foamwright.debrief.outings import rests, told_apart
from foamwright.debrief.recording import Recording

STEP = 0.1


def log(*parts: tuple[float, float], throttle: float | None = None) -> Recording:
    """Return a log of parts, each some seconds at a ground speed; the throttle when standing."""
    speed = np.concatenate([np.full(round(seconds / STEP), held) for seconds, held in parts])
    channels = {"ground_speed": speed, "course": np.zeros(speed.size)}
    if throttle is not None:
        channels["throttle"] = np.where(speed > 4.0, 0.6, throttle)
    time = np.asarray(50.0 + STEP * np.arange(speed.size), dtype=np.float64)
    return Recording(time=time, channels=channels, step=STEP)


def test_a_rest_between_two_flights_is_told_with_its_times() -> None:
    """Up for 100 s, down for 60 s, up again: two flights, told from the first row on."""
    recording = log((10, 0.1), (100, 14.0), (60, 0.2), (90, 13.0), (20, 0.0), throttle=0.0)
    (rest,) = rests(recording)
    assert rest == pytest.approx((110.0, 169.9), abs=0.05)
    (words,) = told_apart(recording)
    assert words.startswith("each flight alone: the log holds 2, with a rest from 110 s to 170 s")
    assert words in analyse(recording, Facts()).not_said


def test_three_flights_have_two_rests() -> None:
    """Both are named."""
    recording = log((50, 14.0), (30, 0.0), (50, 14.0), (40, 0.0), (50, 14.0))
    assert len(rests(recording)) == 2
    assert "holds 3, with a rest from 50 s to 80 s, 130 s to 170 s" in told_apart(recording)[0]


@pytest.mark.parametrize(
    "parts",
    [
        ((60, 0.0), (100, 14.0), (60, 0.0)),
        ((100, 14.0), (15, 0.2), (100, 14.0)),
        ((100, 14.0), (60, 2.0), (100, 14.0)),
        ((100, 14.0), (60, 0.0), (10, 6.0), (30, 0.0)),
        ((10, 6.0), (60, 0.0), (100, 14.0)),
        ((100, 14.0),),
        ((60, 0.0),),
    ],
)
def test_what_is_one_flight_is_not_called_two(parts: tuple[tuple[float, float], ...]) -> None:
    """Waiting before and after, a short touch, hanging in a wind, and being carried about."""
    assert rests(log(*parts)) == ()
    assert told_apart(log(*parts)) == ()


def test_hanging_against_the_wind_under_power_is_flying() -> None:
    """As fast as the wind it stands over the ground for half a minute, with its motor on."""
    parts = ((60, 14.0), (30, 0.3), (60, 14.0))
    assert rests(log(*parts, throttle=0.4)) == ()
    assert len(rests(log(*parts, throttle=0.0))) == 1


def test_a_hole_is_no_rest_and_breaks_none() -> None:
    """Rows lost in flight are not a landing; rows lost on the ground do not part the rest."""
    recording = log((60, 14.0), (30, np.nan), (60, 14.0))
    assert rests(recording) == ()
    assert len(rests(log((60, 14.0), (15, 0.0), (3, np.nan), (15, 0.0), (60, 14.0)))) == 1


def test_without_a_speed_over_the_ground_nothing_is_said() -> None:
    """A log of voltage alone."""
    time = np.arange(0.0, 60.0, STEP)
    assert rests(Recording(time=time, channels={"voltage": np.full(time.size, 12.0)})) == ()

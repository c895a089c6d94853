"""Gusts that are known, and what is left of them."""

import numpy as np
import pytest
from scipy.signal import lfilter

from foamwright.debrief.gusts import (
    USUAL,
    Gusts,
    clipped,
    covariance_of_means,
    drawn_in,
    gusts_in,
    left_in_mean,
    left_in_slope,
    likeliest,
    seconds_of,
)
from foamwright.debrief.outcome import Segment
from foamwright.debrief.recording import Recording

STEP = 0.2


def blown(strength: float, time: float, seconds: float, seed: int) -> np.ndarray:
    """Return first-order noise at five rows a second."""
    random, size = np.random.default_rng(seed), round(seconds / STEP)
    share = np.exp(-STEP / time)
    noise = random.normal(size=size) * strength
    noise[1:] *= np.sqrt(1.0 - share**2)
    return np.asarray(lfilter([1.0], [1.0, -share], noise), dtype=np.float64)


def clock(seconds: float) -> np.ndarray:
    """Return the time of the rows."""
    return np.asarray(np.arange(round(seconds / STEP)) * STEP, dtype=np.float64)


def by_second(strength: float, time: float, seconds: float, seed: int) -> np.ndarray:
    """Return means over a second of such noise."""
    rows = blown(strength, time, seconds, seed).reshape(-1, round(1.0 / STEP))
    return np.asarray(rows.mean(axis=1), dtype=np.float64)


@pytest.mark.parametrize("time", [1.5, 2.5, 5.0])
@pytest.mark.parametrize("strength", [0.3, 1.2])
def test_strength_and_time_are_read_off_a_long_flight(strength: float, time: float) -> None:
    """Over twenty flights of 400 s strength comes out within 15 %, and within 30 % strength times
    the root of the time, which is what counts in a mean."""
    straight = np.zeros(40)
    found = [
        likeliest([(part, straight) for part in pieces])
        for pieces in (by_second(strength, time, 400.0, k).reshape(10, 40) for k in range(20))
    ]
    assert np.median([one.strength for one in found]) == pytest.approx(strength, rel=0.15)
    counts = [one.strength * np.sqrt(one.time) for one in found]
    assert np.median(counts) == pytest.approx(strength * np.sqrt(time), rel=0.3)


def test_a_short_flight_leaves_them_near_the_usual() -> None:
    """Ten seconds move strength and time by less than a third of what they are off."""
    found = [likeliest([(by_second(2.4, 6.0, 10.0, k), np.zeros(10))]) for k in range(40)]
    assert USUAL.time < np.median([one.time for one in found]) < 4.0
    assert USUAL.strength < np.median([one.strength for one in found]) < 2.4


def test_a_turn_does_not_make_gusts_hasty() -> None:
    """On circles of 20 s, 18 degrees a second, the time is that of the air, not of the turn."""
    heading = np.radians(18.0) * np.arange(40)
    found = []
    for seed in range(30):
        along, across = (by_second(0.8, 2.5, 400.0, 1000 * k + seed) for k in (1, 2))
        felt = (along.reshape(10, 40) * np.cos(heading)) + across.reshape(10, 40) * np.sin(heading)
        found.append(likeliest([(part, heading) for part in felt]))
    assert np.median([one.strength for one in found]) == pytest.approx(0.8, rel=0.12)
    assert np.median([one.time for one in found]) == pytest.approx(2.5, rel=0.2)


@pytest.mark.parametrize("time", [1.0, 4.0])
def test_the_covariance_of_means_is_that_of_the_noise(time: float) -> None:
    """As ten thousand pieces of noise have it, within 0.03 of the variance of one."""
    pieces = np.concatenate([by_second(1.0, time, 1000.0, k).reshape(-1, 5) for k in range(50)])
    expected = covariance_of_means(np.zeros(5), time)
    assert np.cov(pieces.T) == pytest.approx(expected, abs=0.04)
    turned = covariance_of_means(np.radians([0.0, 90.0, 180.0, 270.0, 360.0]), time)
    assert turned[0, 1] == pytest.approx(0.0, abs=1e-12)
    assert turned[0, 2] == pytest.approx(-expected[0, 2])


@pytest.mark.parametrize("seconds", [5.0, 20.0, 100.0])
@pytest.mark.parametrize("time", [1.0, 4.0])
def test_what_is_left_in_a_mean(seconds: float, time: float) -> None:
    """As the scatter of two thousand means says it, within 6 %."""
    means = [blown(1.0, time, seconds, k).mean() for k in range(2000)]
    assert left_in_mean(Gusts(strength=1.0, time=time), seconds) == pytest.approx(
        np.std(means), rel=0.06
    )


def test_what_is_left_in_a_slope() -> None:
    """As the scatter of two thousand straight lines says it, within 6 %."""
    at = clock(20.0)
    slopes = [np.polyfit(at, blown(1.0, 2.0, 20.0, k), 1)[0] for k in range(2000)]
    assert left_in_slope(Gusts(strength=1.0, time=2.0), at) == pytest.approx(
        np.std(slopes), rel=0.06
    )


def test_an_airspeed_tells_its_gusts_in_spite_of_what_the_pilot_does() -> None:
    """Strength times the root of the time, what counts in a mean, though the airspeed drifts by
    three times the gusts: within a quarter."""
    found = []
    at = clock(120.0)
    parts = tuple(Segment(kind="turn", start=40.0 * n, end=40.0 * n + 39.0) for n in range(3))
    log = Recording(time=at, channels={}, step=STEP)
    for seed in range(30):
        flown = 15.0 + 2.4 * np.sin(at / 19.0) + blown(0.8, 2.5, 120.0, seed)
        told = gusts_in(log, flown, parts)
        found.append(told.strength * np.sqrt(told.time))
    assert 0.75 < np.median(found) / (0.8 * np.sqrt(2.5)) < 1.25


def test_without_steady_flight_the_usual_gusts_are_taken() -> None:
    """No airspeed, no segment, or short ones only."""
    log = Recording(time=clock(60.0), channels={}, step=STEP)
    flown = np.full(300, 15.0)
    assert gusts_in(log, None, ()) is USUAL
    assert gusts_in(log, flown, ()) is USUAL
    assert gusts_in(log, flown, (Segment(kind="turn", start=0.0, end=9.0),)) is USUAL
    assert gusts_in(log, flown, (Segment(kind="dash", start=0.0, end=50.0),)) is USUAL


def test_means_over_a_second_refuse_holes() -> None:
    """A whole second missing leaves no piece; a value missing here and there does no harm."""
    at = clock(30.0)
    assert seconds_of(at, np.floor(at)) == pytest.approx(np.arange(30.0))
    holed = np.concatenate([at[:50], at[100:]])
    assert seconds_of(holed, np.ones(holed.size)).size == 0
    assert seconds_of(at[:1], np.ones(1)).size == 0
    here = np.where(np.arange(at.size) % 7 == 0, np.nan, 15.0)
    assert seconds_of(at, here) == pytest.approx(np.full(30, 15.0))


def test_what_changes_slowly_is_no_gust() -> None:
    """An airspeed that drifts by 2 m/s in two minutes is not taken for gusts of 0.5 m/s."""
    at = clock(200.0)
    log = Recording(time=at, channels={}, step=STEP)
    parts = (Segment(kind="cruise", start=0.0, end=199.0),)
    found = []
    for seed in range(20):
        flown = 15.0 + 2.0 * np.sin(at / 20.0) + blown(0.5, 2.0, 200.0, seed)
        found.append(gusts_in(log, flown, parts).strength)
    assert 0.4 < np.median(found) < 0.65


def test_what_is_far_out_is_drawn_in() -> None:
    """A row ten times as far out as all others does not rule."""
    values = np.concatenate([np.tile([1.0, -1.0], 50), [50.0]])
    assert clipped(values).max() == pytest.approx(3.0 * 1.4826)
    smooth = 14.0 + np.linspace(0.0, 1.0, 30) + np.tile([0.2, -0.2], 15)
    odd = smooth.copy()
    odd[12] += 30.0
    assert np.abs(drawn_in(odd) - smooth).max() < 10.0
    assert drawn_in(smooth) == pytest.approx(smooth)

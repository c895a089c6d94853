"""Gusts that are known, and what is left of them."""

import numpy as np
import pytest
from scipy.signal import lfilter

from foamwright.debrief.gusts import (
    USUAL,
    Gusts,
    around,
    change_of_means,
    clipped,
    flattened,
    gusts_in,
    gusts_of,
    left_in_mean,
    left_in_slope,
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


def seen(residual: np.ndarray, seconds: float) -> Gusts:
    """Return the gusts of residuals, the mean over 30 s taken out as the wind fit does."""
    at = clock(seconds)
    return gusts_of(residual - around(residual, at, 30.0), at, STEP, 30.0)


def clock(seconds: float) -> np.ndarray:
    """Return the time of the rows."""
    return np.asarray(np.arange(round(seconds / STEP)) * STEP, dtype=np.float64)


@pytest.mark.parametrize("time", [1.0, 2.5, 5.0])
@pytest.mark.parametrize("strength", [0.3, 1.2])
def test_the_correlation_time_is_read_off_the_residuals(strength: float, time: float) -> None:
    """Over twenty flights of 200 s strength and time come out within a quarter."""
    found = [seen(blown(strength, time, 200.0, k), 200.0) for k in range(20)]
    assert np.median([one.strength for one in found]) == pytest.approx(strength, rel=0.15)
    assert np.median([one.time for one in found]) == pytest.approx(time, rel=0.25)


def test_a_short_series_is_not_taken_for_a_hasty_one() -> None:
    """Of 50 s the time comes out no lower than two thirds of what it is."""
    found = [seen(blown(0.8, 2.5, 50.0, k), 50.0).time for k in range(60)]
    assert 0.66 * 2.5 < np.median(found) < 1.25 * 2.5


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


@pytest.mark.parametrize("lag", [1, 6])
def test_the_change_of_means_is_that_of_the_noise(lag: int) -> None:
    """Means over a second change from one to a later one as the formula says, within 8 %."""
    changes = []
    for k in range(200):
        means = blown(1.0, 2.5, 100.0, k).reshape(-1, 5).mean(axis=1)
        changes.append(np.mean((means[lag:] - means[:-lag]) ** 2))
    assert change_of_means(2.5, lag) == pytest.approx(np.mean(changes), rel=0.08)


def test_an_airspeed_tells_its_gusts_in_spite_of_what_the_pilot_does() -> None:
    """Strength times the root of the time, what counts in a mean, though the airspeed drifts by
    three times the gusts: what goes with the drift makes it a third too small, no more."""
    found = []
    at = clock(120.0)
    parts = tuple(Segment(kind="turn", start=40.0 * n, end=40.0 * n + 39.0) for n in range(3))
    log = Recording(time=at, channels={}, step=STEP)
    for seed in range(30):
        flown = 15.0 + 2.4 * np.sin(at / 19.0) + blown(0.8, 2.5, 120.0, seed)
        told = gusts_in(log, flown, parts)
        found.append(told.strength * np.sqrt(told.time))
    assert 0.6 < np.median(found) / (0.8 * np.sqrt(2.5)) < 1.1


def test_without_steady_flight_the_usual_gusts_are_taken() -> None:
    """No airspeed, no segment, or short ones only."""
    log = Recording(time=clock(60.0), channels={}, step=STEP)
    flown = np.full(300, 15.0)
    assert gusts_in(log, None, ()) is USUAL
    assert gusts_in(log, flown, ()) is USUAL
    assert gusts_in(log, flown, (Segment(kind="turn", start=0.0, end=9.0),)) is USUAL
    assert gusts_in(log, flown, (Segment(kind="dash", start=0.0, end=50.0),)) is USUAL


def test_a_cubic_in_time_leaves_nothing() -> None:
    """What a pilot does slowly is taken out, holes are refused."""
    at = clock(30.0)
    assert np.abs(flattened(at, 15.0 + 0.1 * at - 0.01 * at**2)).max() < 0.01
    holed = np.concatenate([at[:50], at[100:]])
    assert flattened(holed, np.ones(holed.size)).size == 0
    assert flattened(at[:1], np.ones(1)).size == 0


def test_what_changes_slowly_is_no_gust() -> None:
    """An airspeed that drifts by 2 m/s in two minutes is not taken for gusts of 0.5 m/s."""
    drift = 2.0 * np.sin(clock(200.0) / 20.0)
    found = [seen(drift + blown(0.5, 2.0, 200.0, k), 200.0).strength for k in range(20)]
    assert 0.4 < np.median(found) < 0.8


def test_what_is_far_out_is_drawn_in() -> None:
    """A row ten times as far out as all others does not rule."""
    values = np.concatenate([np.tile([1.0, -1.0], 50), [50.0]])
    assert clipped(values).max() == pytest.approx(3.0 * 1.4826)
    assert gusts_of(np.zeros(50), clock(10.0), STEP, 30.0).time == USUAL.time

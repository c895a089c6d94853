"""How the roll answers, of loops whose truth is known."""

from dataclasses import replace

import numpy as np
import pytest
from tests.debrief.rates_simulator import Flown, Loop, fly, unstable_turn, with_holes

from foamwright.debrief.analysis import analyse
from foamwright.debrief.even import Run, even_runs
from foamwright.debrief.outcome import Facts, Share
from foamwright.debrief.recording import Recording
from foamwright.debrief.response import (
    CHANNELS,
    asked,
    busiest,
    identify,
    read_response,
    speed_of,
)
from foamwright.debrief.scene import Scene

HALF = replace(Loop(gust=0.25, memory=0.5), turn=0.5 * unstable_turn(Loop()))
"""Six decibels from wobbling, gusts of 14 degrees a second."""
SEEDS = 20


def scene(recording: Recording, airspeed: float | None = None) -> Scene:
    """Return a scene of rates, at one airspeed."""
    known = None if airspeed is None else np.full(recording.time.size, airspeed)
    return Scene(recording=recording, facts=Facts(), wind=None, airspeed=known, segments=())


def told(share: Share) -> dict[str, float]:
    """Return what was read, by name."""
    figures = {one.name: one.value for one in share.figures}
    return {**figures, **{one.name: one.value for one in share.observations}}


@pytest.fixture(scope="module")
def flown() -> Flown:
    """Return 30 s of one stabilised aeroplane, many times."""
    return fly(HALF, 30.0, SEEDS, start=9)


@pytest.mark.parametrize(
    ("hertz", "mean", "worst"),
    [(1000, False, 0.006), (100, False, 0.006), (100, True, 0.006), (50, False, 0.006),
     (50, True, 0.006), (25, False, 0.02)],
)  # fmt: skip
def test_the_lag_is_that_of_the_loop(flown: Flown, hertz: int, worst: float, *, mean: bool) -> None:
    """98 ms are found in every seed within 10 ms (25 Hz: 20 ms), rows picked or meant."""
    found = [told(read_response(scene(flown.at(hertz, n, mean=mean)))) for n in range(SEEDS)]
    lags = np.array([one["roll_lag"] for one in found])
    assert np.abs(lags - HALF.lag).max() < max(worst, 0.010)
    assert lags.mean() == pytest.approx(HALF.lag, abs=worst)


@pytest.mark.parametrize("hertz", [1000, 100, 50])
def test_the_gain_is_that_of_the_plane(flown: Flown, hertz: int) -> None:
    """900 degrees a second for full aileron on average within 3 %, 9 of 10 seeds within 5 %."""
    gains = [told(read_response(scene(flown.at(hertz, n))))["roll_gain"] for n in range(SEEDS)]
    assert np.mean(gains) == pytest.approx(HALF.gain, rel=0.03)
    assert np.mean(np.abs(np.array(gains) / HALF.gain - 1.0) < 0.05) >= 0.9


def test_the_acceleration_is_gain_over_time_constant(flown: Flown) -> None:
    """262 rad/s² are found within 10 % on average."""
    found = [told(read_response(scene(flown.at(100, n))))["roll_start"] for n in range(SEEDS)]
    assert np.mean(found) == pytest.approx(HALF.gain / HALF.roll_in, rel=0.1)


def test_the_spread_is_that_of_the_seeds(flown: Flown) -> None:
    """Gain and lag miss by about the one sigma that the fit tells: mean square near one."""
    missed = []
    for number in range(SEEDS):
        step, runs = even_runs(scene(flown.at(100, number)), CHANNELS, finest=0.02, shortest=4.0)
        found = identify(runs, step)
        assert found is not None
        missed.append(
            (
                (found.gain[0] - HALF.gain) / found.gain[1],
                (found.lag[0] - HALF.lag) / found.lag[1],
            )
        )
    square = np.mean(np.square(missed), axis=0)
    assert np.all((square > 0.4) & (square < 2.0))


def test_what_a_log_may_mean_is_in_the_spread(flown: Flown) -> None:
    """Half a row of doubt and the gyro's filter: 3.5 ms at 50 Hz at least, 3 ms at 1 kHz."""
    slow, fast = (read_response(scene(flown.at(hz))).observations[0].sd for hz in (50, 1000))
    assert slow**2 > 0.003**2 + 0.02**2 / 12
    assert 0.003 < fast < slow


@pytest.mark.parametrize("roll_in", [0.03, 0.06, 0.15])
@pytest.mark.parametrize("share", [0.0, 0.3, 0.8])
def test_other_planes_and_gains(roll_in: float, share: float) -> None:
    """Without a stabiliser, and close to wobbling: 10 ms or 7 % on the median of seeds."""
    loop = replace(HALF, roll_in=roll_in)
    loop = replace(loop, turn=share * unstable_turn(loop), ahead=0.05)
    flights = fly(loop, 30.0, 9, start=4)
    found = [told(read_response(scene(flights.at(100, n)))) for n in range(9)]
    lags = [one["roll_lag"] for one in found if one]
    assert len(lags) >= 8
    assert np.median(lags) == pytest.approx(loop.lag, abs=0.010, rel=0.07)


def test_without_the_wanted_rate_it_is_found_as_well(flown: Flown) -> None:
    """What was asked is not used: it may be missing."""
    whole = flown.at(100, 3)
    channels = {name: whole.channels[name] for name in ("roll_rate", "aileron")}
    assert told(read_response(scene(replace(whole, channels=channels)))) == told(
        read_response(scene(whole))
    )


def test_an_aileron_written_the_other_way_round_is_the_same(flown: Flown) -> None:
    """Left positive or right positive, the roll is as fast and as late."""
    whole = flown.at(100, 2)
    turned = {**whole.channels, "aileron": -whole.channels["aileron"]}
    found = told(read_response(scene(replace(whole, channels=turned))))
    for name, value in told(read_response(scene(whole))).items():
        assert found[name] == pytest.approx(value, rel=1e-3)


def test_holes_take_rows_and_bend_nothing() -> None:
    """With a fifth of two minutes missing the lag stands within 10 ms."""
    flights = fly(HALF, 120.0, 3, start=12)
    for number in range(3):
        log = with_holes(flights.at(100, number), 0.2)
        found = told(read_response(scene(log)))
        assert found["roll_lag"] == pytest.approx(HALF.lag, abs=0.010)


@pytest.mark.parametrize("hertz", [1000, 100, 50])
def test_a_flight_in_which_nothing_was_asked_tells_nothing(hertz: int) -> None:
    """Gusts alone show the controller, not the plane: it is said, never guessed."""
    flights = fly(HALF, 30.0, 10, start=3, wanted=np.zeros(30_000))
    for number in range(10):
        found = read_response(scene(flights.at(hertz, number)))
        assert told(found) == {}
        (said,) = found.not_said
        assert said.startswith("how the roll answers")
        assert "not moved enough" in said


def test_an_aileron_that_stands_still_tells_nothing(flown: Flown) -> None:
    """A channel of one value is no input."""
    whole = flown.at(100)
    still = {**whole.channels, "aileron": np.full(whole.time.size, 0.1)}
    found = read_response(scene(replace(whole, channels=still)))
    assert told(found) == {}
    assert found.not_said


def test_an_aileron_of_another_flight_tells_nothing(flown: Flown) -> None:
    """What does not move the roll has no lag."""
    whole = flown.at(100, 1)
    strange = {**whole.channels, "aileron": flown.at(100, 2).channels["aileron"]}
    found = read_response(scene(replace(whole, channels=strange)))
    assert told(found) == {}
    assert found.not_said


def test_a_slow_log_says_what_it_lacks(flown: Flown) -> None:
    """Ten rows a second show no lag."""
    found = read_response(scene(flown.at(10)))
    assert told(found) == {}
    assert "20 rows a second" in found.not_said[0]


def test_a_log_without_rates_is_not_talked_about(flown: Flown) -> None:
    """Most logs hold none; there is nothing to say."""
    whole = flown.at(100)
    for name in ("roll_rate", "aileron"):
        log = replace(whole, channels={name: whole.channels[name]})
        assert read_response(scene(log)) == Share()


def test_the_lag_knows_its_airspeed(flown: Flown) -> None:
    """The middle of the airspeed in the parts that were read; none where it is not known."""
    assert read_response(scene(flown.at(50), 14.0)).observations[0].speed == pytest.approx(14.0)
    assert read_response(scene(flown.at(50))).observations[0].speed is None
    assert speed_of(scene(flown.at(50), float("nan")), []) is None


def test_it_becomes_a_figure_of_the_flight(flown: Flown) -> None:
    """The analysis shows gain, acceleration and lag with their bands."""
    found = analyse(flown.at(100), Facts())
    figures = {one.name: one for one in found.figures}
    assert {"roll_gain", "roll_start", "roll_lag"} <= set(figures)
    assert all(one.low < one.value < one.high for one in figures.values())
    assert figures["roll_lag"].label == "lag from aileron to roll rate"


def test_the_busiest_parts_are_read(flown: Flown) -> None:
    """Of many parts those with the most aileron, in time order."""
    parts = [
        Run(
            time=np.arange(3.0) + 10.0 * n,
            channels={"aileron": np.array([0.0, 0.1 * n, 0.0]), "roll_rate": np.arange(3.0)},
        )
        for n in range(12)
    ]
    found = busiest(parts)
    assert [part.time[0] for part in found] == [10.0 * n for n in range(4, 12)]
    assert asked(scene(flown.at(100)))

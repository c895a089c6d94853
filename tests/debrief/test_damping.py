"""The damping of swings, against the poles of simulated loops, and flights compared by it."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from tests.debrief.rates_simulator import Flown as Rates
from tests.debrief.rates_simulator import Loop, fly, pole, unstable_turn

from foamwright.debrief.analysis import analyse
from foamwright.debrief.damping import FLOOR, MOST, read_damping, spread
from foamwright.debrief.flown import flown_of
from foamwright.debrief.observed import Flown
from foamwright.debrief.outcome import Analysis, Facts
from foamwright.debrief.paired import Change, compare
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.physics.numerics.normal import TENTH

QUICK = Loop()
SLOW = Loop(roll_in=0.25, servo=0.06, delay=0.08)
FLIGHTS = 30


def near(loop: Loop, share: float, gust: float = 0.7) -> Loop:
    """Return a loop at a share of the gain at which it wobbles for ever."""
    return replace(loop, turn=share * unstable_turn(loop), gust=gust)


def scene(recording: Recording, airspeed: np.ndarray | None = None) -> Scene:
    """Return a scene of rates."""
    return Scene(recording=recording, facts=Facts(), wind=None, airspeed=airspeed, segments=())


@cache
def flights(share: float, gust: float, start: int, *, slow: bool = False) -> Rates:
    """Return flights of half a minute each."""
    return fly(near(SLOW if slow else QUICK, share, gust), 30.0, FLIGHTS, start=start)


@pytest.mark.parametrize("slow", [False, True])
@pytest.mark.parametrize("share", [0.6, 0.7, 0.8, 0.9])
def test_the_band_holds_the_pole_of_the_loop(share: float, *, slow: bool) -> None:
    """Eight in ten of 30 flights: 20 to 30 do, for a loop of 8 Hz as for one of 2 Hz."""
    flown, inside = flights(share, 0.7, 5, slow=slow), 0
    damping = pole(near(SLOW if slow else QUICK, share))[1]
    for seed in range(FLIGHTS):
        (seen,) = read_damping(scene(flown.at(50, seed))).observations
        assert seen.name == "roll_swing_damping"
        assert not seen.teaches
        inside += abs(seen.value - damping) <= TENTH * seen.sd
    assert inside >= 20


@pytest.mark.parametrize("share", [0.15, 0.3])
def test_what_is_well_damped_counts_as_the_most_that_is_told(share: float) -> None:
    """Nothing swings there: a flight tells no more."""
    for seed in range(FLIGHTS):
        (seen,) = read_damping(scene(flights(share, 0.7, 5).at(100, seed))).observations
        assert seen.value >= 0.8 * MOST
    assert pole(near(QUICK, share))[1] > MOST


def test_a_longer_look_knows_more_and_never_everything() -> None:
    """By the root of the time, down to what the reading itself is off."""
    assert spread(0.05, 100.0) > 1.3 * spread(0.05, 400.0)
    assert spread(0.05, 1e9) == pytest.approx(np.hypot(0.05 * 0.2, FLOOR), rel=1e-3)


def test_without_the_wanted_rate_nothing_is_told() -> None:
    """Sticks in the rate hide a swing: of eight with half the damping wanted none would show."""
    log = flights(0.8, 0.7, 5).at(100)
    bare = {name: v for name, v in log.channels.items() if name != "roll_rate_wanted"}
    found = read_damping(scene(replace(log, channels=bare)))
    assert found.observations == ()
    assert found.not_said == (
        "how well roll damps its swings: the log tells no roll rate that was wanted",
    )
    assert read_damping(scene(replace(log, channels={"aileron": log.channels["aileron"]}))) == (
        read_damping(scene(Recording(time=log.time, channels={"height": log.time})))
    )


def test_a_propeller_that_shakes_the_gyro_is_no_swing_of_the_loop() -> None:
    """A steady line as fast as the propeller turns is left out, not called undamped."""
    log = flights(0.3, 0.7, 5).at(100)
    line = 2.0 * np.sin(2.0 * np.pi * 11.0 * log.time)
    shaken = {**log.channels, "roll_rate": log.channels["roll_rate"] + line}
    (seen,) = read_damping(scene(replace(log, channels=shaken))).observations
    assert seen.value < 0.05
    turning = {**shaken, "rotation_speed": np.full(log.time.size, 111.0)}
    assert read_damping(scene(replace(log, channels=turning))).observations == ()


def told(rates: Rates, seed: int) -> Flown:
    """Return a flight as it is compared."""
    log = rates.at(50, seed)
    seen = read_damping(scene(log)).observations
    found = Analysis(
        segments=(), wind=None, figures=(), findings=(), not_said=(), observations=seen
    )
    return flown_of(log, found)


def changes(before: Rates, after: Rates) -> list[Change]:
    """Return how the damping moved in each pair of flights."""
    return [
        one
        for seed in range(FLIGHTS)
        for one in compare([told(before, seed)], [told(after, seed)])
        if one.figure == "roll_swing_damping"
    ]


def test_a_gain_that_was_too_high_and_is_lowered_helped() -> None:
    """From 1 dB to 6 dB, on a day of twice the gusts: 29 of 30 pairs of single flights show it."""
    found = changes(flights(0.9, 0.5, 5), flights(0.5, 1.0, 6))
    assert len(found) == FLIGHTS
    assert sum(one.verdict == "helped" for one in found) >= 29
    true = MOST - pole(near(QUICK, 0.9))[1]
    assert np.median([one.value for one in found]) == pytest.approx(true, abs=0.05)


def test_a_gain_that_is_raised_did_not_help() -> None:
    """From 6 dB to 1 dB."""
    found = changes(flights(0.5, 1.0, 6), flights(0.9, 0.5, 5))
    assert sum(one.verdict == "did not" for one in found) >= 29


@pytest.mark.parametrize("share", [0.5, 0.7, 0.9])
def test_other_gusts_alone_hardly_ever_help(share: float) -> None:
    """The same gain on a calm and on a rough day: at most 12 % of pairs are said to be better."""
    found = changes(flights(share, 1.0, 5), flights(share, 0.5, 7))
    assert sum(one.verdict == "helped" for one in found) <= 0.12 * FLIGHTS


def test_two_well_damped_days_did_not_change_anything_that_matters() -> None:
    """Both count as the most that is told; some flights settle that, one pair may not."""
    found = compare(*([told(flights(0.3, g, 5), n) for n in range(8)] for g in (0.5, 1.0)))
    one = next(one for one in found if one.figure == "roll_swing_damping")
    assert one.verdict == "did not"


def test_every_flight_with_wanted_rates_brings_it_to_a_comparison() -> None:
    """Through the whole analysis: no figure of its own, and nothing the model learns from."""
    log = flights(0.5, 1.0, 6).at(50)
    found = analyse(log, Facts())
    assert "roll_swing_damping" not in {one.name for one in found.figures}
    assert "roll_swing_damping" in {one.name for one in flown_of(log, found).readings}


def test_flights_are_read_by_their_airspeeds() -> None:
    """Wobbling only in the fast third: three readings, the fast one hardly damped."""
    quick, calm = (fly(near(QUICK, share), 40.0, 1, start=3).at(50) for share in (0.93, 0.4))
    time = np.concatenate((calm.time, calm.time + 40.0, calm.time + 80.0))
    parts = (calm, calm, quick)
    names = ("roll_rate", "roll_rate_wanted")
    channels = {name: np.concatenate([part.channels[name] for part in parts]) for name in names}
    speed = np.interp(time, [0.0, 80.0, 82.0, 120.0], [11.0, 14.0, 19.0, 21.0])
    log = Recording(time=time, channels=channels, step=0.02)
    seen = read_damping(scene(log, speed)).observations
    assert [one.speed for one in seen] == pytest.approx([11.7, 13.3, 20.0], abs=0.6)
    assert seen[2].value < 0.06
    assert min(seen[0].value, seen[1].value) > 0.15

"""Flights before and after a change whose truth is known."""

from collections.abc import Sequence
from functools import cache
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.debrief import simulator
from tests.debrief.simulator import MASS, Plan, circles, fly

from foamwright.debrief.analysis import analyse
from foamwright.debrief.flown import flown_of
from foamwright.debrief.observed import Flown, Reading
from foamwright.debrief.outcome import Facts
from foamwright.debrief.paired import change, compare, judged, within_flight
from foamwright.debrief.wanted import WANTED
from foamwright.physics.numerics.normal import TENTH

PAIRS = 120
FACTS = Facts(mass=MASS)


def flown(name: str, values: Sequence[tuple[float, float]], wind_sd: float = 0.0) -> Flown:
    """Return a flight with readings of one figure: value and sd each."""
    return Flown(
        readings=tuple(
            Reading(name=name, value=v, sd=s, wind_sd=wind_sd, speed=14.0) for v, s in values
        ),
        wind_sd=wind_sd,
    )


@cache
def simulated(seed: int) -> Flown:
    """Return a simulated flight: circles, a dash, a glide, each day its own wind."""
    turning, random = circles(150), np.random.default_rng(seed + 10_000)
    bank, throttle = turning.bank.copy(), turning.throttle.copy()
    bank[100:], throttle[104:120], throttle[120:] = 0.0, 1.0, 0.0
    speed, way = random.uniform(1.0, 5.0), random.uniform(0.0, 2.0 * np.pi)
    wind = (speed * np.cos(way), speed * np.sin(way))
    log = fly(Plan(throttle=throttle, bank=bank, seed=seed, wind=wind))
    return flown_of(log, analyse(log, FACTS))


def test_no_change_is_hardly_ever_said_to_help() -> None:
    """Of 120 pairs of flights of the same aeroplane in other winds, at most 12 % help."""
    helped: dict[str, int] = {}
    for pair in range(PAIRS):
        for one in compare([simulated(2 * pair)], [simulated(2 * pair + 1)]):
            helped[one.figure] = helped.get(one.figure, 0) + (one.verdict == "helped")
    assert set(helped) >= {"top_speed", "top_speed_current", "glide_ratio", "drag_area"}
    assert max(helped.values()) <= 0.12 * PAIRS


def test_with_bare_scatter_the_share_is_what_was_promised() -> None:
    """2000 pairs drawn from the declared scatter and the sd themselves: a tenth help, no more."""
    random, sd = np.random.default_rng(5), 0.6
    each = np.hypot(sd, WANTED["top_speed"].scatter * 20.0)
    drawn = random.normal(20.0, each, (2000, 2))
    told = [
        change("top_speed", [flown("top_speed", [(a, sd)])], [flown("top_speed", [(b, sd)])])
        for a, b in drawn
    ]
    share = np.mean([one is not None and one.verdict == "helped" for one in told])
    assert share == pytest.approx(0.1, abs=0.02)


def test_a_large_change_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """A propeller of half as much pitch speed more shows in the top speed of 28 of 30 pairs."""
    before = [simulated(k) for k in range(30)]
    monkeypatch.setattr(simulator, "PITCH_SPEED", 1.5 * simulator.PITCH_SPEED)
    after = [simulated(k) for k in range(500, 530)]
    found = [change("top_speed", [a], [b]) for a, b in zip(before, after, strict=True)]
    told = [one.verdict for one in found if one is not None]
    assert told.count("helped") >= 28
    assert np.median([one.value for one in found if one is not None]) > 2.0


def test_a_verdict_hangs_on_the_chance() -> None:
    """5 m/s more with 1.3 m/s of doubt are there."""
    quick = [flown("top_speed", [(25.0, 0.8)])]
    found = change("top_speed", [flown("top_speed", [(20.0, 0.8)])], quick)
    assert found is not None
    assert (found.verdict, found.fly_more) == ("helped", None)
    assert found.low < 5.0 < found.high
    assert found.chance == pytest.approx(NormalDist().cdf(5.0 / found.sd))


def test_dashes_of_one_flight_do_not_average_the_wind_away() -> None:
    """Eight dashes with gusts of 0.5 and one wind error of 1.0 m/s: the sd stays above 1.0.

    Kish's design effect: n / (1 + (n - 1) r), r the share of the variance in common.
    """
    sd = float(np.hypot(0.5, 1.0))
    readings = [Reading(name="top_speed", value=20.0, sd=sd, wind_sd=1.0) for _ in range(8)]
    mean = within_flight(readings, WANTED["top_speed"])
    assert mean.sd == pytest.approx(np.hypot(0.5 / np.sqrt(8.0), 1.0))
    shared = 1.0 / 1.25
    assert mean.count == pytest.approx(8.0 / (1.0 + 7.0 * shared))
    assert mean.count < 1.25


def test_without_a_wind_error_dashes_count_each() -> None:
    """With a pitot four dashes are four readings."""
    readings = [Reading(name="top_speed", value=20.0 + k, sd=0.8) for k in range(4)]
    mean = within_flight(readings, WANTED["top_speed"])
    assert mean.count == pytest.approx(4.0)
    assert mean.sd == pytest.approx(0.4)
    assert mean.value == pytest.approx(21.5)


def test_the_count_is_what_a_simulation_of_shared_errors_shows() -> None:
    """The variance of 20 000 means of three dashes with one wind error is that of the mean."""
    random = np.random.default_rng(9)
    wind, gust = random.normal(0.0, 0.7, (20_000, 1)), random.normal(0.0, 0.5, (20_000, 3))
    readings = [
        Reading(name="top_speed", value=20.0, sd=float(np.hypot(0.7, 0.5)), wind_sd=0.7)
    ] * 3
    mean = within_flight(readings, WANTED["top_speed"])
    assert mean.sd == pytest.approx(float((wind + gust).mean(axis=1).std()), rel=0.02)


def test_a_new_propeller_within_the_wind_is_not_shown() -> None:
    """20.0 m/s before, 1.9 m/s more after, the wind of each flight +-1.6 m/s as the 80 % band that
    is told everywhere here: not shown, and three more flights with it would show it.

    Of the readings of "+-1.6": as a band of the difference it would be shown at once; as 90 % band
    of each flight the chance is 0.88, not shown either, and two more would do.
    """
    side = [flown("top_speed", [(v, 1.6 / TENTH)], wind_sd=1.6 / TENTH) for v in (20.0, 21.9)]
    found = change("top_speed", side[:1], side[1:])
    assert found is not None
    assert found.value == pytest.approx(1.9)
    assert found.verdict == "cannot tell"
    assert 0.8 < found.chance < 0.9
    assert (found.fly_more, found.fly_more_before) == (3, 0)
    more = change("top_speed", side[:1], side[1:] * 4)
    assert more is not None
    assert (more.verdict, more.fly_more) == ("helped", None)
    assert more.low > 0.0
    fewer = change("top_speed", side[:1], side[1:] * 3)
    assert fewer is not None
    assert fewer.verdict == "cannot tell"


@pytest.mark.parametrize(
    ("gain", "sd", "verdict"),
    [
        (1.9, 1.0, "helped"),
        (1.9, 1.6, "cannot tell"),
        (-1.9, 1.0, "did not"),
        (-1.9, 1.6, "cannot tell"),
        (0.05, 0.1, "did not"),  # surely too little to matter
        (0.3, 0.01, "did not"),  # surely there, surely too little
        (0.05, 0.5, "cannot tell"),
    ],
)
def test_verdicts_follow_the_chance_and_what_matters(gain: float, sd: float, verdict: str) -> None:
    """0.4 does not matter; the chance is that of a normal."""
    told, chance = judged(gain, sd, 0.4)
    assert told == verdict
    assert chance == pytest.approx(NormalDist(0.0, sd).cdf(gain), abs=1e-12)


@pytest.mark.parametrize(
    ("name", "better"), [("top_speed", 26.0), ("top_speed_current", 15.0), ("glide_ratio", 26.0)]
)
def test_which_way_is_wanted_is_kept(name: str, better: float) -> None:
    """More speed and glide help, less current does."""
    sides = [[flown(name, [(value, 0.3)])] for value in (20.0, better)]
    there, back = change(name, *sides), change(name, *sides[::-1])
    assert there is not None
    assert back is not None
    assert (there.verdict, back.verdict) == ("helped", "did not")


def test_the_sensor_cancels_because_it_is_the_same() -> None:
    """5 % of an uncalibrated current sensor are on both sides; only flights' scatter is left."""
    sides = [[flown("top_speed_current", [(amps, 0.05 * amps)])] for amps in (10.0, 9.0)]
    found = change("top_speed_current", *sides)
    assert found is not None
    assert found.sd == pytest.approx(0.03 * np.hypot(10.0, 9.0))
    assert found.verdict == "helped"


def conditioned(name: str, value: float, **conditions: float) -> list[Flown]:
    """Return a side of one flight in some conditions."""
    return [Flown(readings=(Reading(name=name, value=value, sd=0.1, conditions=conditions),))]


def test_a_fresher_pack_is_not_a_better_propeller() -> None:
    """21 m/s at 12.6 V at rest are the 20 m/s of 12.0 V: nothing moved."""
    found = change(
        "top_speed",
        conditioned("top_speed", 20.0, voltage=12.0),
        conditioned("top_speed", 21.0, voltage=12.6),
    )
    assert found is not None
    assert found.value == pytest.approx(0.0, abs=1e-9)
    assert found.corrected == ("voltage",)
    plain = change("top_speed", conditioned("top_speed", 20.0), conditioned("top_speed", 21.0))
    assert plain is not None
    assert plain.value == pytest.approx(1.0)
    assert (plain.corrected, plain.open) == ((), ("voltage",))
    assert found.sd > plain.sd


def test_mass_and_air_are_brought_over_by_lift() -> None:
    """A plane 21 % heavier, in air 19 % thinner, stalls faster by the root of both."""
    fair = 8.0 * np.sqrt(1.21 / 0.81)
    found = change(
        "stall_speed",
        conditioned("stall_speed", 8.0, mass=1.0, density=1.2),
        conditioned("stall_speed", fair, mass=1.21, density=1.2 * 0.81),
    )
    assert found is not None
    assert found.value == pytest.approx(0.0, abs=1e-9)
    assert found.corrected == ("mass", "density")


def test_flights_that_scatter_more_than_declared_are_believed_less() -> None:
    """Three flights that lie 3 m/s apart make a wider side than three that agree."""
    near, far = (
        [flown("top_speed", [(20.0 + k * step, 0.2)]) for k in (-1, 0, 1)] for step in (0.1, 3.0)
    )
    after = [flown("top_speed", [(21.5, 0.2)])]
    sure, unsure = change("top_speed", near, after), change("top_speed", far, after)
    assert sure is not None
    assert unsure is not None
    assert sure.verdict == "helped"
    assert unsure.verdict == "cannot tell"
    assert unsure.before.sd > 3.0 * sure.before.sd


def test_only_what_both_sides_have_is_compared() -> None:
    """A figure of one side, or one without direction, is left out."""
    one, other = flown("top_speed", [(20.0, 1.0)]), flown("glide_ratio", [(8.0, 0.5)])
    assert compare([one], [other]) == ()
    assert compare([flown("top_speed_voltage", [(11.0, 0.1)])] * 2, [other]) == ()
    assert [found.figure for found in compare([one], [one])] == ["top_speed"]


def test_where_no_number_of_flights_would_do_none_is_named() -> None:
    """A difference of a thousandth of its sd, too uncertain to be called nothing."""
    sides = [[flown("top_speed", [(value, 6.0)])] for value in (20.0, 20.006)]
    found = change("top_speed", *sides)
    assert found is not None
    assert (found.verdict, found.fly_more) == ("cannot tell", None)


@given(
    before=st.floats(5.0, 40.0),
    gain=st.floats(-8.0, 8.0).filter(lambda x: abs(x) > 0.05),
    sd=st.floats(0.05, 4.0),
)
def test_the_flights_advised_settle_it(before: float, gain: float, sd: float) -> None:
    """Flown as advised with the same result, the verdict is no longer open."""
    first, second = ([flown("top_speed", [(v, sd)])] for v in (before, max(before + gain, 1.0)))
    found = change("top_speed", first, second)
    assert found is not None
    if found.fly_more is None:
        return
    again = change("top_speed", first * (1 + found.fly_more_before), second * (1 + found.fly_more))
    assert again is not None
    assert again.verdict != "cannot tell"

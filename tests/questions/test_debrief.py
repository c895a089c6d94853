"""Did the flights go as foretold?"""

import dataclasses
import datetime as dt

import pytest

from foamwright.model.evidence import Observation, Source
from foamwright.model.learning import Band, Change, Checked, Learned, Taught
from foamwright.questions import debrief
from foamwright.questions.case import Case


def check(value: float, chance: float | None, *, name: str = "top_speed") -> Checked:
    """Return a reading against a band from 20 to 28 m/s."""
    return Checked(
        observation=Observation(name=name, value=value, spread=0.5),
        expected=None if chance is None else Band(value=24.0, low=20.0, high=28.0),
        probability=chance,
        used=chance is not None,
        why="" if chance is not None else "the model can say nothing of it",
    )


def flown(case: Case, *checks: Checked, kind: str = "flight") -> Case:
    """Return a case that learned from one flight."""
    source = Source(
        name="flight one",
        kind=kind,
        day=dt.date(2026, 5, 2),
        observations=tuple(c.observation for c in checks),
    )
    change = Change(
        parameter="drag",
        label="drag",
        dimension="number",
        before=Band(value=1.0, low=0.7, high=1.3),
        after=Band(value=1.1, low=1.0, high=1.2),
    )
    taught = Taught(source=source, checked=checks, changes=(change,))
    learned = Learned(knowledge=None, taught=(taught,), samples=500.0)
    return dataclasses.replace(case, learned=learned)


def test_without_a_flight_it_is_open_and_says_how_to_take_one(reedling: Case) -> None:
    """A bench test is no flight."""
    for case in (reedling, flown(reedling, check(24.0, 1.0), kind="test")):
        told = debrief.answer(case)
        assert told.verdict == "open"
        assert "debrief PLANE LOG --accept" in told.missing[0]


def test_a_flight_in_its_bands_went_as_foretold(reedling: Case) -> None:
    """And says what it taught."""
    told = debrief.answer(flown(reedling, check(24.5, 0.8)))
    assert told.verdict == "likely"
    assert "1 of 1 readings in their band" in told.because
    assert "drag now 1.10 (1.00–1.20)" in told.because


def test_a_flight_far_off_did_not(reedling: Case) -> None:
    """The oddest reading comes first, with its band as limits."""
    told = debrief.answer(flown(reedling, check(24.5, 0.8), check(35.0, 0.001)))
    assert told.verdict == "no"
    assert told.figures[0].value == 35.0
    assert (told.figures[0].limit_low, told.figures[0].limit_high) == (20.0, 28.0)


def test_a_bound_is_told_in_words_and_has_one_limit(reedling: Case) -> None:
    """Flown at 35 m/s where 20 to 28 would have done: it fits, and counts among no bands."""
    bound = check(35.0, 0.999, name="lowest_speed")
    told = debrief.answer(flown(reedling, check(24.5, 0.8), bound))
    assert told.verdict == "likely"
    assert "1 of 1 readings in their band" in told.because
    assert (
        "lowest speed held level 35.0 m/s: a bound, it was to fly level down to 20.0–28.0 m/s"
        in told.because
    )
    last = told.figures[-1]
    assert (last.name, last.limit_low, last.limit_high) == ("lowest_speed", 20.0, None)


def test_a_bound_that_fits_nothing_is_set_aside_in_words(reedling: Case) -> None:
    """Slower than nearly all such planes can fly: the flight did not go as foretold."""
    odd = dataclasses.replace(
        check(9.0, 0.001, name="lowest_speed"), used=False, why="it fits nothing the model knows"
    )
    told = debrief.answer(flown(reedling, odd))
    assert told.verdict == "no"
    assert "lowest speed held level: nothing learned, it fits nothing" in told.because
    assert "a bound," not in told.because


def test_many_readings_may_hold_an_odd_one_by_luck() -> None:
    """Sidak 1967: of ten readings one at 5 % happens in 40 % of all flights."""
    odd = (check(30.0, 0.05),)
    assert debrief.together(odd) == pytest.approx(0.05)
    assert debrief.together(odd * 10) == pytest.approx(1.0 - 0.95**10)


def test_what_the_model_cannot_foretell_is_told_and_not_judged(reedling: Case) -> None:
    """It has no band and no chance."""
    told = debrief.answer(flown(reedling, check(24.5, 0.8), check(9.0, None, name="glide_ratio")))
    assert "nothing learned, the model can say nothing of it" in told.because
    assert told.figures[-1].limit_low is None
    assert debrief.together((check(9.0, None),)) is None


def test_currents_at_many_states_of_the_drive_are_told_apart() -> None:
    """By propeller speed and airspeed, in the user's units; other readings keep their words."""
    seen = Observation(
        name="propeller_current",
        value=3.0,
        spread=0.2,
        speed=10.0,
        rotation_speed=100.0,
        voltage=11.0,
    )
    assert debrief.label_of(seen, "metric") == "current at 6000 rpm and 10.0 m/s"
    assert debrief.label_of(seen, "imperial") == "current at 6000 rpm and 22.4 mph"
    plain = Observation(name="top_speed", value=25.0, spread=1.0)
    assert debrief.label_of(plain, "metric") == "top speed"

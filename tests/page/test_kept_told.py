"""The flights kept with a plane, as the page lists them."""

import datetime as dt
import re

from foamwright.model.evidence import Observation, Source
from foamwright.model.learning import Band, Change, Checked, Learned, Taught
from foamwright.page.kept_told import flight_told, kept_told
from foamwright.plane.flights import Flight, FlightNote, Seen

SEEN = Seen(what="top_speed", value=24.0, spread=1.0)


def flight(name: str, *seen: Seen, day: int = 1, note: str | None = None) -> Flight:
    """Return a kept flight."""
    told = FlightNote(date=dt.date(2026, 5, day), observations=seen, note=note)
    return Flight(name=name, note=told, text="")


def taught(name: str, value: float, expected: Band | None, what: str = "top_speed") -> Taught:
    """Return what a flight taught."""
    observation = Observation(name=what, value=value, spread=1.0)
    check = Checked(
        observation=observation,
        expected=expected,
        probability=None if expected is None else 0.5,
        used=expected is not None,
        why="" if expected is not None else "no drive is known",
    )
    change = Change(
        parameter="drag",
        label="drag <area>",
        dimension="area",
        before=Band(value=5e-3, low=4e-3, high=6e-3),
        after=Band(value=5e-3, low=4.8e-3, high=5.2e-3),
    )
    source = Source(
        name=f"flight {name}", kind="flight", day=dt.date(2026, 5, 1), observations=(observation,)
    )
    return Taught(source=source, checked=(check,), changes=(change,))


def learned(*entries: Taught) -> Learned:
    """Return what several flights taught."""
    return Learned(knowledge=None, taught=entries, samples=1024.0)


BAND = Band(value=24.0, low=22.0, high=26.0)


def test_the_latest_flight_comes_first() -> None:
    """They lie in the folder the other way round."""
    html = kept_told((flight("a", SEEN), flight("b", SEEN, day=2)), None, "metric")
    assert re.findall(r'data-flight="(\w)"', html) == ["b", "a"]


def test_readings_stand_beside_what_was_foretold() -> None:
    """Inside or outside in words, and drawn with the band they were to fall into."""
    inside = flight_told(flight("a", SEEN), taught("a", 24.0, BAND), "metric")
    outside = flight_told(flight("a", SEEN), taught("a", 30.0, BAND), "metric")
    assert (inside["inside"], outside["inside"], inside["of"]) == (1, 0, 1)
    html = kept_told((flight("a", SEEN),), learned(taught("a", 30.0, BAND)), "metric")
    assert "22.0–26.0 m/s" in html
    assert "outside" in html
    assert 'class="wanted"' in html
    assert "0 of 1 readings in their band" in html


def test_a_bound_is_told_as_one() -> None:
    """Far above its band it holds; it is no reading of a band, and counts in no score."""
    above = taught("a", 40.0, BAND, "lowest_speed")
    html = kept_told((flight("a", SEEN),), learned(above), "metric")
    assert "a bound, it holds" in html
    assert "readings in their band" not in html
    assert "The forecasts so far" not in html
    below = kept_told((flight("a", SEEN),), learned(taught("a", 9, BAND, "lowest_speed")), "metric")
    assert "below it, though it is a bound" in below


def test_what_could_not_be_foretold_says_why() -> None:
    """No score is made of it."""
    html = kept_told((flight("a", SEEN),), learned(taught("a", 30.0, None)), "metric")
    assert "nothing learned: no drive is known" in html
    assert "The forecasts so far" not in html


def test_the_score_counts_every_flight() -> None:
    """In the words of the answer beside the drawing."""
    entries = (taught("a", 24.0, BAND), taught("b", 30.0, BAND))
    html = kept_told((flight("a", SEEN), flight("b", SEEN)), learned(*entries), "metric")
    assert "1 of 2 readings fell into the band that was to hold 80 %" in html


def test_lessons_are_shown_escaped() -> None:
    """Before and after, with their bands."""
    html = kept_told((flight("a", SEEN),), learned(taught("a", 24.0, BAND)), "metric")
    assert "drag &lt;area&gt;" in html
    assert "48.0–52.0 cm²" in html


def test_a_flight_nothing_was_learned_from_is_still_listed() -> None:
    """With its readings, its note and its day; one that nobody knows is shown as written."""
    strange = Seen(what="luck", value=7.0, spread=1.0)
    html = kept_told((flight("a", SEEN, strange, note="windy <b>"),), None, "metric")
    assert "24.0 m/s" in html
    assert "22.7–25.3 m/s" in html
    assert "luck" in html
    assert "2026-05-01" in html
    assert "windy &lt;b&gt;" in html


def test_no_flight_is_said() -> None:
    """Instead of an empty list."""
    assert "No flight was kept yet" in kept_told((), None, "metric")

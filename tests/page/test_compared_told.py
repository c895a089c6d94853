"""Flights after a change beside those before it, as the page tells them."""

import pytest

from foamwright.debrief.observed import Flown, Reading
from foamwright.debrief.wanted import WANTED
from foamwright.jobs.paired_flights import Compared, compared, words
from foamwright.page.compared_told import compared_told, flights_counted, moved_told, signed
from foamwright.quantity import show


def flight(**speeds: float) -> Flown:
    """Return a flight that tells some figures."""
    return Flown(
        readings=tuple(
            Reading(name=name, value=value, sd=0.01 * value) for name, value in speeds.items()
        )
    )


def both() -> Compared:
    """Return two flights before and one after a change that made it faster."""
    before = [flight(top_speed=20.0), flight(top_speed=20.2)]
    return compared(before, [flight(top_speed=26.0, stall_speed=7.0)])


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_every_figure_is_told_with_its_verdict(units: str) -> None:
    """In the words of the command line and the units of the plane."""
    found = both()
    (one,) = found.moved
    told = moved_told(one, units)
    assert told["label"] == WANTED["top_speed"].label
    assert told["words"] == words(one) == "helped"
    assert told["after"] == show(one.after.value, "speed", units)
    assert told["wanted"] == "more"


def test_what_is_shared_and_what_is_missing_is_said() -> None:
    """What only one side tells is no comparison."""
    found = both()
    told = compared_told(found, "metric")
    assert told is not None
    assert told["title"] == "2 flights before, 1 flight after"
    assert told["assumed"] == list(found.assumed)
    assert [line for line in found.not_said if "slowest speed" in line] == told["not_said"]


def test_nothing_is_compared_unasked() -> None:
    """Without flights from before there is no such part of the page."""
    assert compared_told(None, "metric") is None
    assert [flights_counted(count) for count in (1, 2)] == ["1 flight", "2 flights"]


@pytest.mark.parametrize(
    ("value", "words"), [(1.5, "+1.50 m/s"), (-1.5, "−1.50 m/s"), (0.0, "+0 m/s")]
)
def test_a_difference_has_a_sign(value: float, words: str) -> None:
    """A band from minus to plus is not read as a long number."""
    assert signed(value, "speed", "metric") == words

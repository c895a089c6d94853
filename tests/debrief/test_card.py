"""Numbers read off the screen."""

import pytest

from foamwright.debrief.card import ALSO, KINDS, card_of
from foamwright.model.evidence import OBSERVABLE
from foamwright.problems import CallProblem

CARD = "top speed = 27 m/s, current at full throttle = 12 A, used = 420 mAh in 7 min"


def test_a_card_is_read_in_si_each_with_a_spread_of_its_kind() -> None:
    """27 m/s with the wind in it, 12 A, 420 mAh in 420 s."""
    speed, current, used = card_of(CARD)
    assert (speed.name, speed.value, speed.spread) == ("top_speed", 27.0, 1.5)
    assert (current.name, current.value) == ("top_speed_current", 12.0)
    assert current.spread == pytest.approx(0.72)
    assert (used.value, used.time, used.speed) == pytest.approx((1512.0, 420.0, None))


def test_a_written_spread_counts() -> None:
    """Whoever knows better says so."""
    assert card_of("top speed = 97 ± 2 km/h")[0].spread == pytest.approx(2 / 3.6)


def test_speed_and_time_go_where_they_are_needed() -> None:
    """Said in the entry, or as entries of their own."""
    first = card_of("used = 420 mAh in 7 min at 12 m/s")[0]
    second = card_of("used = 420 mAh, average speed = 12 m/s, flight time = 7 min")[0]
    assert (first.speed, first.time) == (second.speed, second.time) == (12.0, 420.0)
    assert card_of("cruise current = 3 A at 40 km/h")[0].speed == pytest.approx(40 / 3.6)


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("top sped = 27 m/s", "did you mean 'top speed'.*known: top speed, stall speed"),
        ("colour = blue", "nothing is called 'colour'; known"),
        ("top speed = 27", "has no unit"),
        ("top speed = 27 A", "is no speed"),
        ("top speed", "says nothing"),
        ("top speed = 27 m/s, max speed = 28 m/s", "comes twice"),
        ("", "says nothing"),
        (" , ", "says nothing"),
        ("used = 420 mAh in 7 A", "is no time"),
        ("top speed = 0 m/s", "'top speed = 0 m/s': a flight shows more than 0"),
        ("used = 420 mAh in 0 min", "a flight shows more than 0"),
        ("cruise current = 2 A at 0 m/s", "a flight shows more than 0"),
    ],
)
def test_what_is_no_entry_is_told(text: str, what: str) -> None:
    """With what would be right."""
    with pytest.raises(CallProblem, match=what):
        card_of(text)


def test_names_lead_somewhere() -> None:
    """Every other word means a known one; most are named as the model names them."""
    assert set(ALSO.values()) <= set(KINDS)
    names = {kind.name for kind in KINDS.values()}
    assert {"top_speed", "charge_used", "stall_speed", "cruise_current"} <= names & set(OBSERVABLE)

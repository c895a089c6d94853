"""The card as a form: the grammar of the command line, problems beside their fields."""

import pytest

from foamwright.debrief.card import KINDS, card_of
from foamwright.model.evidence import OBSERVABLE
from foamwright.page.flight_card import CardProblem, card_text, entry_of, fields, units_of
from foamwright.problems import CallProblem
from foamwright.quantity import read

FULL = {
    "top speed": {"value": "27", "unit": "m/s", "spread": "1"},
    "used": {
        "value": "420",
        "unit": "mAh",
        "spread": "",
        "time": "7",
        "time_unit": "min",
        "speed": "12",
        "speed_unit": "m/s",
    },
}


def test_there_is_one_field_for_each_kind() -> None:
    """With the words of the card, and beside it what the model needs to be held against it."""
    found = fields("metric")
    assert [field.name for field in found] == list(KINDS)
    for field in found:
        known = OBSERVABLE.get(KINDS[field.name].name)
        wanted = set(known.needs) if known else set()
        assert {what for what, _, _ in field.beside} == wanted


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_every_unit_offered_is_understood(units: str) -> None:
    """The first is the one such a number is shown in; all are units of its dimension."""
    for field in fields(units):
        for unit in field.units:
            assert read(f"1 {unit}", field.dimension, limits=(-1e9, 1e9)).value > 0
    assert units_of("speed", units)[0] == {"metric": "m/s", "imperial": "mph"}[units]
    assert units_of("time", units)[0] == "min"


def test_a_filled_form_reads_as_its_text_does() -> None:
    """Same readings as the command line takes from `--card`."""
    text = card_text(FULL)
    assert text == "top speed = 27 m/s ± 1 m/s, used = 420 mAh in 7 min at 12 m/s"
    top, used = card_of(text)
    assert (top.value, top.spread) == (27.0, 1.0)
    assert (used.value, used.time, used.speed) == (1512.0, 420.0, 12.0)


@pytest.mark.parametrize(
    ("told", "entry"),
    [
        ({"value": "27", "unit": "m/s"}, "top speed = 27 m/s"),
        ({"value": "27 kn", "unit": "m/s"}, "top speed = 27 kn"),
        ({"value": "27", "unit": "m/s", "spread": "5 %"}, "top speed = 27 m/s ± 5 %"),
        ({"value": "27", "unit": "m/s", "spread": "± 2"}, "top speed = 27 m/s ± 2 m/s"),
        ({"value": "27 ± 1", "unit": "m/s"}, "top speed = 27 ± 1"),
        ({"value": "  ", "unit": "m/s", "spread": "1"}, ""),
        ({}, ""),
    ],
)
def test_an_entry_takes_the_unit_chosen_unless_it_has_its_own(
    told: dict[str, object], entry: str
) -> None:
    """What was typed goes first."""
    assert entry_of("top speed", told) == entry


@pytest.mark.parametrize("told", [{}, {"top speed": {}}, {"top speed": {"value": " "}}])
def test_an_empty_form_is_no_card(told: object) -> None:
    """Nothing is read then."""
    assert card_text(told) is None


def test_everything_wrong_is_told_at_once_each_with_its_field() -> None:
    """In the words of the command line, without its own name."""
    told = {
        "top speed": {"value": "27", "unit": ""},
        "used": {"value": "420", "unit": "kg"},
        "mass": {"value": "250", "unit": "g"},
        "flight time": {"value": "7,5", "unit": "min"},
    }
    with pytest.raises(CardProblem) as caught:
        card_text(told)
    found = {finding.key: finding for finding in caught.value.findings}
    assert list(found) == ["top speed", "used", "flight time"]
    assert "has no unit" in found["top speed"].what
    assert "decimal comma" in found["flight time"].what
    assert not any("--card" in finding.what for finding in found.values())


@pytest.mark.parametrize(
    "value",
    ["27 m/s, mass = 1 g", "27 m/s = 3", "27 m/s in", "1e999 m/s", "27 m/s ± x", "<b>27</b>"],
)
def test_a_field_holds_one_number(value: str) -> None:
    """What would be another entry is no number."""
    with pytest.raises(CardProblem):
        card_text({"top speed": {"value": value, "unit": "m/s"}})


@pytest.mark.parametrize(
    "told",
    [
        None,
        [],
        "top speed = 27 m/s",
        {"luck": {"value": "1"}},
        {"top speed": "27 m/s"},
        {"top speed": {"value": 27}},
        {"top speed": {"value": "2" * 61}},
        {"used": {"value": "1", "unit": "mAh", "time": ["x"]}},
    ],
)
def test_what_is_no_form_is_refused(told: object) -> None:
    """One clear sentence."""
    with pytest.raises(CallProblem):
        card_text(told)

"""Each record of the bench takes what belongs to it and refuses half a test."""

import datetime as dt
import re

import pytest
from pydantic import ValidationError

from foamwright.plane.bench_records import KINDS, Balance, Bench, Static, Step, Swing, Weighing

DAY = dt.date(2026, 5, 1)


def test_a_pull_in_grams_is_a_force() -> None:
    """A kitchen scale shows grams; standard gravity 9.80665 m/s2 (CODATA)."""
    grams = Static.model_validate({"date": DAY, "thrust": "285 ± 5 g"}).thrust
    newtons = Static.model_validate({"date": DAY, "thrust": "2.79489525 N"}).thrust
    assert grams is not None
    assert newtons is not None
    assert grams.value == pytest.approx(newtons.value, rel=1e-12)
    assert grams.spread == pytest.approx(0.005 * 9.80665)
    assert grams.dimension == "force"
    assert grams.text == "285 ± 5 g"


def test_half_a_balance_is_refused() -> None:
    """Fingertips or all four of two scales."""
    scales = {"front": "120 g", "front_at": "100 mm", "rear": "135 g", "rear_at": "400 mm"}
    assert Balance.model_validate({"date": DAY, **scales}).rear is not None
    assert Balance.model_validate({"date": DAY, "at": "250 mm"}).at is not None
    for broken in ({}, {"front": "120 g"}, {"at": "250 mm", **scales}):
        with pytest.raises(ValidationError, match="front_at"):
            Balance.model_validate({"date": DAY, **broken})


def test_a_static_test_without_a_reading_is_refused() -> None:
    """Volts alone say nothing."""
    with pytest.raises(ValidationError, match="wants thrust, current or rotation_speed"):
        Static.model_validate({"date": DAY, "voltage": "11.7 V"})


def test_a_hold_is_passed_with_a_reason_only() -> None:
    """Blank is no reason."""
    assert Step(date=DAY, step="pocket").anyway is False
    assert Step(date=DAY, step="pocket", anyway=True, reason="spare wing").reason == "spare wing"
    for reason in (None, "  "):
        with pytest.raises(ValidationError, match="wants a reason"):
            Step(date=DAY, step="pocket", anyway=True, reason=reason)


@pytest.mark.parametrize("swings", [0, -1, 1001])
def test_swings_are_counted_within_reason(swings: int) -> None:
    """None at all is no test."""
    whole = {"date": DAY, "axis": "roll", "distance": "300 mm", "length": "1.2 m", "time": "28 s"}
    assert Swing.model_validate({**whole, "swings": 20}).swings == 20
    with pytest.raises(ValidationError, match=re.compile("swings", re.MULTILINE)):
        Swing.model_validate({**whole, "swings": swings})


def test_every_list_of_the_file_has_its_record() -> None:
    """The schema and the table of kinds name the same lists."""
    assert tuple(KINDS) == tuple(Bench.model_fields)


def test_no_two_lists_hold_the_same_record() -> None:
    """A record tells which list it belongs to."""
    assert len(set(KINDS.values())) == len(KINDS)


def test_a_weighing_counts_its_pieces() -> None:
    """One where nothing is said, never none."""
    assert Weighing.model_validate({"date": DAY, "item": "servo", "mass": "9.7 g"}).pieces == 1
    with pytest.raises(ValidationError):
        Weighing.model_validate({"date": DAY, "item": "servo", "mass": "9.7 g", "pieces": 0})


@pytest.mark.parametrize("mass", ["0 g", "0 ± 1 g"])
def test_an_empty_scale_is_no_weighing(mass: str) -> None:
    """Noted, it would take the motor out of every answer."""
    with pytest.raises(ValidationError, match="wants a mass above 0 g"):
        Weighing.model_validate({"date": DAY, "item": "motor", "mass": mass})

"""Each record of the bench takes what belongs to it and refuses half a test."""

import datetime as dt
import re

import pytest
from pydantic import ValidationError

from foamwright.plane.bench_records import (
    KINDS,
    Balance,
    Bench,
    ChargeBack,
    Hang,
    Record,
    ServoSweep,
    Static,
    Step,
    Swing,
    Weighing,
)

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


NOTHING: list[tuple[type[Record], dict[str, object], str]] = [
    (Weighing, {"item": "motor", "mass": "0 ± 1 g"}, "wants mass above"),
    (
        Balance,
        {"front": "0 g", "front_at": "100 mm", "rear": "0 g", "rear_at": "300 mm"},
        "wants front above 0 g",
    ),
    (Static, {"thrust": "0 g"}, "wants thrust above 0 g"),
    (Static, {"thrust": "285 g", "voltage": "0 V"}, "wants voltage above"),
    (
        Hang,
        {"surface": "wing", "load": "0 g", "arm": "40 mm", "at": "0.3 m", "twist": "2 deg"},
        "wants load above",
    ),
    (
        Swing,
        {"axis": "roll", "distance": "0 mm", "length": "1.2 m", "time": "28 s", "swings": 20},
        "wants distance above 0 mm",
    ),
    (
        Swing,
        {"axis": "yaw", "distance": "0.3 m", "length": "1.2 m", "time": "0 s", "swings": 20},
        "wants time above",
    ),
    (ServoSweep, {"servo": "left", "angle": "60 deg", "time": "0 s"}, "wants time above"),
    (ChargeBack, {"charge": "0 mAh"}, "wants charge above"),
]
"""Readings of nothing."""


@pytest.mark.parametrize(("record", "read", "says"), NOTHING)
def test_a_reading_of_nothing_is_refused(
    record: type[Record], read: dict[str, object], says: str
) -> None:
    """An empty scale would take the motor out of every answer; no time would divide by nothing."""
    with pytest.raises(ValidationError, match=says):
        record.model_validate({"date": DAY, **read})


@pytest.mark.parametrize("rear_at", ["100 mm", "60 mm"])
def test_two_scales_stand_one_behind_the_other(rear_at: str) -> None:
    """On one spot they would tell that spot, whatever they show."""
    scales = {"front": "120 g", "front_at": "100 mm", "rear": "135 g", "rear_at": rear_at}
    with pytest.raises(ValidationError, match="wants front_at ahead of rear_at"):
        Balance.model_validate({"date": DAY, **scales})


def test_no_twist_and_a_place_at_the_nose_are_readings() -> None:
    """A stiff wing does not twist, and x counts from the nose."""
    stiff = {"surface": "wing", "load": "9 g", "arm": "4 mm", "at": "9 mm", "twist": "0 deg"}
    assert Hang.model_validate({"date": DAY, **stiff}).twist.value == 0.0
    assert Balance.model_validate({"date": DAY, "at": "0 mm"}).at is not None


def test_what_must_be_above_nothing_is_a_key() -> None:
    """Each name is one of the record's own."""
    for record in KINDS.values():
        assert set(record.above_nothing) <= set(record.model_fields)

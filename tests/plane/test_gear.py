"""Items: what each kind can say of itself."""

import pytest
from pydantic import TypeAdapter, ValidationError

from foamwright.plane.gear import AnyItem, Board, Motor, Pack, Servo

ITEM: TypeAdapter[AnyItem] = TypeAdapter(AnyItem)


def test_the_kind_decides_which_keys_there_are() -> None:
    """A motor has a Kv, a camera has none."""
    motor = ITEM.validate_python({"name": "motor", "kind": "motor", "kv": "2300 rpm/V"})
    assert isinstance(motor, Motor)
    assert motor.kv is not None
    assert motor.kv.value == pytest.approx(2300 / 60)
    with pytest.raises(ValidationError):
        ITEM.validate_python({"name": "eye", "kind": "camera", "kv": "2300 rpm/V"})


def test_a_pack_without_mass_is_not_weightless() -> None:
    """A mass nobody gave is none, so that nobody can add it up as nothing."""
    pack = ITEM.validate_python({"name": "p", "kind": "pack", "cells": 3, "capacity": "650 mAh"})
    assert isinstance(pack, Pack)
    assert pack.mass is None
    assert pack.capacity is not None
    assert pack.capacity.value == pytest.approx(0.65 * 3600)


def test_a_pair_of_servos_is_one_item() -> None:
    """Left and right count two, at one place."""
    servo = ITEM.validate_python(
        {"name": "ailerons", "kind": "servo", "count": 2, "at": {"x": "272 mm", "y": "120 mm"}}
    )
    assert isinstance(servo, Servo)
    assert servo.count == 2


def test_a_draw_is_watts_or_amps() -> None:
    """Labels give one or the other."""
    for text, dimension in (("1.8 W", "power"), ("0.3 A", "current")):
        item = ITEM.validate_python({"name": "x", "kind": "other", "draw": text})
        assert isinstance(item, Board)
        assert item.draw is not None
        assert item.draw.dimension == dimension


def test_an_unknown_kind_and_a_missing_kind_are_refused() -> None:
    """Nothing is taken for something else."""
    for written in ({"name": "x", "kind": "rocket"}, {"name": "x"}):
        with pytest.raises(ValidationError):
            ITEM.validate_python(written)


def test_whole_numbers_are_whole() -> None:
    """Three cells are 3, not "3" and not 2.5."""
    for number in ("3", 2.5):
        with pytest.raises(ValidationError):
            ITEM.validate_python({"name": "p", "kind": "pack", "cells": number})
        with pytest.raises(ValidationError):
            ITEM.validate_python({"name": "m", "kind": "motor", "pole_pairs": number})


def test_pole_pairs_are_not_assumed() -> None:
    """Motors of one size are wound on 9 or 12 teeth with 12 or 14 magnets: nobody can tell."""
    motor = ITEM.validate_python({"name": "m", "kind": "motor"})
    assert isinstance(motor, Motor)
    assert motor.pole_pairs is None
    told = ITEM.validate_python({"name": "m", "kind": "motor", "pole_pairs": 7})
    assert isinstance(told, Motor)
    assert told.pole_pairs == 7

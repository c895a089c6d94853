"""The items of a new plane file."""

import tomllib
from typing import Any

import pytest

from foamwright.jobs import draft, parts, shapes
from foamwright.jobs.create import sheet_of
from foamwright.plane.airframe import Layout


def items(layout: str, **told: str) -> dict[str, dict[str, Any]]:
    """Return the items that answers make, by name."""
    answers = {key.replace("__", "."): text for key, text in told.items()}
    sheet = sheet_of({"layout": layout, "ruler.span": "800 mm", **answers}, "x")
    found = tomllib.loads("\n".join(parts.item_lines(sheet)))["items"]
    return {item["name"]: item for item in found}


def test_a_label_becomes_a_stock_name() -> None:
    """What is printed on the part names the class it is taken for."""
    found = items("tail aft", labels__motor="2306-1700", labels__pack="4S 850")
    assert found["motor"]["stock"] == "motor 2306-1700"
    assert found["pack"]["stock"] == "pack 4S 850"


def test_masses_are_told_or_left_to_the_stock() -> None:
    """A weighing is written, a missing one is not: never nought."""
    found = items("tail aft", scale__pack="41 ± 1 g")
    assert found["pack"]["mass"] == "41 ± 1 g"
    others = [item for name, item in found.items() if name != "pack"]
    assert all("mass" not in item for item in others)


def test_a_size_the_stock_does_not_have_is_kept() -> None:
    """A 25 A controller is like its neighbours, but its limit is its own."""
    found = items("plank", labels__speed_controller="25 A")
    assert found["speed controller"]["current_limit"] == "25 A"
    assert (
        "current_limit" not in items("plank", labels__speed_controller="20 A")["speed controller"]
    )


def test_what_is_not_on_board_is_not_listed() -> None:
    """`none` leaves a part out; a GPS that was told is in."""
    assert "GPS" not in items("plank")
    assert "camera" not in items("plank", labels__camera="none")
    assert "GPS" in items("plank", labels__gps="gps 12 mm")


@pytest.mark.parametrize("layout", shapes.LAYOUTS)
def test_every_servo_a_control_names_is_there(layout: Layout) -> None:
    """Controls and servos know each other by name; a plural is a pair."""
    found = items(layout)
    named = {servo for *_, servo in draft.CONTROLS[layout]}
    assert named <= set(found)
    for name in named:
        assert found[name].get("count", 1) == (2 if name.endswith("s") else 1)


def test_the_pack_may_be_moved() -> None:
    """Its reach is what was told of its bay."""
    found = items("plank", places__pack_foremost="50 mm", places__pack_rearmost="90 mm")
    assert found["pack"]["reach"] == {"foremost": "50 mm", "rearmost": "90 mm"}
    assert found["pack"]["at"] == {"x": "60 mm"}

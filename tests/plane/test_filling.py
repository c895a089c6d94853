"""Items filled from the stock: what is written wins, what is taken is marked."""

import pytest

from foamwright.plane.filling import frozen, label_of, stock_entry, with_stock
from foamwright.plane.stock import stock
from foamwright.problems import PlaneFileProblem

PACK = {"kind": "pack", "cells": 3, "capacity": "650 mAh"}
MOTOR = {"kind": "motor", "stator_diameter": "22 mm", "stator_height": "4 mm", "kv": "2300 rpm/V"}
PROPELLER = {"kind": "propeller", "diameter": "5 in", "pitch": "4.5 in", "blades": 3}


@pytest.mark.parametrize(
    ("item", "label"),
    [
        (PACK, "3S 650"),
        ({**PACK, "capacity": "0.65 Ah"}, "3S 650"),
        (MOTOR, "2204 2300"),
        ({**MOTOR, "stator_diameter": "8 mm"}, "0804 2300"),
        (PROPELLER, "5x4.5x3"),
        ({**PROPELLER, "diameter": "127 mm"}, "5x4.5x3"),
        ({"kind": "pack", "cells": 3}, None),
        ({"kind": "servo"}, None),
        ({**PACK, "capacity": "650 g"}, None),
        ({"cells": 3}, None),
    ],
)
def test_labels_are_made_of_what_is_printed_on_an_item(
    item: dict[str, object], label: str | None
) -> None:
    """The names the stock knows, whatever unit they were written in; none if too little is said."""
    assert label_of(item) == label


def test_a_named_entry_gives_what_the_item_leaves_out() -> None:
    """The item's own mass wins; a table that is written wins as a whole."""
    item = {"name": "m", "stock": "motor 1806 2300", "mass": "21 g"}
    filled, told = with_stock({"items": [item]}, stock())
    assert told == []
    items = filled["items"]
    assert isinstance(items, list)
    (found,) = items
    assert found["mass"] == "21 g"
    assert found["kind"] == "motor"
    assert "mass" not in found["from_stock"]
    assert "kv" in found["from_stock"]
    assert item == {"name": "m", "stock": "motor 1806 2300", "mass": "21 g"}


def test_an_item_with_its_own_mass_and_no_stock_is_left_alone() -> None:
    """Nothing is added to what the builder says himself."""
    assert stock_entry({**PACK, "mass": "57 g"}, stock()) == {}


def test_an_item_that_says_nothing_of_itself_is_a_typical_one() -> None:
    """A servo of which only the kind is known has the mass of a usual one."""
    typical = stock_entry({"kind": "servo"}, stock())
    assert typical == stock().typical("servo")
    assert "mass" in typical


def test_a_label_nobody_knows_wants_a_weighing() -> None:
    """An eight-cell pack is not filled with the mass of a small one."""
    with pytest.raises(PlaneFileProblem, match="weigh it"):
        stock_entry({**PACK, "cells": 8, "capacity": "9000 mAh"}, stock())
    _, told = with_stock({"items": [{**PACK, "cells": 8}]}, stock())
    ((path, what, _),) = told
    assert path == ("items", 0, "mass")
    assert "8S 650" in what


def test_an_unknown_name_is_told_at_its_key() -> None:
    """With the nearest names."""
    _, told = with_stock({"items": [{"stock": "motor 1806 fast"}]}, stock())
    ((path, _, expected),) = told
    assert path == ("items", 0, "stock")
    assert "motor 1806" in expected


def test_what_reading_sets_nobody_writes() -> None:
    """`from_stock` in a file is refused."""
    _, told = with_stock({"items": [{**PACK, "from_stock": ["mass"]}]}, stock())
    assert [path for path, _, _ in told] == [("items", 0, "from_stock")]


def test_lists_become_tuples_all_the_way_down() -> None:
    """As strict records want them."""
    assert frozen({"a": [1, [2, {"b": [3]}]]}) == {"a": (1, (2, {"b": (3,)}))}

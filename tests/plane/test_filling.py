"""Items filled from the stock: the builder's own numbers stay, the rest is marked as filled."""

from pathlib import Path

import pytest

from foamwright.plane.filling import causes, frozen, label_of, stock_entry, with_stock
from foamwright.plane.stock import Stock, stock


@pytest.fixture(scope="module")
def shelf() -> Stock:
    """The shipped stock."""
    return stock(Path("no-such-file.toml"))


@pytest.mark.parametrize(
    ("item", "label"),
    [
        ({"kind": "pack", "cells": 3, "capacity": "650 mAh"}, "3S 650"),
        ({"kind": "pack", "cells": 3, "capacity": "0.65 Ah"}, "3S 650"),
        (
            {
                "kind": "motor",
                "stator_diameter": "18 mm",
                "stator_height": "6 mm",
                "kv": "2300 rpm/V",
            },
            "1806 2300",
        ),
        ({"kind": "propeller", "diameter": "6 in", "pitch": "4 in"}, "6x4x2"),
        ({"kind": "propeller", "diameter": "127 mm", "pitch": "3 in", "blades": 3}, "5x3x3"),
    ],
)
def test_an_item_makes_its_own_label(item: dict[str, object], label: str) -> None:
    """As it is printed on such parts, whatever units the builder measured in."""
    assert label_of(item) == label


@pytest.mark.parametrize(
    "item",
    [
        {"kind": "pack", "cells": 3},
        {"kind": "camera"},
        {"kind": "pack", "cells": "three", "capacity": "650 mAh"},
        {"kind": 3},
        {},
    ],
)
def test_too_little_makes_no_label(item: dict[str, object]) -> None:
    """Half a label, another kind, a slip that is told later."""
    assert label_of(item) is None


def test_a_weighed_item_without_a_stock_name_takes_nothing(shelf: Stock) -> None:
    """What the builder weighed is not mixed with what is typical."""
    assert stock_entry({"kind": "camera", "mass": "4 g"}, shelf) == {}


def test_an_unweighed_pack_takes_the_mass_of_its_label(shelf: Stock) -> None:
    """3S 650: 4 + 3 (0.6 + 26 x 0.65) = 56.5 g within 10 %; common practice, no source."""
    raw, told = with_stock(
        {"items": [{"name": "p", "kind": "pack", "cells": 3, "capacity": "650 mAh"}]}, shelf
    )
    assert told == []
    items = raw["items"]
    assert isinstance(items, list)
    assert 50 <= float(str(items[0]["mass"]).split()[0]) <= 63
    assert "mass" in items[0]["from_stock"]
    assert "capacity" not in items[0]["from_stock"]


def test_unknown_names_and_set_keys_are_told(shelf: Stock) -> None:
    """Each at its own item; the other items are filled all the same."""
    raw, told = with_stock(
        {
            "items": [
                {"name": "m", "kind": "motor", "stock": "motor 1806 2301x"},
                {"name": "r", "kind": "rod", "mass": "2 g", "from_stock": ["mass"]},
                "no table",
                {"name": "e", "kind": "esc", "stock": "esc 20 A"},
            ]
        },
        shelf,
    )
    assert [path for path, _, _ in told] == [("items", 0, "stock"), ("items", 1, "from_stock")]
    assert "motor 1806 2300" in told[0][2]
    items = raw["items"]
    assert isinstance(items, list)
    assert items[3]["current_limit"] == "20 A"


def test_a_kind_nobody_knows_is_not_looked_up(shelf: Stock) -> None:
    """It is told as a kind, not as a name."""
    assert with_stock({"items": [{"kind": "kamera", "stock": "camera micro"}]}, shelf)[1] == []


def test_lists_become_tuples_all_the_way_down() -> None:
    """As strict records want them."""
    assert frozen({"a": [1, [2, {"b": [3]}]]}) == {"a": (1, (2, {"b": (3,)}))}


def test_a_label_nobody_knows_wants_a_weighing(shelf: Stock) -> None:
    """A pack of eight cells is not given the mass of a small one."""
    eight = {"name": "p", "kind": "pack", "cells": 8, "capacity": "650 mAh"}
    ((path, what, expected),) = with_stock({"items": [eight]}, shelf)[1]
    assert path == ("items", 0, "mass")
    assert "8S 650" in what
    assert "weigh it" in expected


def test_a_wrong_label_is_told_once(shelf: Stock) -> None:
    """The mass that does not follow from it is no finding of its own."""
    item = {"name": "p", "kind": "pack", "cells": 40, "capacity": "650 mAh"}
    told = with_stock({"items": [item]}, shelf)[1]
    cells = (("items", 0, "cells"), "40 is no number of cells", "8 at most")
    assert causes([*told, cells]) == [cells]
    assert causes(told) == told

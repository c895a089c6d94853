"""What could be fitted instead."""

from collections.abc import Callable

import pytest

from foamwright.plane.gear import Pack, Propeller
from foamwright.questions import exchange
from foamwright.questions.case import Case

Named = Callable[[str], Case]


def packs(case: Case, **way: bool) -> list[str]:
    """Return what the neighbours of the pack are called."""
    return [change.do for change in exchange.other_packs(case, **way)]


def test_the_first_of_a_kind_is_found(case: Named) -> None:
    """By kind, in the order written; none where there is none."""
    found = exchange.first_of(case("reedling"), "pack")
    assert found is not None
    assert found.name == "pack"
    assert exchange.first_of(case("reedling"), "beeper") is None


def test_packs_have_their_neighbours(case: Named) -> None:
    """3S 450: next larger 650, next smaller 300, and 4S of about the same energy."""
    plane = case("reedling")
    assert packs(plane) == ["Fit a 3S 650 mAh pack"]
    assert packs(plane, smaller=True) == ["Fit a 3S 300 mAh pack"]
    assert packs(plane, cell_more=True) == ["Fit a 4S 300 mAh pack"]


def test_another_pack_brings_its_own_numbers(case: Named) -> None:
    """Mass, capacity and price are the new one's, it is not owned, its place stays."""
    plane = case("reedling")
    (change,) = exchange.other_packs(plane)
    after = exchange.first_of(plane.changed(change.keys), "pack")
    before = exchange.first_of(plane, "pack")
    assert isinstance(after, Pack)
    assert before is not None
    assert after.capacity is not None
    assert after.capacity.value == pytest.approx(0.65 * 3600)
    assert after.mass is not None
    assert 0.050 < after.mass.value < 0.063  # such packs weigh 50-63 g: common practice
    assert "mass" in after.from_stock
    assert not after.owned
    assert after.at == before.at


def test_another_propeller_keeps_its_place_and_loses_its_bench_reading(case: Named) -> None:
    """An inch less of both on 5 x 3: 4 x 2, and what was measured of the old one is gone."""
    reading = {"rotation_speed": "18000 rpm", "current": "9 A", "voltage": "11 V"}
    plane = case("reedling").changed({"items.propeller.static_reading": reading})
    (change,) = exchange.other_propellers(plane, ((-1.0, -1.0),))
    assert change.do == "Fit a 4x2 propeller"
    after = exchange.first_of(plane.changed(change.keys), "propeller")
    assert isinstance(after, Propeller)
    assert after.static_reading is None
    assert after.diameter is not None
    assert after.diameter.value == pytest.approx(4 * 0.0254)
    assert after.at == exchange.first_of(plane, "propeller").at  # type: ignore[union-attr]  # there


def test_propellers_nobody_makes_are_not_offered(case: Named) -> None:
    """No pitch below an inch or far above the diameter."""
    plane = case("reedling")
    assert exchange.other_propellers(plane, ((0.0, -2.5), (-3.5, 0.0), (0.0, 5.0))) == []


def test_blades_are_kept_in_the_label(case: Named) -> None:
    """A three-blade propeller is exchanged for a three-blade one."""
    plane = case("reedling").changed({"items.propeller.blades": 3})
    (change,) = exchange.other_propellers(plane, ((0.0, 1.0),))
    assert change.do == "Fit a 5x4x3 propeller"


def test_leaving_things_out_says_what_it_saves(case: Named) -> None:
    """7 g of GPS."""
    plane = case("reedling")
    (change,) = exchange.without(plane, ("gps",))
    assert change.do == "Leave out GPS (7.00 g)"
    assert exchange.first_of(plane.changed(change.keys), "gps") is None


def test_without_a_label_there_are_no_neighbours(case: Named) -> None:
    """A pack of unknown cells has none."""
    keys = {"items.pack.stock": None, "items.pack.mass": "41 g"}
    assert packs(case("reedling").changed(keys)) == []

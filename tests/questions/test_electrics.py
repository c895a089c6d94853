"""Will speed controller, motor and pack cope with the current?"""

from collections.abc import Callable, Mapping

import numpy as np
import pytest

from foamwright.questions import electrics
from foamwright.questions.case import Case

CaseOf = Callable[[str], Case]


def value(case: Case, name: str) -> float:
    """Return a figure's median."""
    found = electrics.measure(case).named(name).value
    assert found is not None
    return found


def test_the_figures_are_named_for_good(reedling: Case) -> None:
    """Others read these names; 3.0 V a cell and 60 degrees are common practice, no source."""
    found = electrics.measure(reedling).figures
    assert [(f.name, f.label, f.unit, f.dimension) for f in found] == [
        ("current_max", "largest current, full throttle", "A", "current"),
        ("current_headroom", "headroom of the weakest part", "-", "number"),
        ("pack_voltage_min", "pack voltage then, pack low", "V", "voltage"),
        ("bench_voltage", "pack voltage then, straight from the charger", "V", "voltage"),
        ("esc_current_borne", "current the ESC bears", "A", "current"),
        ("motor_current_borne", "current the motor bears", "A", "current"),
        ("pack_temperature", "pack after a flight at full throttle", "K", "temperature"),
    ]
    limits = {f.name: (f.limit_low, f.limit_high) for f in found}
    assert limits["current_max"] == (None, value(reedling, "esc_current_borne"))
    assert limits["current_headroom"] == (1.0, None)
    assert limits["pack_voltage_min"] == (9.0, None)
    assert limits["pack_temperature"] == (None, electrics.HOT_PACK)
    assert pytest.approx(273.15 + 60.0) == electrics.HOT_PACK
    assert limits["esc_current_borne"] == limits["motor_current_borne"] == (None, None)


@pytest.mark.parametrize(
    ("keys", "word"),
    [
        ({"items.ESC.current_limit": "40 A"}, "yes"),
        ({"items.ESC.current_limit": "4 A"}, "no"),
        ({"items.motor.burst_current": "2 ± 0.1 A"}, "no"),
        ({"items.ESC.cutoff_voltage": "12.4 V"}, "no"),
    ],
)
def test_the_weakest_part_decides(reedling: Case, keys: Mapping[str, object], word: str) -> None:
    """Controller, motor or the pack's voltage: any of them alone can spoil it."""
    assert electrics.answer(reedling.changed(keys)).verdict == word


@pytest.mark.parametrize(
    ("keys", "part"),
    [
        ({"items.ESC.current_limit": "4 A"}, "the speed controller is over its limit"),
        ({"items.motor.burst_current": "2 ± 0.1 A"}, "the motor is over its limit"),
        ({"items.ESC.cutoff_voltage": "12.4 V"}, "the pack's voltage is over its limit"),
        ({}, "none of controller, motor and pack"),
    ],
)
def test_the_reason_names_the_weakest(
    reedling: Case, keys: Mapping[str, object], part: str
) -> None:
    """By how often it gives way."""
    assert part in electrics.answer(reedling.changed(keys)).because


@pytest.mark.parametrize(("air", "share"), [("open air", 1.0), ("some air", 0.8), ("buried", 0.6)])
def test_a_rating_is_worth_what_the_air_allows(reedling: Case, air: str, share: float) -> None:
    """Of 20 A printed; common practice, no source."""
    cooled = reedling.changed({"items.ESC.cooling": air})
    assert value(cooled, "esc_current_borne") == pytest.approx(20.0 * share, rel=0.01)
    assert any(f"{air}: {share:.0%} of its printed" in text for text in cooled_assumed(cooled))


def cooled_assumed(case: Case) -> tuple[str, ...]:
    """Return what electrics assumes."""
    return electrics.measure(case).assumed


def test_headroom_is_what_the_weakest_bears_over_what_is_drawn(reedling: Case) -> None:
    """Controller against the pack's current, motor against its own."""
    bears, _, _ = electrics.limits(reedling)
    flight = reedling.computed.full_throttle
    both = np.stack([bears.controller / flight.current_max, bears.motor / flight.motor_current_max])
    assert value(reedling, "current_headroom") == pytest.approx(np.median(both.min(axis=0)))


def test_the_pack_heats_by_its_own_resistance(reedling: Case) -> None:
    """dT = I R f Q / (c m), with medians put in by hand: 450 mAh, 41 g, 1000 J/(kg K), 80 %."""
    computed = reedling.computed
    pack = computed.complete_drive.drive.pack
    ohm = float(np.median(pack.cells * pack.cell_resistance))
    ampere = float(np.median(computed.full_throttle.top_current))
    rise = ampere * ohm * 0.8 * 0.450 * 3600.0 / (1000.0 * 0.041)
    told = value(reedling, "pack_temperature") - 288.15
    assert told == pytest.approx(rise, rel=0.10)


def test_a_bigger_pack_stays_cooler(reedling: Case) -> None:
    """The same current through less resistance and more mass."""
    change = {"items.pack.stock": "pack 3S 850", "items.pack.mass": "72 ± 1 g"}
    larger = reedling.changed(change)
    assert value(larger, "pack_temperature") < value(reedling, "pack_temperature")
    assert value(larger, "pack_voltage_min") > value(reedling, "pack_voltage_min")


def test_a_controller_without_a_rating_leaves_it_open(reedling: Case) -> None:
    """Named; the currents are told all the same, without a limit."""
    keys: dict[str, object] = {"items.ESC.stock": None, "items.ESC.cooling": "some air"}
    answer = electrics.answer(reedling.changed(keys))
    assert (answer.verdict, answer.missing) == (
        "open",
        ("the speed controller's current_limit",),
    )
    assert answer.figures[0].value is not None
    assert answer.figures[0].limit_high is None
    assert answer.remedies == ()


def test_every_remedy_does_what_it_says(case: CaseOf) -> None:
    """Each change applied again gives the effect that was told."""
    plane = case("windrow")
    keys = {change.do: change.keys for change in electrics.changes(plane)}
    answer = electrics.answer(plane)
    assert answer.remedies
    for remedy in answer.remedies:
        after = electrics.measure(plane.changed(keys[remedy.do]))
        chance, current, voltage = remedy.effect
        assert chance.after == after.probability
        assert current.after == after.named("current_max").value
        assert voltage.after == after.named("pack_voltage_min").value


def test_no_remedy_is_offered_where_none_reaches(reedling: Case) -> None:
    """A motor that bears half an ampere is saved by no propeller; a sound drive needs nothing."""
    hopeless = reedling.changed({"items.motor.burst_current": "0.5 ± 0.02 A"})
    assert electrics.answer(hopeless).remedies == ()
    assert electrics.answer(reedling).remedies == ()


def test_an_air_inlet_is_a_remedy_for_a_buried_controller_only(case: CaseOf) -> None:
    """In open air there is none to add."""

    def airs(plane: Case) -> bool:
        return any("air inlet" in change.do for change in electrics.changes(plane))

    assert airs(case("anvil"))
    assert not airs(case("anvil").changed({"items.ESC.cooling": "open air"}))


def test_the_next_controller_up_is_proposed(reedling: Case) -> None:
    """20 A to 30 A, with its own mass; beyond 40 A there is none."""
    changes = {change.do: change.keys for change in electrics.changes(reedling)}
    fitted = reedling.changed(changes["Fit a 30 A speed controller"])
    assert value(fitted, "esc_current_borne") == pytest.approx(30.0 * 0.8, rel=0.01)
    # 9 g as weighed against the 20 g of such a class in the stock
    gain = np.median(fitted.computed.masses.all_up - reedling.computed.masses.all_up)
    assert gain == pytest.approx(0.011, abs=1e-3)
    large = reedling.changed({"items.ESC.current_limit": "40 A"})
    assert not any("speed controller" in c.do and "Fit" in c.do for c in electrics.changes(large))


def test_hands_are_kept_clear(reedling: Case) -> None:
    """The caution of every full-throttle test."""
    assert "clear of hands and faces" in electrics.answer(reedling).cautions[0]

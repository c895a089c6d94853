"""Judging the power train's columns."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest

from foamwright.debrief.judging import ENOUGH, Bench, Expected
from foamwright.debrief.judging_power import (
    LACKING_PAIRS,
    cell_voltage,
    charge_used,
    current,
    drawn,
    electrical_rotation,
    over_idle,
    power,
    rotation,
    voltage,
)
from foamwright.debrief.naming import Meaning

Truth = Mapping[str, np.ndarray]
PLANE = Expected(cells=3, pack_charge=4680.0, no_load=2300 / 60, most_voltage=12.6)


def meaning(taken_as: str, unit: str = "") -> Meaning:
    """Return what a name says."""
    return Meaning(taken_as=taken_as, unit=unit, strength=0.95)


@pytest.fixture
def bench(truth: Truth) -> Bench:
    """Return a bench for a plane of three cells."""
    return Bench(time=truth["time"], step=0.1, expected=PLANE)


def test_a_voltage_is_told_by_its_cells(truth: Truth, bench: Bench) -> None:
    """In volts, millivolts, hundredths; four cells are not three."""
    for factor, unit in ((1.0, "V"), (1e3, "mV"), (100.0, "cV"), (10.0, "dV")):
        assert voltage(bench, truth["voltage"] * factor, meaning("voltage")).unit == unit
    wrong = replace(bench, expected=Expected(cells=6))
    found = voltage(wrong, truth["voltage"], meaning("voltage", "V"))
    assert found.sure < ENOUGH
    assert "no voltage of 6 cells" in found.because
    unknown = replace(bench, expected=Expected())
    assert voltage(unknown, truth["voltage"], meaning("voltage", "V")).sure > ENOUGH


def test_one_cell_times_their_number(truth: Truth, bench: Bench) -> None:
    """3.8 V a cell are 11.4 V; how many there are has to be known."""
    found = cell_voltage(bench, truth["voltage"] / 3, meaning("cell_voltage", "V"))
    assert found.factor == 3.0
    assert found.sure > ENOUGH
    unknown = replace(bench, expected=Expected())
    assert cell_voltage(unknown, truth["voltage"] / 3, meaning("cell_voltage")).sure < ENOUGH
    assert cell_voltage(bench, truth["voltage"] / 9, meaning("cell_voltage", "V")).sure < ENOUGH


def test_a_current_is_told_by_the_charge_counted(truth: Truth, bench: Bench) -> None:
    """Amperes, milliamperes and tenths; one whose integral is another is not believed."""
    counted = replace(
        bench,
        known={"charge_used": truth["charge_used"]},
        written={"charge_used": truth["charge_used"] / 3.6},
    )
    for factor, unit in ((1.0, "A"), (1e3, "mA"), (10.0, "dA")):
        found = current(counted, truth["current"] * factor, meaning("current"))
        assert (found.unit, found.sure > 0.9) == (unit, True)
    wrong = current(counted, truth["current"] * 3, meaning("current", "A"))
    assert wrong.sure < ENOUGH
    assert "the counter ran" in wrong.because


def test_a_current_alone_is_in_amperes_where_it_has_decimals(truth: Truth, bench: Bench) -> None:
    """Whole numbers may be tenths."""
    assert current(bench, truth["current"], meaning("current")).sure > ENOUGH
    assert current(bench, np.round(truth["current"] * 10), meaning("current")).sure < ENOUGH


def test_a_counter_of_charge_runs_up(truth: Truth, bench: Bench) -> None:
    """One that runs down, or past the pack, is none."""
    used = truth["charge_used"] / 3.6
    assert charge_used(bench, used, meaning("charge_used")).unit == "mAh"
    assert charge_used(bench, used, meaning("charge_used", "mAh")).sure > ENOUGH
    assert charge_used(bench, used[::-1], meaning("charge_used", "mAh")).sure < ENOUGH
    assert charge_used(bench, used * 20, meaning("charge_used", "mAh")).sure < ENOUGH
    assert drawn(used) == pytest.approx(used[-1] - used[0])


def test_electrical_revolutions_are_found_out(truth: Truth, bench: Bench) -> None:
    """Seven times the shaft's is above the motor's idle speed."""
    volts = replace(bench, known={"voltage": truth["voltage"]})
    rpm = truth["rotation_speed"] * 60
    assert rotation(volts, rpm, meaning("rotation_speed", "rpm")).sure > 0.9
    wrong = rotation(volts, rpm * 7, meaning("rotation_speed", "rpm"))
    assert wrong.sure < ENOUGH
    assert "electrical revolutions" in wrong.because
    assert "write `pole_pairs` of the motor" in wrong.because
    assert wrong.rather == "electrical_rotation_speed"
    assert rotation(bench, rpm, meaning("rotation_speed", "rpm")).sure > ENOUGH
    told = replace(volts, expected=replace(PLANE, pole_pairs=7))
    assert "write" not in rotation(told, rpm * 7, meaning("rotation_speed", "rpm")).because


ELECTRICAL = meaning("electrical_rotation_speed", "rpm")


def test_electrical_revolutions_want_the_pole_pairs(truth: Truth, bench: Bench) -> None:
    """Without them the key is named that makes them of use, and no other way is offered."""
    rpm = truth["rotation_speed"] * 60 * 7
    for one in (bench, replace(bench, known={"voltage": truth["voltage"]})):
        found = electrical_rotation(one, rpm, ELECTRICAL)
        assert found.sure < ENOUGH
        assert found.because == f"electrical revolutions: {LACKING_PAIRS}"
        assert found.rather == ""


def test_electrical_revolutions_over_the_pole_pairs_are_the_shafts(
    truth: Truth, bench: Bench
) -> None:
    """Below the motor's idle speed they are sure; without volts they are as the plane says."""
    rpm, known = truth["rotation_speed"] * 60 * 7, {"voltage": truth["voltage"]}
    told = replace(bench, expected=replace(PLANE, pole_pairs=7))
    found = electrical_rotation(replace(told, known=known), rpm, ELECTRICAL)
    assert found.sure >= 0.95
    assert "over 7 pole pairs at most" in found.because
    assert found.factor == pytest.approx(1.0 / 60.0)
    assert electrical_rotation(told, rpm, ELECTRICAL).sure > ENOUGH


@pytest.mark.parametrize("pairs", [1, 2, 3])
def test_pole_pairs_that_leave_too_fast_a_shaft_are_contradicted(
    pairs: int, truth: Truth, bench: Bench
) -> None:
    """A shaft does not turn at twice its idle speed."""
    told = replace(
        bench,
        expected=replace(PLANE, pole_pairs=pairs),
        known={"voltage": truth["voltage"]},
    )
    found = electrical_rotation(told, truth["rotation_speed"] * 60 * 7, ELECTRICAL)
    assert found.sure < ENOUGH
    assert f"over {pairs} pole pairs still" in found.because
    assert "half the number of magnets" in found.because
    assert found.rather == ""


def test_the_most_of_revolutions_is_held_against_idling(truth: Truth, bench: Bench) -> None:
    """Nothing where volts or Kv are not known."""
    volts = replace(bench, known={"voltage": np.full(truth["time"].size, 10.0)})
    turns = np.full(truth["time"].size, 230.0)
    assert over_idle(volts, turns) == pytest.approx(230.0 / (10.0 * 2300 / 60))
    assert over_idle(bench, turns) is None
    assert over_idle(replace(volts, expected=Expected()), turns) is None


def test_a_power_is_taken_by_its_unit(bench: Bench) -> None:
    """Watts."""
    assert power(bench, np.array([80.0, 120.0, 90.0]), meaning("power", "W")).sure > ENOUGH

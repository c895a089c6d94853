"""Judging by unit and size."""

import numpy as np
import pytest

from foamwright.debrief.judging import (
    ENOUGH,
    Bench,
    Expected,
    Verdict,
    big,
    borne_out,
    by_size,
    number,
    options_by_size,
    plain,
    si,
    stated,
    words,
)
from foamwright.debrief.naming import Meaning

BENCH = Bench(time=np.arange(3.0), step=1.0, expected=Expected())


def meaning(taken_as: str, unit: str = "", strength: float = 0.95) -> Meaning:
    """Return what a name says."""
    return Meaning(taken_as=taken_as, unit=unit, strength=strength)


def test_a_written_unit_is_believed_as_far_as_possible() -> None:
    """24 km/h is a speed, 2400 km/h is none of a foam plane."""
    assert stated(np.array([20.0, 24.0]), meaning("ground_speed", "km/h")).sure == 0.95
    found = stated(np.array([2400.0, 2400.0]), meaning("ground_speed", "km/h"))
    assert found.sure < ENOUGH
    assert "2400 is not possible" in found.because


@pytest.mark.parametrize(
    ("taken_as", "size", "units"),
    [
        ("voltage", 11.8, {"V"}),
        ("voltage", 11800.0, {"mV"}),
        ("charge_used", 430.0, {"mAh", "As"}),
        ("up_acceleration", 9.9, {"m/s2", "g"}),
        ("up_acceleration", 1010.0, {"mg", "cm/s2"}),
    ],
)
def test_size_leaves_some_units(taken_as: str, size: float, units: set[str]) -> None:
    """Those in which the 99 % point is met in flight."""
    assert set(options_by_size(np.array([size, size]), taken_as)) == units


def test_one_unit_left_is_enough_two_are_not() -> None:
    """A voltage of 11.8 is in volts; a speed of 20 may be anything."""
    assert by_size(np.array([11.8, 11.9]), meaning("voltage")).sure >= ENOUGH
    found = by_size(np.array([20.0, 20.0]), meaning("ground_speed"))
    assert found.sure < ENOUGH
    assert "nothing in the log tells" in found.because
    assert plain(BENCH, np.array([11.8, 11.9]), meaning("voltage")).unit == "V"


def test_no_unit_fits_what_is_no_such_thing() -> None:
    """A million is no voltage in any unit."""
    assert by_size(np.array([1e9, 1e9]), meaning("voltage")).sure < 0.5


def test_what_others_bear_out_is_sure_and_what_they_contradict_is_not() -> None:
    """The written unit against the one found out."""
    assert borne_out(meaning("ground_speed"), "kn", "it moves so").sure > 0.9
    assert borne_out(meaning("ground_speed", "kn"), "kn", "it moves so").sure > 0.9
    found = borne_out(meaning("ground_speed", "km/h"), "kn", "it moves so")
    assert found.sure < ENOUGH
    assert "header says km/h" in found.because


def test_the_pitch_speed_is_that_of_the_idle_motor() -> None:
    """4 inches a turn, 2300 turns a minute and volt, 11.1 V: 43.2 m/s."""
    plane = Expected(pitch=4 * 0.0254, no_load=2300 / 60, most_voltage=11.1)
    assert plane.pitch_speed == pytest.approx(43.2, abs=0.05)
    assert Expected(pitch=0.1).pitch_speed is None


def test_small_things() -> None:
    """Sizes, numbers in sentences, SI, words."""
    assert big(np.array([np.nan, -5.0, -5.0])) == 5.0
    assert big(np.array([np.nan])) == 0.0
    assert (number(3.14159), number(36521.4)) == ("3.14", "36521")
    assert si(np.array([20.0]), Verdict(unit="degC", factor=1.0, offset=273.15))[0] == 293.15
    assert words("ground_speed") == "ground speed"
    assert BENCH.with_channel("height", np.zeros(3)).known["height"].size == 3

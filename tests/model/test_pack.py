"""The pack and the gear it feeds."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.drive_parts import parts_of
from foamwright.model.ensemble import Draws
from foamwright.model.pack import gear_power, pack_of
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.pack import Pack

Computed = Callable[..., ComputablePlane]
FED: dict[str, object] = {
    "items.video transmitter": {"draw": "2 ± 0 W"},
    "items.flight controller": {"draw": "0.1 ± 0 A"},
    "items.receiver": {"draw": "0.1 ± 0 A"},
    "items.camera": {"draw": "0 A"},
    "items.GPS": {"draw": "0 A"},
    "items.aileron servos": {"draw": "0.05 ± 0 A"},
    "items.tail servos": {"draw": "0.05 ± 0 A"},
}
"""Draws a sheet of paper can add up: 2 W, and 0.1 + 0.1 + 4 x 0.05 = 0.4 A at 5 V."""


def pack(
    computed: Computed, keys: dict[str, object] | None = None
) -> tuple[Pack, Samples, list[str]]:
    """Return the glider's pack with some keys changed."""
    plane = computed("reedling", keys)
    parts = parts_of(plane.plane)
    assert parts is not None
    return pack_of(parts, plane.air, plane.draws)


def gear(computed: Computed, keys: dict[str, object]) -> float:
    """Return what the gear takes from a 3S pack [W]."""
    found, _, _ = pack(computed, keys)
    return float(np.median(gear_power(computed("reedling", keys).plane, found, Draws(64, 1))[0]))


def test_the_condition_of_the_cells_decides_their_resistance(computed: Computed) -> None:
    """6-9, 10-14 and 15-25 milliohm ampere-hours over 0.45 Ah: common practice, no source."""
    for condition, least, most in (("good", 6, 9), ("ordinary", 10, 14), ("tired", 15, 25)):
        found, _, said = pack(computed, {"items.pack.condition": condition})
        milliohm = 1e3 * np.median(found.cell_resistance) * 0.45
        assert 0.95 * least < milliohm < 1.15 * most
        assert any(condition in text for text in said)


def test_the_chargers_reading_settles_it(computed: Computed) -> None:
    """9 mohm a cell is 9 mohm a cell, and no longer an assumption."""
    found, _, said = pack(computed, {"items.pack.cell_resistance": "9 ± 0.5 mohm"})
    assert np.median(found.cell_resistance) == pytest.approx(9e-3, rel=0.01)
    assert not any("cells" in text for text in said)


def test_a_cold_day_stiffens_the_pack(computed: Computed) -> None:
    """At 0 against 25 degC the resistance is 1.4 to 2.2 times: common practice, no source."""
    cold, _, _ = pack(computed, {"site.temperature": "0 ± 0.1 degC"})
    warm, _, _ = pack(computed, {"site.temperature": "25 ± 0.1 degC"})
    assert 1.4 < np.median(cold.cell_resistance / warm.cell_resistance) < 2.2


def test_a_fifth_stays_in_the_pack(computed: Computed) -> None:
    """80 ± 3 % is flown unless the builder says otherwise."""
    _, usable, said = pack(computed)
    assert np.median(usable) == pytest.approx(0.8, abs=2e-3)
    assert np.std(usable) == pytest.approx(0.03, rel=0.05)
    assert any("80 %" in text for text in said)
    _, told, quiet = pack(computed, {"items.pack.usable": "70 %"})
    assert np.median(told) == pytest.approx(0.7, abs=2e-3)
    assert not any("charge is flown" in text for text in quiet)


def test_the_gears_draw_adds_up_through_a_switching_regulator(computed: Computed) -> None:
    """2 W of video and 0.4 A at 5 V through 88 %: (2 + 2) / 0.88 W, whatever rail voltage."""
    assert gear(computed, FED) == pytest.approx(4.0 / 0.88, rel=0.01)


def test_a_linear_regulator_burns_the_rest_of_the_volts(computed: Computed) -> None:
    """It passes the current: 11.4 V in for 5 V out, so 2.28 times the power."""
    regulator = {"kind": "regulator", "type": "linear", "mass": "3 g", "at": {"x": "200 mm"}}
    assert gear(computed, {**FED, "items.BEC": regulator}) == pytest.approx(
        4.0 * 11.4 / 5.0, rel=0.01
    )


def test_straight_from_the_pack_nothing_is_lost(computed: Computed) -> None:
    """A transmitter on the pack's own rail takes its 2 W and no more."""
    video: dict[str, object] = {"items.video transmitter": {"draw": "2 ± 0 W", "rail": "pack"}}
    assert gear(computed, {**FED, **video}) == pytest.approx(2.0 + 2.0 / 0.88, rel=0.01)


def test_a_draw_nobody_knows_is_named(computed: Computed) -> None:
    """It counts nothing, aloud."""
    keys: dict[str, object] = {"items.GPS.stock": None}
    plane = computed("reedling", keys)
    _, said = gear_power(plane.plane, pack(computed, keys)[0], Draws(16, 1))
    assert said == ["no draw known, so none counted, for GPS"]

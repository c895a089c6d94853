"""The motor's label made into samples."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.drive_parts import parts_of
from foamwright.model.ensemble import Draws
from foamwright.model.motor import motor_of
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.motor import PRINTED_KV, Motor

Computed = Callable[..., ComputablePlane]
NO_NUMBERS: dict[str, object] = {
    "items.motor.stock": None,
    "items.motor.kv": "2300 rpm/V",
    "items.motor.mass": "24 g",
}


def motor(
    computed: Computed, keys: dict[str, object] | None = None
) -> tuple[Motor, Samples, list[str]]:
    """Return the glider's motor with some keys changed."""
    parts = parts_of(computed("reedling", keys).plane)
    assert parts is not None
    return motor_of(parts, Draws(512, 3))


def test_a_printed_kv_is_believed_with_the_benchs_bias(computed: Computed) -> None:
    """94 % of it with 6 % spread (nine small motors on an open bench), said aloud."""
    found, _, said = motor(computed)
    kv = found.speed_constant * 60 / (2 * np.pi)
    assert np.median(kv) == pytest.approx(2300 * PRINTED_KV, rel=2e-3)
    assert np.std(kv) / np.mean(kv) == pytest.approx(0.06, abs=0.01)
    assert any("94% ± 6% of the printed" in text for text in said)


def test_a_measured_kv_is_believed_as_it_is(computed: Computed) -> None:
    """No bias, 1.5 % spread, nothing assumed about it."""
    keys: dict[str, object] = {"items.motor.kv": "2300 rpm/V", "items.motor.kv_measured": True}
    found, _, said = motor(computed, keys)
    kv = found.speed_constant * 60 / (2 * np.pi)
    assert np.median(kv) == pytest.approx(2300, rel=2e-3)
    assert np.std(kv) / np.mean(kv) == pytest.approx(0.015, abs=0.003)
    assert not any("Kv" in text for text in said)


def test_a_motor_without_numbers_gets_those_of_its_size(computed: Computed) -> None:
    """24 g at 2300 rpm/V: 0.05-0.2 ohm, 0.3-1.2 A idle, 12-25 A for ten seconds.

    Common practice, no source, for a motor of a 22 x 4 mm stator; each guess is named.
    """
    found, burst, said = motor(computed, NO_NUMBERS)
    assert 0.05 < np.median(found.resistance) < 0.2
    assert 0.3 < np.median(found.no_load_current) < 1.2
    assert 12 < np.median(burst) < 25
    for word in ("resistance", "no-load current", "ten-second current"):
        assert any(word in text for text in said)


def test_told_numbers_are_taken_and_narrower(computed: Computed) -> None:
    """A resistance that was measured replaces the guess from the size; copper warms by 40 K."""
    guess, _, _ = motor(computed, NO_NUMBERS)
    told, _, said = motor(computed, {**NO_NUMBERS, "items.motor.resistance": "100 ± 3 mohm"})
    # Copper: 0.39 % a kelvin (handbook), so 16 % on top of the cold value.
    assert np.median(told.resistance) == pytest.approx(0.1 * (1 + 0.00393 * 40), rel=0.01)
    assert np.std(np.log(told.resistance)) < 0.3 * np.std(np.log(guess.resistance))
    assert not any("resistance" in text for text in said)


def test_the_loss_grows_from_the_no_load_speed(computed: Computed) -> None:
    """The idle current is known at the speed its voltage gives, 10 V where none is written."""
    found, _, _ = motor(computed)
    assert found.no_load_speed == pytest.approx(10.0 * found.speed_constant)

"""The propeller: label, measured table, static reading."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.drive_parts import DriveParts, parts_of
from foamwright.model.ensemble import Draws
from foamwright.model.motor import motor_of
from foamwright.model.propeller import label_table, propeller_of, settled
from foamwright.physics.drive.equilibrium import TWO_PI
from foamwright.physics.drive.motor import current_for_torque
from foamwright.physics.drive.propeller import coefficients
from foamwright.physics.drive.propeller_spread import Spread, multipliers
from foamwright.plane.document import LoadedPlane

Computed = Callable[..., ComputablePlane]


def parts(computed: Computed, keys: dict[str, object] | None = None) -> DriveParts:
    """Return the glider's drive parts with some keys changed."""
    found = parts_of(computed("reedling", keys).plane)
    assert found is not None
    return found


def widths(spread: Spread) -> tuple[float, float]:
    """Return the relative spread of thrust and of power (normal draws)."""
    normals = np.random.default_rng(1).standard_normal((4000, 3))
    found = multipliers(normals, spread)
    return float(np.std(np.log(found.thrust))), float(np.std(np.log(found.power)))


def test_a_label_tells_a_typical_propeller(computed: Computed) -> None:
    """5 x 3 at 18 000 rpm at rest: CT 0.09-0.14, CP 0.035-0.06 as small propellers measure."""
    CT, CP, _ = coefficients(label_table(0.127, 0.0762, 2), np.zeros(1), np.array([300.0]))
    assert 0.08 < CT[0] < 0.15
    assert 0.03 < CP[0] < 0.07
    _, _, said = propeller_of(parts(computed), Path())
    assert any("from its label alone" in text for text in said)


def test_a_measured_table_is_believed_and_narrower(
    computed: Computed, measured_propeller: LoadedPlane
) -> None:
    """The rows come back, nothing is assumed, and the spread is half of the label's or less."""
    known = parts_of(measured_propeller.plane)
    assert known is not None
    table, (flying, _), said = propeller_of(known, measured_propeller.folder)
    _, (label, _), _ = propeller_of(parts(computed), Path())
    CT, CP, _ = coefficients(table, np.array([0.0, 0.45]), np.full(2, 300.0))
    assert pytest.approx([0.11, 0.11 * (1 - 0.36)], rel=0.01) == CT
    assert pytest.approx([0.05, 0.05 * (1 - 0.7 * 0.36)], rel=0.01) == CP
    assert said == []
    assert max(widths(flying)) < 0.5 * max(widths(label))


def test_a_bench_reading_narrows_the_label(computed: Computed) -> None:
    """One full-throttle reading of rpm and amps: less spread of power, and its middle moves.

    The reading is made up from a propeller that takes 15 % more power than the table's.
    """
    draws = Draws(512, 2)
    plane = computed("reedling")
    bare = parts(computed)
    motor, _, _ = motor_of(bare, draws)
    table, (_, rest), _ = propeller_of(bare, Path())
    turns = 300.0
    _, CP, _ = coefficients(table, np.zeros(1), np.array([turns]))
    density = float(np.median(plane.air.density))
    torque = 1.15 * CP[0] * density * turns**2 * 0.127**5 / TWO_PI
    amps = float(
        np.median(current_for_torque(motor, np.full(512, torque), np.full(512, TWO_PI * turns)))
    )
    keys: dict[str, object] = {
        "items.propeller.static_reading": {
            "rotation_speed": "18000 rpm",
            "current": f"{amps:.3f} A",
            "voltage": "11 V",
        }
    }
    known = parts(computed, keys)
    after = settled(known, table, rest, motor=motor, air=plane.air)
    assert settled(bare, table, rest, motor=motor, air=plane.air) is rest
    assert widths(after)[1] < 0.8 * widths(rest)[1]
    normals = np.random.default_rng(1).standard_normal((4000, 3))
    before_power = np.median(multipliers(normals, rest).power)
    after_power = np.median(multipliers(normals, after).power)
    assert before_power < after_power < 1.25
    assert abs(after_power - 1.15) < 0.6 * abs(before_power - 1.15)


def test_the_same_label_is_computed_once() -> None:
    """The table of a label is kept."""
    assert label_table(0.127, 0.0762, 2) is label_table(0.127, 0.0762, 2)

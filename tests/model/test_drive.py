"""Motor, propeller, controller and pack joined."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.drive import DriveModel, drive_of
from foamwright.model.drive_parts import parts_of
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.equilibrium import at_throttle
from foamwright.plane.document import LoadedPlane

Computed = Callable[..., ComputablePlane]


def joined(plane: ComputablePlane, loaded: LoadedPlane | None = None) -> DriveModel:
    """Return the drive of a plane, or of another one with its air and luck."""
    wanted = plane.plane if loaded is None else loaded.plane
    folder = Path() if loaded is None else loaded.folder
    parts = parts_of(wanted)
    assert parts is not None
    return drive_of(parts, wanted, folder, air=plane.air, draws=plane.draws)


def model(computed: Computed, keys: dict[str, object] | None = None) -> DriveModel:
    """Return the glider's drive with some keys changed."""
    return joined(computed("reedling", keys))


def static_thrust(found: DriveModel) -> Samples:
    """Return the thrust standing still at full throttle (n,) [N]."""
    return at_throttle(found.at_rest, np.array([[0.0]]), 1.0, 1.0).thrust[:, 0]


def width(values: Samples) -> float:
    """Return the relative spread."""
    return float(np.std(np.log(values)))


def test_each_better_reading_narrows_the_thrust(
    computed: Computed, measured_propeller: LoadedPlane
) -> None:
    """Label, then label with a bench reading of rpm, amps and grams; a measured table too."""
    label = model(computed)
    turns = at_throttle(label.at_rest, np.array([[0.0]]), 1.0, 1.0)
    reading: dict[str, object] = {
        "items.propeller.static_reading": {
            "rotation_speed": f"{60 * np.median(turns.revolutions):.0f} rpm",
            "current": f"{np.median(turns.pack_current):.2f} A",
            "voltage": "11.4 V",
            "thrust": f"{np.median(turns.thrust):.3f} N",
        }
    }
    bench = model(computed, reading)
    table = joined(computed("reedling"), measured_propeller)
    assert width(static_thrust(bench)) < 0.95 * width(static_thrust(label))
    assert width(static_thrust(table)) < 0.95 * width(static_thrust(label))
    assert label.provisional
    assert not bench.provisional
    assert not table.provisional


def test_static_thrust_of_a_light_motor(computed: Computed) -> None:
    """1806 2300 on 3S with 5 x 3: 350-450 g at 7-10 A; common practice, no source."""
    found = model(computed)
    state = at_throttle(found.at_rest, np.array([[0.0]]), 1.0, 1.0)
    assert 350 < np.median(state.thrust) / 9.80665e-3 < 450
    assert 7 < np.median(state.pack_current) < 10


def test_the_thrust_line_is_the_motors_height(computed: Computed) -> None:
    """45 mm up on its pylon."""
    assert model(computed).thrust_height == pytest.approx(0.076)


def test_currents_are_doubted_by_a_tenth(computed: Computed) -> None:
    """The discrepancy has median one and the stated spread."""
    factor = model(computed).current_factor
    assert np.median(factor) == pytest.approx(1.0, abs=5e-3)
    assert width(factor) == pytest.approx(0.10, abs=0.01)

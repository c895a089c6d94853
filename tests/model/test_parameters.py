"""What can be learned is told in words and SI."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.parameters import PARAMETERS, pack_ohms, parameters_of
from foamwright.quantity import SI_UNITS

Computed = Callable[..., ComputablePlane]


def test_every_parameter_of_the_glider_has_samples(computed: Computed) -> None:
    """One value a sample, all positive."""
    found = parameters_of(computed("reedling"), 15.0, delay=True)
    assert tuple(found) == tuple(PARAMETERS)
    assert "control_delay" not in parameters_of(computed("reedling"), 15.0)
    for values in found.values():
        assert values.shape == (256,)
        assert np.all(values > 0.0)


def test_without_a_drive_there_is_nothing_of_it(computed: Computed) -> None:
    """Mass, balance, drag and lift are left."""
    bare = computed("reedling", {"items.motor": {"remove": True}})
    assert set(parameters_of(bare, 15.0)) == {
        "all_up_mass",
        "balance_place",
        "drag_area",
        "maximum_lift",
    }


def test_figures_have_the_size_of_such_planes(computed: Computed) -> None:
    """Drag area 20 to 80 cm2 (zero-lift drag coefficient 0.02 to 0.06 on 10 dm2, common practice,
    no source), Kv 94 % of 2300, three cells of 30 to 45 milliohm and leads."""
    plane = computed("reedling")
    found = parameters_of(plane, 15.0)
    assert 20e-4 < np.median(found["drag_area"]) < 80e-4
    assert np.median(found["speed_constant"]) * 60.0 == pytest.approx(0.94 * 2300.0, rel=0.02)
    assert 0.08 < np.median(pack_ohms(plane)) < 0.16


def test_every_parameter_can_be_shown() -> None:
    """Its dimension has a unit."""
    assert {parameter.dimension for parameter in PARAMETERS.values()} <= set(SI_UNITS)

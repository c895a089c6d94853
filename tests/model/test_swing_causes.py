"""Half swings are found out, and an honest swing is left alone."""

import datetime as dt
from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.inertia import Axis, inertia_of
from foamwright.model.suspects import AS_PLANNED
from foamwright.model.swing_causes import OFTEN, by_logs, swing_suspects
from foamwright.plane.bench_records import Swing

Computed = Callable[..., ComputablePlane]


def swing(axis: Axis) -> Swing:
    """Return a swing about an axis."""
    told = {"distance": "300 mm", "length": "1.2 m", "time": "28.3 s", "swings": 20}
    return Swing.model_validate({"date": dt.date(2026, 5, 1), "axis": axis, **told})


@pytest.fixture
def tensor(computed: Computed) -> np.ndarray:
    """Return the glider's inertia from its mass list."""
    plane = computed("reedling")
    return inertia_of(plane.plane, plane.masses, plane.draws.branched())


def first(plane: ComputablePlane, tensor: np.ndarray, share: float, axis: Axis = "roll") -> str:
    """Return the likeliest cause of a swing of a share of the listed inertia in roll."""
    value = share * float(np.median(tensor[:, 0, 0]))
    reading = (value, 0.04 * value)
    return swing_suspects(tensor, plane.draws.branched(), swing(axis), reading)[0].name


def test_a_quarter_of_the_inertia_is_half_swings(computed: Computed, tensor: np.ndarray) -> None:
    """Half the time a swing: a quarter of the inertia. The distance from the middle comes next."""
    plane = computed("reedling")
    assert first(plane, tensor, 0.25) == "half swings were counted as whole ones"
    value = 0.25 * float(np.median(tensor[:, 0, 0]))
    found = swing_suspects(tensor, plane.draws.branched(), swing("roll"), (value, 0.04 * value))
    assert "distance" in found[1].name
    assert found[0].probability > 0.5
    assert "same side" in found[0].check


def test_the_listed_inertia_is_as_planned(computed: Computed, tensor: np.ndarray) -> None:
    """And so is a tenth more."""
    plane = computed("reedling")
    assert first(plane, tensor, 1.0) == AS_PLANNED
    assert first(plane, tensor, 1.1) == AS_PLANNED


def test_another_axis_and_double_counting_are_found(computed: Computed, tensor: np.ndarray) -> None:
    """A yaw inertia read as roll hung about yaw; four times is two counted for one."""
    plane = computed("reedling")
    ratio = float(np.median(tensor[:, 2, 2]) / np.median(tensor[:, 0, 0]))
    assert "yaw" in first(plane, tensor, ratio)
    assert "twice over" in first(plane, tensor, 4.0) or "read wrong" in first(plane, tensor, 4.0)


def test_the_weighing_is_bayes_rule() -> None:
    """Two causes, one reading in the middle between them: how often decides."""
    rng = np.random.default_rng(2)
    half = "half swings were counted as whole ones"
    logs = {AS_PLANNED: rng.normal(1.0, 0.2, 100_000), half: rng.normal(-1.0, 0.2, 100_000)}
    found = {s.name: s.probability for s in by_logs(logs, (0.0, 0.05))}
    odds = OFTEN[AS_PLANNED][0] / OFTEN[half][0]
    assert found[AS_PLANNED] == pytest.approx(odds / (1.0 + odds), abs=0.03)

"""A weight hung beside the spar."""

import math
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from foamwright.model.bench_checks import checks_of
from foamwright.model.computable import ComputablePlane
from foamwright.model.hanging import planned_twist
from foamwright.plane.bench import validated
from foamwright.plane.bench_records import Bench, Hang

Computed = Callable[..., ComputablePlane]


def hung(**told: str) -> Bench:
    """Return notes with one weight hung on."""
    written = {
        "surface": "wing",
        "load": "50 g",
        "arm": "40 mm",
        "at": "350 mm",
        "twist": "2 deg",
        **told,
    }
    lines = "\n".join(f'{key} = "{value}"' for key, value in written.items())
    return validated(f"[[hang]]\ndate = 2026-05-01\n{lines}\n", Path("bench.toml"))


def record(**told: str) -> Hang:
    """Return the one weight hung on."""
    return hung(**told).hang[0]


def middle(plane: ComputablePlane, **told: str) -> float:
    """Return the middle of the planned twist [deg]."""
    found = planned_twist(plane, record(**told), plane.draws.branched())
    assert found is not None
    return math.degrees(float(np.median(found)))


def test_twist_grows_with_load_arm_and_place(computed: Computed) -> None:
    """In proportion to load and arm, faster than the place where the wing tapers."""
    plane = computed("reedling")
    usual = middle(plane)
    assert middle(plane, load="100 g") == pytest.approx(2.0 * usual)
    assert middle(plane, arm="20 mm") == pytest.approx(0.5 * usual)
    assert middle(plane, at="175 mm") < 0.5 * usual


def test_foam_stiffness_is_hardly_known(computed: Computed) -> None:
    """Four in ten to two and a half times: that is why the test is worth ten minutes."""
    plane = computed("reedling")
    found = planned_twist(plane, record(), plane.draws.branched())
    assert found is not None
    low, high = np.quantile(found, (0.1, 0.9))
    assert 2.5 < high / low < 4.0


def test_a_fin_or_a_surface_long_gone_says_nothing(computed: Computed) -> None:
    """No check instead of a wrong one."""
    plane = computed("reedling")
    for name in ("fin", "a wing long gone"):
        assert planned_twist(plane, record(surface=name), plane.draws.branched()) is None


def test_a_wing_ten_times_too_soft_is_found(computed: Computed) -> None:
    """As planned it is hardly; a twist near the middle of the plan is."""
    plane = computed("reedling")
    usual = middle(plane)
    (good,) = checks_of(hung(twist=f"{usual:.2f} deg"), plane)
    (soft,) = checks_of(hung(twist=f"{min(10.0 * usual, 80.0):.2f} deg"), plane)
    assert good.name == soft.name == "twist_of_wing"
    assert good.chance > 0.9
    assert soft.chance < 0.5


def test_the_last_of_two_counts(computed: Computed) -> None:
    """A rod was glued in meanwhile."""
    first, second = hung(), hung(twist="1 deg")
    both = first.model_copy(update={"hang": (*first.hang, *second.hang)})
    (found,) = checks_of(both, computed("reedling"))
    assert found.value == pytest.approx(math.radians(1.0))

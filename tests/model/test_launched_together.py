"""Several planes thrown at once end as each would alone."""

from collections.abc import Callable

import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.launched_together import can_be_thrown, launched_together

Computed = Callable[..., ComputablePlane]
CHANGES: tuple[tuple[str, dict[str, object]], ...] = (
    ("anvil", {"items.pack.mass": "85 ± 2 g"}),
    ("anvil", {"thrower.steers": "stabiliser"}),
    ("reedling", {"airframe.bare_mass": "140 ± 2 g"}),
    ("windrow", {"thrower.throttle": "70 %", "thrower.angle": "12 deg"}),
    ("windrow", {"bungee": {"length": "2 m", "stretch": "4 m", "pull": "2 kgf"}}),
)


def test_each_ends_as_it_does_alone(computed: Computed) -> None:
    """Throttle, angle and every single launch, whoever was thrown beside it."""
    together = [computed(name, keys) for name, keys in CHANGES]
    launched_together(together)
    for (name, keys), found in zip(CHANGES, together, strict=True):
        assert {"launch_plan", "launch_clean"} <= set(vars(found))
        alone = computed(name, keys)
        assert found.launch_plan.throttle == alone.launch_plan.throttle
        assert found.launch_plan.angle == alone.launch_plan.angle
        chance = alone.launch_plan.map.chance
        assert found.launch_plan.map.chance == pytest.approx(chance, abs=0.01)
        assert (found.launch_clean == alone.launch_clean).mean() > 0.99


def test_what_is_known_is_not_flown_again(computed: Computed) -> None:
    """A plan that was made stays the very same; so does a whole launch."""
    plane = computed("anvil", {"items.pack.mass": "90 g"})
    plan, clean = plane.launch_plan, plane.launch.clean
    launched_together([plane])
    assert plane.launch_plan is plan
    assert plane.launch_clean.tolist() == clean.tolist()
    launched_together([])


def test_a_plane_without_its_propeller_is_left_alone(computed: Computed) -> None:
    """A motor and no propeller cannot be thrown; a glider can."""
    lacking = computed("reedling", {"items.propeller": None})
    glider = computed("reedling", {"items.propeller": None, "items.motor": None})
    assert not can_be_thrown(lacking)
    assert can_be_thrown(glider)
    launched_together([lacking, glider])
    assert "launch_plan" not in vars(lacking)
    assert "launch_clean" in vars(glider)

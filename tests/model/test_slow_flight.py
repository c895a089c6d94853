"""Stall, approach and glide."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import GRAVITY, ComputablePlane

Computed = Callable[..., ComputablePlane]


@pytest.mark.parametrize("name", ["reedling", "windrow", "anvil", "saltmarsh"])
def test_stall_is_where_the_largest_lift_carries_the_weight(computed: Computed, name: str) -> None:
    """V = sqrt(2 W / (rho S CLmax)) in every sample; approach 1.3 times, banked 45 by 1.189."""
    plane = computed(name)
    slow = plane.slow_flight
    weight = GRAVITY * plane.masses.all_up
    stall = np.sqrt(2 * weight / (plane.air.density * plane.lift.area * slow.maximum_lift))
    assert slow.stall_speed == pytest.approx(stall)
    assert plane.stall_speed == pytest.approx(stall)
    assert slow.approach_speed == pytest.approx(1.3 * stall)
    assert slow.stall_speed_banked == pytest.approx(stall * 2**0.25)


@pytest.mark.parametrize(
    ("name", "least", "most"),
    [("reedling", 0.80, 1.05), ("windrow", 0.55, 0.80), ("anvil", 0.60, 0.80)],
)
def test_largest_lift_of_small_foam_wings(
    computed: Computed, name: str, least: float, most: float
) -> None:
    """Cambered foil with a tail 0.8-1.05, tailless 0.55-0.8: common practice, no source.

    A plank trims with its elevons up, and tape and seams take 5-10 % off the usual 0.6-0.8.
    """
    assert least < np.median(computed(name).slow_flight.maximum_lift) < most


def test_the_largest_lift_is_known_within_its_promise(computed: Computed) -> None:
    """12 % of the largest lift, so 6 % of the stall speed."""
    slow = computed("reedling").slow_flight
    assert np.std(np.log(slow.maximum_lift)) == pytest.approx(0.12, abs=0.02)
    assert np.std(np.log(slow.stall_speed)) == pytest.approx(0.062, abs=0.012)


def test_a_slender_shell_says_how_it_stalls(computed: Computed) -> None:
    """Aspect ratio 1.9: usable lift 0.70, aloud; the glider's wing says nothing."""
    assert any("slender wing" in text for text in computed("anvil").slow_flight.assumed)
    assert computed("reedling").slow_flight.assumed == ()


def test_the_best_glide_is_the_best_of_the_drag_curve(computed: Computed) -> None:
    """No flyable speed has a larger W/D, and none a smaller V D / W than the least sink."""
    plane = computed("reedling")
    slow, drag = plane.slow_flight, plane.drag
    flyable = drag.lift_coefficient <= slow.maximum_lift[:, None]
    ratio = np.where(flyable, plane.weight[:, None] / drag.drag, 0.0)
    sink = np.where(flyable, drag.drag * drag.speed / plane.weight[:, None], np.inf)
    assert np.all(slow.glide_ratio >= ratio.max(axis=1) * (1 - 1e-9))
    assert np.all(slow.sink_rate <= sink.min(axis=1) * (1 + 1e-9))
    assert slow.glide_ratio == pytest.approx(ratio.max(axis=1), rel=0.05)


def test_it_glides_faster_than_it_stalls(computed: Computed) -> None:
    """Best glide lies above the stall in nine of ten planes, and it sinks at about V / (L/D)."""
    slow = computed("reedling").slow_flight
    assert np.mean(slow.glide_speed > slow.stall_speed) > 0.85
    assert np.median(slow.sink_rate) < np.median(slow.glide_speed / slow.glide_ratio) * 1.02


def test_heavier_stalls_faster_by_the_root_of_the_weight(computed: Computed) -> None:
    """60 g of ballast at the centre of gravity on 252.5 g: sqrt(312.5 / 252.5), within 1.5 %."""
    ballast = {"kind": "ballast", "mass": "60 ± 0.1 g", "at": {"x": "264.6 mm"}}
    heavy = computed("reedling", {"items.lead": ballast}).stall_speed
    ratio = np.median(heavy / computed("reedling").stall_speed)
    assert ratio == pytest.approx(np.sqrt(312.5 / 252.5), rel=0.015)

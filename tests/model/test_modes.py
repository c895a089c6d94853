"""Modes of whole planes: sane, batched, and moved by what should move them."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.handling import USUAL_OVER_STALL
from foamwright.physics.arrays import Samples
from foamwright.physics.flight.modes import roll_yaw_matrix

Computed = Callable[..., ComputablePlane]


def middle(values: Samples) -> float:
    """Return the median of what is a number."""
    return float(np.nanmedian(values))


@pytest.mark.parametrize("name", ["reedling", "windrow", "anvil"])
def test_a_balanced_plane_settles_in_pitch_and_roll(computed: Computed, name: str) -> None:
    """Fast in pitch and roll, within a second; the slow swing lasts several seconds a turn."""
    modes = computed(name).modes
    assert middle(modes.short_period.growth) < -3.0
    assert middle(modes.sideways.roll) < -5.0
    assert 3.0 < 2.0 * np.pi / middle(modes.phugoid.frequency) < 15.0


def test_the_slow_swing_is_lanchesters(computed: Computed) -> None:
    """Period of 2^(1/2) pi V / g (Nelson 1998) and longer, as a soft balance draws it out."""
    plane = computed("windrow")
    period = 2.0 * np.pi / middle(plane.modes.phugoid.frequency)
    lanchester = np.sqrt(2.0) * np.pi * plane.modes.speed / 9.80665
    assert lanchester < period < 1.4 * lanchester


def test_the_usual_speed_is_cruise_or_above_stall(computed: Computed) -> None:
    """Median best range with a drive, half as fast again as the stall without."""
    plane = computed("reedling")
    assert plane.handling.usual_speed == pytest.approx(np.nanmedian(plane.cruise.speed))
    glider = computed("saltmarsh")
    assert glider.handling.usual_speed == pytest.approx(
        USUAL_OVER_STALL * np.median(glider.stall_speed)
    )


def test_faster_is_stiffer(computed: Computed) -> None:
    """At twice the speed the short period is about twice as fast, and the roll root too."""
    plane = computed("windrow")
    slow, fast = plane.handling.modes_at(12.0), plane.handling.modes_at(24.0)
    ratio = middle(fast.short_period.frequency) / middle(slow.short_period.frequency)
    assert ratio == pytest.approx(2.0, rel=0.05)
    assert middle(fast.sideways.roll) / middle(slow.sideways.roll) == pytest.approx(2.0, rel=0.05)


def test_without_fins_the_swept_wing_wags(computed: Computed) -> None:
    """Nothing holds its nose: the wag is hardly damped or grows."""
    assert middle(computed("saltmarsh").modes.sideways.dutch_roll.damping) < 0.05


def test_more_dihedral_rights_the_glider(computed: Computed) -> None:
    """Eight degrees instead of four: the spiral root falls in nearly every sample."""
    flat = computed("reedling").modes.sideways.spiral
    bent = computed("reedling", {"airframe.surfaces.wing.dihedral": "8 deg"}).modes.sideways.spiral
    assert np.mean(bent < flat) > 0.95


def test_level_flight_is_level(computed: Computed) -> None:
    """Lift is the weight, and the drag coefficient is that of the drag curve."""
    plane = computed("reedling")
    modes = plane.handling.modes_at(12.0)
    pressure = 0.5 * plane.air.density * 12.0**2 * plane.lift.area
    assert modes.flight.lift * pressure == pytest.approx(plane.weight)
    drag = plane.drag_at(np.array([12.0])).drag[:, 0]
    assert modes.flight.drag * pressure == pytest.approx(drag)
    assert np.all(modes.flight.thrust_slope < 0.0)


def test_every_sample_is_its_own_plane(computed: Computed) -> None:
    """The roots solve each sample's own characteristic equation."""
    plane = computed("anvil")
    modes = plane.modes
    matrix = roll_yaw_matrix(plane.derivatives, modes.flight)
    for index in (0, 17, 101):
        shifted = matrix[index] - modes.sideways.roll[index] * np.eye(4)
        if modes.sideways.coupled[index]:
            continue
        singular = np.linalg.svd(shifted, compute_uv=False)
        assert singular[-1] < 1e-6 * singular[0]

"""Sideways parts beyond the lattice: signs, limits, and strips that add up to the whole."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.lift.lateral import (
    adverse_yaw,
    load_spread,
    roll_from_sweep,
    roll_from_wing_height,
    strip_coefficients,
    yaw_from_roll,
)
from foamwright.physics.lift.lattice import LIFT, ROLL, SIDE, YAW, Reference, unit_loads
from foamwright.physics.lift.panels import Surface

RATIOS = st.floats(1.0, 20.0)
SWEEPS = st.floats(0.0, 0.7)


def one(value: float) -> np.ndarray:
    """Return an array of one."""
    return np.array([value])


def plane() -> tuple[Surface, Surface]:
    """Return a wing with dihedral and a fin behind it."""
    wing = Surface(
        leading_edge=np.array([[[0.0, 0.0, 0.0], [0.05, 0.5, 0.06]]]),
        chord=np.array([[0.2, 0.12]]),
        twist=np.zeros((1, 2)),
        camber=np.zeros((1, 2)),
        mirrored=True,
        spanwise=10,
        chordwise=3,
    )
    fin = Surface(
        leading_edge=np.array([[[0.6, 0.0, 0.02], [0.65, 0.0, 0.17]]]),
        chord=np.array([[0.12, 0.08]]),
        twist=np.zeros((1, 2)),
        camber=np.zeros((1, 2)),
        mirrored=False,
        spanwise=5,
        chordwise=3,
    )
    return wing, fin


def reference() -> Reference:
    """Return reference lengths about a point ahead of the wing."""
    return Reference(
        area=one(0.16), chord=one(0.16), span=one(1.0), point=np.array([[-0.1, 0.0, 0.0]])
    )


def test_all_strips_together_are_the_whole() -> None:
    """Forces agree to rounding; moments too where loads act at the quarter chord, to 3 %."""
    result = unit_loads(plane(), reference())
    found = strip_coefficients(result, np.ones(result.strip_surface.size, dtype=bool))
    whole = result.coefficients
    assert found[..., [LIFT, SIDE]] == pytest.approx(whole[..., [LIFT, SIDE]], abs=1e-9)
    beta = result.state_names.index("beta")
    assert found[0, beta, [ROLL, YAW]] == pytest.approx(whole[0, beta, [ROLL, YAW]], rel=0.03)


def test_parts_add_up_to_the_whole() -> None:
    """Wing strips and fin strips are summed alike; the fin carries the side force."""
    result = unit_loads(plane(), reference())
    wing = strip_coefficients(result, result.strip_surface == 0)
    fin = strip_coefficients(result, result.strip_surface == 1)
    both = strip_coefficients(result, result.strip_surface >= 0)
    assert wing + fin == pytest.approx(both, abs=1e-12)
    beta = result.state_names.index("beta")
    assert fin[0, beta, SIDE] < 0.0
    assert fin[0, beta, YAW] > 0.0
    assert fin[0, result.state_names.index("alpha"), LIFT] == pytest.approx(0.0, abs=1e-9)


@given(ratio=RATIOS, sweep=SWEEPS)
def test_yaw_from_roll_stays_between_nothing_and_the_endless_wings(
    ratio: float, sweep: float
) -> None:
    """Sweep and an aerodynamic centre behind the balance add to it; it is never positive."""
    straight = yaw_from_roll(one(ratio), one(0.0), one(0.0))[0]
    assert -1.0 / 6.0 < straight < 0.0
    assert yaw_from_roll(one(ratio), one(sweep), one(0.1))[0] <= straight + 1e-12


@given(ratio=RATIOS, sweep=SWEEPS)
def test_sweep_rolls_out_of_the_slip_forward_sweep_into_it(ratio: float, sweep: float) -> None:
    """Odd in the sweep, and less than the endless wing's."""
    place = np.linspace(-0.95, 0.95, 20)[None]
    load, tangent = np.ones_like(place), np.full_like(place, np.tan(sweep))
    aft = roll_from_sweep(load, place, tangent, span=one(2.0), aspect_ratio=one(ratio))[0]
    forward = roll_from_sweep(load, place, -tangent, span=one(2.0), aspect_ratio=one(ratio))[0]
    assert aft <= 0.0
    assert forward == pytest.approx(-aft)
    assert abs(aft) <= 0.5 * np.tan(sweep) + 1e-12


@given(ratio=RATIOS)
def test_a_longer_wing_has_less_adverse_yaw(ratio: float) -> None:
    """Inverse to the aspect ratio, always against the roll."""
    assert adverse_yaw(one(ratio))[0] < 0.0
    assert adverse_yaw(one(2.0 * ratio))[0] == pytest.approx(0.5 * adverse_yaw(one(ratio))[0])


def test_a_high_wing_acts_as_dihedral_a_low_one_against_it() -> None:
    """Odd in the height; nothing without a body."""
    high, low = (
        roll_from_wing_height(one(6.0), one(height), one(0.06), one(0.8))[0]
        for height in (0.03, -0.03)
    )
    assert high < 0.0
    assert low == pytest.approx(-high)
    assert roll_from_wing_height(one(6.0), one(0.03), one(0.0), one(0.8))[0] == 0.0


def test_load_at_the_tips_spreads_furthest() -> None:
    """All load at the tips gives one, at the middle nothing; the scale does not matter."""
    place = np.array([[-0.5, 0.0, 0.5]])
    span = one(1.0)
    assert load_spread(np.array([[3.0, 0.0, 3.0]]), place, span)[0] == pytest.approx(1.0)
    assert load_spread(np.array([[0.0, 2.0, 0.0]]), place, span)[0] == pytest.approx(0.0)

"""Closed forms of wings: identities and limits."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.lift.closed_form import (
    biplane_interference,
    elliptic_roll_damping,
    far_downwash_slope,
    induced_drag,
    section_slope,
    straight_wing_slope_helmbold_1942,
    strip_roll_control,
    strip_roll_damping,
    swept_wing_slope,
    vee_tail_horizontal_area,
    vee_tail_vertical_area,
    wing_slope,
)

RATIO = st.floats(0.5, 30.0)
SLOPE = st.floats(3.0, 7.0)
SHARE = st.floats(0.0, 1.0)


@given(RATIO, SLOPE)
def test_the_swept_formula_without_sweep_is_helmbolds(aspect_ratio: float, slope: float) -> None:
    """An algebraic identity, for any section."""
    a, section = np.asarray(aspect_ratio), np.asarray(slope)
    swept = swept_wing_slope(section, a, np.asarray(0.0))
    assert swept == pytest.approx(straight_wing_slope_helmbold_1942(section, a), rel=1e-9)


@given(RATIO, SLOPE, st.floats(0.0, 0.3))
def test_section_and_wing_slope_undo_each_other(ratio: float, slope: float, tau: float) -> None:
    """From section to wing and back."""
    a, section, excess = np.asarray(ratio), np.asarray(slope), np.asarray(tau)
    assert section_slope(wing_slope(section, a, excess), a, excess) == pytest.approx(slope)


@given(RATIO)
def test_a_very_slender_wing_tends_to_jones(ratio: float) -> None:
    """Half pi times the aspect ratio is never exceeded and is reached at low aspect ratio."""
    section = np.asarray(2.0 * np.pi)
    small = np.asarray(ratio / 1000.0)
    slope = straight_wing_slope_helmbold_1942(section, small)
    assert slope == pytest.approx(np.pi / 2.0 * small, rel=0.02)


@given(RATIO, SLOPE)
def test_far_downwash_is_twice_the_induced_angle(ratio: float, slope: float) -> None:
    """Drag of an elliptic wing is lift times the induced angle, half the downwash far behind."""
    a, wing = np.asarray(ratio), np.asarray(slope)
    drag = induced_drag(wing, a, np.asarray(0.0))
    assert drag == pytest.approx(wing * far_downwash_slope(wing, a) / 2.0)


@given(SHARE, SHARE, SHARE)
def test_ailerons_side_by_side_add_up(taper: float, one: float, other: float) -> None:
    """Two flaps that meet are one flap; all of the half span is the strips' whole moment arm."""
    start, end = sorted((one, other))
    slope, lam = np.asarray(5.0), np.asarray(taper)
    roll = [
        float(strip_roll_control(slope, lam, np.asarray(a), np.asarray(b)))
        for a, b in ((0.0, start), (start, end), (end, 1.0), (0.0, 1.0))
    ]
    assert sum(roll[:3]) == pytest.approx(roll[3])


@given(SHARE)
def test_strip_roll_damping_is_the_integral_over_the_span(taper: float) -> None:
    """Sum of strips, each at the angle its own roll speed makes (midpoints, 20 000)."""
    y = (np.arange(20_000) + 0.5) / 20_000
    chord = 2.0 / (1.0 + taper) * (1.0 - (1.0 - taper) * y)
    found = strip_roll_damping(np.asarray(4.4), np.asarray(taper))
    assert found == pytest.approx(-4.4 / 2.0 * np.mean(chord * y**2), rel=1e-6)


def test_an_endless_elliptic_wing_has_the_roll_damping_of_its_strips() -> None:
    """Without induced effects: a quarter of the elliptic chord's second moment, -a/8."""
    found = elliptic_roll_damping(np.asarray(6.0), np.asarray(1e9))
    assert found == pytest.approx(-6.0 / 8.0)


@given(st.floats(0.0, 1.5))
def test_the_two_tails_of_a_vee_share_its_area(dihedral: float) -> None:
    """Horizontal and vertical part add up to the whole."""
    angle, area = np.asarray(dihedral), np.asarray(0.02)
    both = vee_tail_horizontal_area(area, angle) + vee_tail_vertical_area(area, angle)
    assert both == pytest.approx(0.02)


def test_wings_close_together_interfere_almost_fully() -> None:
    """Interference falls with the gap and stays below one."""
    found = biplane_interference(np.asarray([0.05, 0.1, 0.3, 0.5]))
    assert np.all(np.diff(found) < 0.0)
    assert found[0] < 1.0

"""Moments of areas."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.frame.cut_section import properties, ring_moments, spot_moments


def box(width: float, height: float, right: float = 0.0, up: float = 0.0) -> np.ndarray:
    """Return a box around a point, anticlockwise (1, 4, 2)."""
    corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * 0.5 * np.array([width, height])
    found: np.ndarray = (corners + np.array([right, up]))[None]
    return found


def test_a_box_is_as_stiff_as_the_handbook_says() -> None:
    """Width times height cubed over twelve."""
    found = properties(ring_moments(box(0.034, 0.052, 0.1, -0.2)))
    assert found.area[0] == pytest.approx(0.034 * 0.052)
    assert found.centre[0] == pytest.approx([0.1, -0.2])
    assert found.inertia_right[0] == pytest.approx(0.034 * 0.052**3 / 12, rel=1e-9)
    assert found.inertia_up[0] == pytest.approx(0.052 * 0.034**3 / 12, rel=1e-9)
    assert found.product[0] == pytest.approx(0.0, abs=1e-15)


def test_a_ring_turned_round_counts_negative() -> None:
    """So a hole is added with its corners the other way."""
    ring = box(0.02, 0.03)
    assert ring_moments(ring[:, ::-1]) == pytest.approx(-ring_moments(ring))


@given(st.floats(0.02, 0.1), st.floats(0.02, 0.1), st.floats(-0.1, 0.1), st.floats(-0.1, 0.1))
def test_moving_a_section_leaves_its_stiffness(w: float, h: float, x: float, y: float) -> None:
    """Second moments are about the section's own centre."""
    here, there = (properties(ring_moments(box(w, h, *at))) for at in ((0.0, 0.0), (x, y)))
    assert there.inertia_right[0] == pytest.approx(here.inertia_right[0], rel=1e-6)
    assert there.inertia_up[0] == pytest.approx(here.inertia_up[0], rel=1e-6)


def test_two_rods_apart_are_stiff_by_their_distance() -> None:
    """Steiner's part alone: 2 A (d/2)^2."""
    rods = spot_moments(np.array([1e-6]), np.array([[0.0, 0.02]]))
    rods = rods + spot_moments(np.array([1e-6]), np.array([[0.0, -0.02]]))
    assert properties(rods).inertia_right[0] == pytest.approx(2e-6 * 0.02**2)


def test_nothing_left_has_no_centre() -> None:
    """The area is nought and the centre is no number; nothing is raised."""
    found = properties(np.zeros((1, 6)))
    assert found.area[0] == 0.0
    assert np.isnan(found.centre).all()

"""Thickness and camber read from outlines whose thickness and camber are known."""

import numpy as np
import pytest

from foamwright.physics.lift.coordinates import outline
from foamwright.physics.lift.thin_airfoil import four_digit


def four_digit_outline(camber: float, position: float, thickness: float) -> np.ndarray:
    """Outline of a four-digit section, thickness across the chord (Abbott & von Doenhoff)."""
    x = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, 90)))
    half = (
        5.0
        * thickness
        * (0.2969 * np.sqrt(x) - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    )
    line = np.where(
        x < position,
        camber / position**2 * (2.0 * position * x - x**2),
        camber / (1.0 - position) ** 2 * (1.0 - 2.0 * position + 2.0 * position * x - x**2),
    )
    upper, lower = np.column_stack([x, line + half]), np.column_stack([x, line - half])
    return np.vstack([upper[::-1], lower[1:]])


def test_four_digit_outline_gives_its_digits_back() -> None:
    """NACA 2412: 2 % camber at 0.4, 12 % thickness at 0.3, trailing edge 0.25 %."""
    read = outline(four_digit_outline(0.02, 0.4, 0.12))
    assert read.thickness == pytest.approx(0.12, abs=3e-4)
    assert read.thickness_position == pytest.approx(0.30, abs=0.01)
    assert read.camber == pytest.approx(0.02, abs=2e-4)
    assert read.camber_position == pytest.approx(0.40, abs=0.01)
    assert read.trailing_edge == pytest.approx(0.0025, abs=1e-4)
    assert not read.outside


def test_theory_of_the_outline_is_that_of_its_mean_line() -> None:
    """Zero lift and moment within 2 % of the closed mean line."""
    read, exact = (
        outline(four_digit_outline(0.04, 0.4, 0.10)),
        four_digit(np.array([0.04]), np.array([0.4])),
    )
    assert read.theory.zero_lift == pytest.approx(exact.zero_lift, rel=0.02)
    assert read.theory.moment == pytest.approx(exact.moment, rel=0.02)


def test_scale_and_angle_of_the_drawing_do_not_matter() -> None:
    """The same section 180 mm long and turned by 5 deg reads the same."""
    points = four_digit_outline(0.03, 0.4, 0.09)
    turn = np.deg2rad(5.0)
    turned = (
        180.0 * points @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    )
    assert outline(turned + 7.0).camber == pytest.approx(outline(points).camber, abs=1e-4)
    assert outline(turned + 7.0).thickness == pytest.approx(outline(points).thickness, abs=1e-4)


def test_points_in_a_muddle_are_flagged() -> None:
    """Points listed from below, or shuffled, are no outline over the top."""
    points = four_digit_outline(0.02, 0.4, 0.12)
    assert outline(points[::-1]).outside
    shuffled = np.random.default_rng(3).permutation(points)
    assert outline(shuffled).outside

"""Blades: quadrature, measured stations, labels."""

import numpy as np
import pytest

from foamwright.physics.drive.blade import (
    PRINTED_PITCH,
    ROOT,
    TYPICAL_CAMBER,
    BladeStations,
    label_blade,
    measured_blade,
    quadrature,
)


def test_the_stations_integrate_a_polynomial_exactly() -> None:
    """Gauss-Legendre: the integral of x^5 from root to tip is (1 - root^6) / 6."""
    radius, width = quadrature(20)
    assert np.sum(width * radius**5) == pytest.approx((1 - ROOT**6) / 6, rel=1e-12)


def test_a_measured_blade_keeps_what_was_measured() -> None:
    """Chord and twist between stations follow the line, camber falls back to the typical one."""
    stations = BladeStations(
        radius=np.array([0.15, 0.6, 1.0]),
        chord=np.array([0.2, 0.2, 0.1]),
        twist=np.array([0.6, 0.3, 0.1]),
    )
    blade = measured_blade(stations, 0.2, 3.0)
    at = float(np.interp(0.8, blade.radius, blade.chord[0]))
    assert at == pytest.approx(0.15, abs=0.002)
    assert np.all(blade.camber == TYPICAL_CAMBER)
    assert blade.twist.shape == (1, 20)


def test_a_label_becomes_a_blade_of_nearly_the_printed_pitch() -> None:
    """Pitch at 75 % radius is the printed one times the median of the measured blades."""
    blade = label_blade(0.1524, 0.1016, 2.0)
    twist = float(np.interp(0.75, blade.radius, blade.twist[0]))
    assert 0.75 * np.pi * np.tan(twist) * 0.1524 == pytest.approx(PRINTED_PITCH * 0.1016, rel=0.02)


def test_small_blades_are_wider() -> None:
    """A 3-inch blade is wider for its size than a 9-inch one, as measured."""
    small, large = label_blade(0.0762, 0.05, 2.0), label_blade(0.2286, 0.15, 2.0)
    assert small.chord.max() > 1.2 * large.chord.max()

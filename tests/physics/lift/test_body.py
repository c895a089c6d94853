"""Moment of slender bodies."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.lift.body import (
    FINENESS,
    apparent_mass_factor,
    body_fineness,
    body_moment_slope,
    neutral_point_shift,
)


def test_a_spheroid_has_munks_moment() -> None:
    """Twice the volume times k2 - k1, the volume being 4/3 pi a b b."""
    angle = np.linspace(0.0, np.pi, 400)
    place, width = (-0.5 * np.cos(angle))[None], (0.1 * np.sin(angle))[None]
    fineness = body_fineness(place, width, width)
    factor = apparent_mass_factor(fineness)
    volume = 4.0 / 3.0 * np.pi * 0.5 * 0.05**2
    assert fineness == pytest.approx([10.0], rel=1e-3)
    assert not FINENESS.beyond(fineness)[0]
    assert body_moment_slope(place, width, factor) == pytest.approx(2.0 * volume * factor, rel=1e-3)


@given(st.floats(1.5, 50.0))
def test_the_factor_lies_between_sphere_and_needle(fineness: float) -> None:
    """Nothing for a sphere, one for a needle, and growing."""
    one, longer = (float(apparent_mass_factor(np.asarray(f))) for f in (fineness, fineness * 1.1))
    assert 0.0 < one < longer < 1.0


def test_width_counts_in_pitch_and_height_in_yaw() -> None:
    """An ellipse's apparent mass is that of the circle over the axis square to the flow."""
    place = np.asarray([[0.0, 0.2, 0.6, 0.8]])
    flat = np.asarray([[0.0, 0.1, 0.1, 0.0]])
    one = np.ones(1)
    wide = body_moment_slope(place, 2.0 * flat, one)
    assert wide == pytest.approx(4.0 * body_moment_slope(place, flat, one))


def test_a_body_moves_the_neutral_point_forward() -> None:
    """By its moment over the plane's lift."""
    found = neutral_point_shift(np.asarray([0.002]), np.asarray([5.0]), np.asarray([0.1]))
    assert found == pytest.approx([-0.004])

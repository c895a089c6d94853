"""Twist of solid surfaces."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.frame.torsion import torsion_constant, twist

PLACE = np.linspace(0.0, 0.12, 201)


def thick(most: float) -> np.ndarray:
    """Return the thickness of an elliptic section (1, k)."""
    half = 0.06
    return most * np.sqrt(np.maximum(1.0 - ((PLACE - half) / half) ** 2, 0.0))[None, :]


@given(st.floats(0.002, 0.02))
def test_stiffness_grows_with_the_cube_of_thickness(most: float) -> None:
    """Twice as thick is nearly eight times as stiff while it is thin."""
    ratio = torsion_constant(PLACE, thick(2.0 * most))[0] / torsion_constant(PLACE, thick(most))[0]
    assert 6.0 < ratio <= 8.0


def test_samples_do_not_mix() -> None:
    """Each row has its own constant."""
    both = torsion_constant(PLACE, np.concatenate([thick(0.01), thick(0.02)]))
    assert both[0] == torsion_constant(PLACE, thick(0.01))[0]
    assert both[1] == torsion_constant(PLACE, thick(0.02))[0]


def test_a_bar_of_one_section_twists_in_proportion() -> None:
    """T L / (G J), whatever the number of cuts."""
    for cuts in (2, 41):
        place = np.linspace(0.0, 0.4, cuts)
        found = twist(np.array([0.5]), place, np.full((1, cuts), 2.0))
        assert found[0] == pytest.approx(0.5 * 0.4 / 2.0)


def test_the_thin_end_twists_most() -> None:
    """A tapered surface twists more than one that keeps its root section."""
    place = np.linspace(0.0, 0.4, 41)
    even, taper = np.full((1, 41), 2.0), np.linspace(2.0, 0.5, 41)[None, :]
    torque = np.array([0.5])
    assert twist(torque, place, taper)[0] > twist(torque, place, even)[0]

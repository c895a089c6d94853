"""Neutral point, damping, and coefficients about another point."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.physics.lift.lattice import LIFT, PITCH, Reference, unit_loads
from foamwright.physics.lift.panels import Surface
from foamwright.physics.lift.stability import (
    about_another_point,
    neutral_point,
    rate_damping,
    static_margin,
)

ZERO = np.zeros((1, 2))
PLANE = (
    Surface(
        leading_edge=np.asarray([[[0.0, 0.0, 0.0], [0.05, 0.5, 0.04]]]),
        chord=np.asarray([[0.2, 0.12]]),
        twist=ZERO + 0.03,
        camber=ZERO + 0.02,
        mirrored=True,
        spanwise=5,
        chordwise=2,
    ),
    Surface(
        leading_edge=np.asarray([[[0.6, 0.0, 0.02], [0.64, 0.0, 0.2]]]),
        chord=np.asarray([[0.12, 0.08]]),
        twist=ZERO,
        camber=ZERO,
        mirrored=False,
        spanwise=3,
        chordwise=2,
    ),
)
POINT = st.tuples(st.floats(-0.3, 0.6), st.floats(-0.2, 0.2), st.floats(-0.2, 0.2))


def reference(point: tuple[float, float, float]) -> Reference:
    """Area 0.16 m2, chord 0.16 m, span 1 m."""
    return Reference(
        area=np.asarray([0.16]),
        chord=np.asarray([0.16]),
        span=np.asarray([1.0]),
        point=np.asarray([point]),
    )


@settings(max_examples=15, deadline=None)
@given(POINT, POINT)
def test_shifted_coefficients_are_those_solved_about_the_new_point(
    old: tuple[float, float, float], new: tuple[float, float, float]
) -> None:
    """Moments and rates, for any two points, against a fresh solution."""
    first = unit_loads(PLANE, reference(old))
    fresh = unit_loads(PLANE, reference(new)).coefficients
    moved = about_another_point(first.coefficients, first.reference, np.asarray([new]))
    assert moved == pytest.approx(fresh, abs=1e-10 + 1e-10 * float(np.abs(fresh).max()))


def test_about_the_neutral_point_lift_makes_no_moment() -> None:
    """The alpha state's moment vanishes there, and so does the margin."""
    found = unit_loads(PLANE, reference((0.05, 0.0, 0.0)))
    alpha = found.coefficients[:, 1]
    point = np.asarray([[0.05, 0.0, 0.0]])
    place = neutral_point(alpha[:, LIFT], alpha[:, PITCH], point[:, 0], np.asarray([0.16]))
    point[:, 0] = place
    moved = about_another_point(found.coefficients, found.reference, point)
    assert moved[0, 1, PITCH] == pytest.approx(0.0, abs=1e-12)
    assert static_margin(place, place, np.asarray([0.16])) == pytest.approx([0.0])


def test_damping_grows_with_speed_and_the_square_of_the_span() -> None:
    """Nelson's form: a quarter of density, speed, area and span squared times the derivative."""
    one = np.ones(1)
    slow = rate_damping(-0.45 * one, 1.225 * one, 10.0 * one, 0.0216 * one)
    fast = rate_damping(-0.45 * one, 1.225 * one, 20.0 * one, 4.0 * 0.0216 * one)
    assert fast == pytest.approx(8.0 * slow)
    assert slow[0] < 0.0

"""Roots and tables against the general-purpose library SciPy."""

import numpy as np
import pytest
from scipy.interpolate import RegularGridInterpolator
from scipy.optimize import brentq

from foamwright.physics.numerics import roots, tables

pytestmark = pytest.mark.published


def test_roots_agree_with_brent() -> None:
    """Two hundred transcendental equations, 1e-9 apart at most."""
    speeds = np.linspace(0.1, 3.0, 200)
    ours, unbracketed = roots.bracketed_root(
        lambda x: np.cos(speeds * x) - x, np.zeros(200), np.full(200, 2.0)
    )
    theirs = [
        brentq(lambda x, speed=speed: np.cos(speed * x) - x, 0.0, 2.0, xtol=1e-13)
        for speed in speeds
    ]
    assert not unbracketed.any()
    residual = np.cos(speeds * ours) - ours
    assert np.abs(residual).max() < 1e-7
    # Fast cosines have several roots; where there is one, both find it.
    single = speeds < 2.0
    assert ours[single] == pytest.approx(np.array(theirs)[single], abs=1e-8)


def test_tables_agree_with_the_regular_grid_interpolator() -> None:
    """A rough table in four dimensions, 500 points inside it, rounding apart."""
    generator = np.random.default_rng(20)
    axes = [np.sort(generator.uniform(-1.0, 1.0, k)) for k in (3, 5, 4, 6)]
    table = generator.normal(size=(3, 5, 4, 6))
    points = [generator.uniform(axis[0], axis[-1], 500) for axis in axes]
    ours, outside = tables.look_up(axes, table, points)
    theirs = RegularGridInterpolator(axes, table)(np.stack(points, axis=-1))
    assert not outside.any()
    assert ours == pytest.approx(theirs, rel=1e-9, abs=1e-12)

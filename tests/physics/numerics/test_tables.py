"""Table look-up: exact where it must be, held and flagged beyond the edge."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.numerics.tables import FEW, bracket, look_up

NODES = np.array([0.0, 1.0, 3.0, 10.0])


@given(st.floats(min_value=0.0, max_value=10.0))
def test_a_fraction_leads_back_to_the_value(value: float) -> None:
    """Left node plus fraction of the cell is the value."""
    left, fraction, outside = bracket(NODES, np.array([value]))
    assert NODES[left] + fraction * (NODES[left + 1] - NODES[left]) == pytest.approx([value])
    assert np.all((fraction >= 0.0) & (fraction <= 1.0))
    assert not outside.any()


def test_nodes_are_met_exactly() -> None:
    """At its nodes a table gives its own values."""
    table = np.array([5.0, -2.0, 7.0, 1.0])
    values, outside = look_up([NODES], table, [NODES])
    assert values.tolist() == table.tolist()
    assert not outside.any()


def test_beyond_the_edge_the_edge_is_held_and_flagged() -> None:
    """No extrapolation, and it is said."""
    values, outside = look_up([NODES], NODES**2, [np.array([-1.0, 2.0, 11.0])])
    assert values[[0, 2]].tolist() == [0.0, 100.0]
    assert outside.tolist() == [True, False, True]


@given(st.integers(min_value=0, max_value=2**31))
def test_a_multilinear_function_is_reproduced(seed: int) -> None:
    """x, y, z, and xyz between nodes are exact."""
    generator = np.random.default_rng(seed)
    axes = [NODES, np.array([-1.0, 2.0]), np.array([0.0, 0.5, 4.0])]
    a, b, c = np.meshgrid(*axes, indexing="ij")
    points = [generator.uniform(axis[0], axis[-1], 5) for axis in axes]
    x, y, z = points
    values, _ = look_up(axes, 1.0 + a - 2.0 * b + c, points)
    assert values == pytest.approx(1.0 + x - 2.0 * y + z)


def test_trailing_axes_are_carried() -> None:
    """A table of vectors gives vectors."""
    table = np.stack([NODES, -NODES], axis=-1)
    values, outside = look_up([NODES], table, [np.array([2.0, 5.0])])
    assert values == pytest.approx(np.array([[2.0, -2.0], [5.0, -5.0]]))
    assert outside.shape == (2,)


def test_points_broadcast_together() -> None:
    """One Reynolds number for a row of angles."""
    table = NODES[:, None] + np.array([0.0, 100.0])[None, :]
    values, _ = look_up([NODES, np.array([0.0, 1.0])], table, [np.array([1.0, 2.0]), np.ones(1)])
    assert values == pytest.approx([101.0, 102.0])


@given(st.integers(min_value=0, max_value=2**31), st.integers(min_value=2, max_value=2 * FEW))
def test_few_nodes_and_many_are_found_alike(seed: int, nodes: int) -> None:
    """The left node is the one NumPy's search finds, on a node and at both ends too."""
    dice = np.random.default_rng(seed)
    axis = np.cumsum(dice.uniform(0.1, 1.0, nodes))
    values = np.concatenate([axis, dice.uniform(axis[0] - 1.0, axis[-1] + 1.0, 20)])
    left, fraction, outside = bracket(axis, values)
    held = np.clip(values, axis[0], axis[-1])
    wanted = np.clip(np.searchsorted(axis, held, side="right") - 1, 0, nodes - 2)
    assert left.tolist() == wanted.tolist()
    assert axis[left] + fraction * (axis[left + 1] - axis[left]) == pytest.approx(held)
    assert outside.tolist() == ((values < axis[0]) | (values > axis[-1])).tolist()

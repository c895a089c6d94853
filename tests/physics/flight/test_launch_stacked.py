"""Throws stacked for few array operations."""

import dataclasses
from collections.abc import Callable

import numpy as np
import pytest

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.launch_plane import Throw, single
from foamwright.physics.flight.launch_stacked import Stacked, some_stacked, stacked

MakeThrow = Callable[..., Throw]


def fields(flight: Stacked) -> dict[str, Samples]:
    """Return all arrays by name."""
    return {field.name: getattr(flight, field.name) for field in dataclasses.fields(flight)}


def test_samples_are_last_in_every_array(make_throw: MakeThrow) -> None:
    """So that the same throws can be taken out of all of them."""
    throw = make_throw(3, mass=[0.1, 0.2, 0.3], Clb=[-0.1, -0.2, -0.3], begin=[0.0, 1.0, np.inf])
    flight = stacked(throw)
    assert {array.shape[-1] for array in fields(flight).values()} == {3}
    found = some_stacked(flight, np.array([2, 0]))
    for name, array in fields(flight).items():
        assert fields(found)[name].tolist() == array[..., [2, 0]].tolist(), name


def test_single_precision_stays_single(make_throw: MakeThrow) -> None:
    """One double array would make every step double."""
    for name, array in fields(stacked(single(make_throw(2)))).items():
        assert array.dtype == np.float32, name


def test_the_stall_lies_where_the_straight_line_meets_the_largest_lift(
    make_throw: MakeThrow,
) -> None:
    """Upright, and the other way up at four fifths of it."""
    low, top = stacked(make_throw()).stall[:, 0]
    assert 0.15 + 4.2 * top == pytest.approx(0.95)
    assert 0.15 + 4.2 * low == pytest.approx(-0.8 * 0.95)


@pytest.mark.parametrize("product", [0.0, 2e-4])
def test_roll_and_yaw_solve_the_inertia(make_throw: MakeThrow, product: float) -> None:
    """Accelerations of roll and yaw, put back into the inertia, are the moments (mechanics)."""
    flight = stacked(make_throw(inertia_product=product))
    inertia = np.array([[4e-3, -product], [-product, 8e-3]])
    load = 0.5 * 1.225 * 0.11 * 0.8
    sideslip, aileron = (inertia @ flight.sideways[1:, row, 0] for row in (0, 3))
    assert sideslip == pytest.approx(load * np.array([-0.05, 0.05]))
    assert aileron == pytest.approx(load * np.array([0.18, -0.002]))
    assert inertia @ flight.pull[2:, 0] == pytest.approx([-1.0, 0.0], abs=1e-12)


def test_a_body_turning_freely_obeys_euler(make_throw: MakeThrow) -> None:
    """I w' = -w x (I w), by matrices (mechanics)."""
    flight, rates = stacked(make_throw()), np.array([3.0, -1.0, 2.0])
    inertia = np.diag([4e-3, 4.5e-3, 8e-3])
    inertia[0, 2] = inertia[2, 0] = -2e-4
    wanted = np.linalg.solve(inertia, -np.cross(rates, inertia @ rates))
    p, q, r = rates
    roll, yaw = flight.spinning[:, :, 0] @ np.array([p * q, q * r])
    pitch = flight.tumbling[:, 0] @ np.array([r * p, r * r - p * p])
    assert [roll, pitch, yaw] == pytest.approx(wanted)


def test_a_motor_that_runs_in_the_hand_started_long_ago(make_throw: MakeThrow) -> None:
    """No delay: always; else when written, as fast as its ramp, and without one at once."""
    flight = stacked(make_throw(3, delay=[0.0, 0.3, 0.2], ramp=[0.2, 0.2, 0.0]))
    assert flight.start.tolist() == [-np.inf, 0.3, 0.2]
    assert flight.over_ramp == pytest.approx([5.0, 5.0, 1e6])


def test_a_rudder_follows_the_aileron_asked_for(make_throw: MakeThrow) -> None:
    """Only where it is asked to."""
    without, half = (stacked(make_throw(rudder_share=share)) for share in (0.0, 0.5))
    assert without.sideways[:, 9, 0].tolist() == [0.0, 0.0, 0.0]
    assert half.sideways[0, 9, 0] == pytest.approx(0.5 * 0.1 * half.load[0])
    assert half.sideways[2, 9, 0] < 0.0

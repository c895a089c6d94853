"""Throws put together and taken apart."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.physics.flight.launch import flown
from foamwright.physics.flight.launch_plane import Throw, joined, single, some

MakeThrow = Callable[..., Throw]


def test_joined_throws_keep_their_order(make_throw: MakeThrow) -> None:
    """First all of the first, then all of the second."""
    both = joined([make_throw(2, speed=[7.0, 8.0]), make_throw(1, speed=9.0)])
    assert both.release.speed.tolist() == [7.0, 8.0, 9.0]
    assert both.air.CLa.size == both.plane.mass.size == both.power.arm.size == 3


def test_some_throws_are_taken_out_of_every_record(make_throw: MakeThrow) -> None:
    """The same samples everywhere."""
    throw = make_throw(3, speed=[7.0, 8.0, 9.0], mass=[0.1, 0.2, 0.3], begin=[1.0, 2.0, 3.0])
    found = some(throw, np.array([True, False, True]))
    assert found.release.speed.tolist() == [7.0, 9.0]
    assert found.plane.mass.tolist() == [0.1, 0.3]
    assert found.hands.begin.tolist() == [1.0, 3.0]


def test_single_precision_is_single_everywhere(make_throw: MakeThrow) -> None:
    """One array left double would make all of them double."""
    found = single(make_throw(2))
    for record in (found.plane, found.air, found.power, found.hands, found.release):
        assert {getattr(record, name).dtype for name in record.__slots__} == {np.dtype("float32")}
    assert flown(found, 0.1).clean.dtype == np.bool_


@pytest.mark.parametrize(
    "steers",
    [
        {"begin": np.inf, "elevator": -0.08, "torque_constant": 0.015},
        {},
        {"begin": 0.0, "bank_gain": 0.5, "roll_gain": 0.05, "rate_gain": 0.05, "pitch_gain": 0.4},
    ],
    ids=["hands off", "pilot", "stabiliser"],
)
def test_single_precision_changes_no_verdict(
    make_throw: MakeThrow, steers: dict[str, object]
) -> None:
    """2000 throws of every kind, about half of them clean: none ends otherwise."""
    luck = np.random.default_rng(5)
    count = 2000
    throw = make_throw(
        count,
        mass=0.45,
        speed=luck.normal(8.0, 1.0, count),
        climb_angle=luck.normal(0.15, 0.1, count),
        bank=luck.normal(0.0, 0.15, count),
        head_wind=luck.normal(0.5, 0.8, count),
        maximum_lift=luck.normal(0.95, 0.1, count),
        thrust_constant=luck.normal(2.0, 0.3, count),
        **steers,
    )
    double, narrow = flown(throw), flown(single(throw))
    assert 0.05 < double.clean.mean() < 0.98
    assert (double.clean == narrow.clean).all()
    assert narrow.height[double.clean] == pytest.approx(double.height[double.clean], abs=0.02)

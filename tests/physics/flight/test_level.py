"""Level flight: crossings, cheapest speeds, flags."""

import numpy as np
import pytest

from foamwright.physics.drive.blade import label_blade
from foamwright.physics.drive.controller import Controller
from foamwright.physics.drive.equilibrium import TWO_PI, Drive
from foamwright.physics.drive.motor import Motor
from foamwright.physics.drive.pack import Pack
from foamwright.physics.drive.propeller import Multipliers, propeller_table
from foamwright.physics.flight.level import (
    DragCurve,
    at_speeds,
    cheapest_speed,
    crossing,
    level_cost,
    level_states,
    top_speed,
)

SPEED = np.linspace(6.0, 40.0, 69)
PARASITE = np.array([0.003, 0.004, 0.005])
INDUCED = np.array([60.0, 80.0, 50.0])
DRAG = PARASITE[:, None] * SPEED**2 + INDUCED[:, None] / SPEED**2
"""The parabolic polar D = a V^2 + b / V^2."""


def drive() -> Drive:
    """Three alike: 2204 of 2300 rpm/V, 5x3, 3S 1300."""
    one = np.ones(3)
    kv = 2300.0 * TWO_PI / 60.0 * one
    return Drive(
        motor=Motor(
            speed_constant=kv,
            resistance=0.1 * one,
            no_load_current=0.6 * one,
            no_load_speed=10.0 * kv,
        ),
        controller=Controller(resistance=0.008 * one, part_loss=0.15 * one),
        pack=Pack(
            cells=3,
            capacity=4680.0 * one,
            cell_resistance=0.009 * one,
            lead_resistance=0.006 * one,
            voltage_shift=0.0 * one,
        ),
        propeller=propeller_table(label_blade(0.127, 0.0762, 2.0))[0],
        multipliers=Multipliers(advance=one, thrust=one, power=one),
        density=1.2 * one,
        gear_power=5.0 * one,
    )


def test_least_drag_is_at_the_fourth_root() -> None:
    """Best glide of D = a V^2 + b / V^2 is at (b / a)^(1/4)."""
    exact = (INDUCED / PARASITE) ** 0.25
    assert cheapest_speed(SPEED, DRAG) == pytest.approx(exact, rel=2e-3)


def test_least_power_is_a_fourth_root_of_three_slower() -> None:
    """Least D V is at (b / 3 a)^(1/4), 0.7598 of the best glide."""
    exact = (INDUCED / (3.0 * PARASITE)) ** 0.25
    fine = np.linspace(5.0, 40.0, 141)
    drag = PARASITE[:, None] * fine**2 + INDUCED[:, None] / fine**2
    assert cheapest_speed(fine, drag * fine) == pytest.approx(exact, rel=2e-3)


def test_a_parabola_is_met_exactly() -> None:
    """The refinement is exact for a parabola on an uneven grid."""
    uneven = np.array([6.0, 7.0, 9.0, 12.0, 16.0, 21.0])
    cost = (uneven - np.array([[8.3], [11.1]])) ** 2
    assert cheapest_speed(uneven, cost) == pytest.approx([8.3, 11.1])


def test_nothing_to_hold_is_not_a_number() -> None:
    """All infinite: not a number; one speed left: that speed; others untouched."""
    cost = DRAG.copy()
    cost[1] = np.inf
    cost[2] = np.inf
    cost[2, 20] = 3.0
    found = cheapest_speed(SPEED, cost)
    assert np.isnan(found[1])
    assert found[2] == SPEED[20]
    assert found[0] == pytest.approx(20000.0**0.25, rel=2e-3)


def test_thrust_and_drag_cross_where_the_algebra_says() -> None:
    """Constant thrust T: V^2 = (T + sqrt(T^2 - 4 a b)) / 2 a, the faster of two."""
    thrust = 4.0
    exact = np.sqrt((thrust + np.sqrt(thrust**2 - 4 * PARASITE * INDUCED)) / (2 * PARASITE))
    speed, beyond = crossing(SPEED, thrust - DRAG)
    assert speed == pytest.approx(exact, rel=1e-3)
    assert not beyond.any()


def test_crossing_flags_what_is_never_and_always_positive() -> None:
    """Never positive is not a number; still positive at the end is the end, flagged."""
    excess = np.stack([np.full(69, -1.0), np.full(69, 1.0), np.full(69, np.nan), 4.0 - DRAG[0]])
    speed, beyond = crossing(SPEED, excess)
    assert np.isnan(speed[[0, 2]]).all()
    assert speed[1] == SPEED[-1]
    assert beyond.tolist() == [False, True, False, False]


def test_values_are_read_between_the_speeds() -> None:
    """Linear in between, held at the ends, not a number stays."""
    values = np.stack([SPEED, 2.0 * SPEED, SPEED, SPEED])
    found = at_speeds(SPEED, values, np.array([10.3, 10.3, 99.0, np.nan]))
    assert found[:3] == pytest.approx([10.3, 20.6, 40.0])
    assert np.isnan(found[3])


def test_a_plane_that_cannot_fly_stays_flagged_and_alone() -> None:
    """Its top speed is no number and its cost infinite; the two beside it are as without it."""
    flyable = np.ones_like(DRAG, dtype=bool)
    flyable[:, SPEED < 9.0] = False
    good = DragCurve(speed=SPEED, drag=np.where(flyable, DRAG, np.inf), flyable=flyable)
    never = flyable.copy()
    never[1] = False
    curve = DragCurve(speed=SPEED, drag=np.where(never, DRAG, np.inf), flyable=never)
    whole = drive()
    with_it, without = top_speed(curve, whole, 0.8), top_speed(good, whole, 0.8)
    assert np.isnan(with_it.speed[1])
    assert with_it.speed[[0, 2]].tolist() == without.speed[[0, 2]].tolist()
    cost, _ = level_cost(curve, level_states(curve, whole, 0.8), np.full(3, 9.0))
    clean, _ = level_cost(good, level_states(good, whole, 0.8), np.full(3, 9.0))
    assert np.isinf(cost[1]).all()
    assert np.isnan(cheapest_speed(SPEED, cost)[1])
    assert cost[[0, 2]].tolist() == clean[[0, 2]].tolist()
    assert np.isfinite(cost[0]).any()


def test_at_top_speed_level_flight_takes_full_throttle() -> None:
    """Thrust for the drag there asks for a throttle of one, within the grid's 0.2 %."""
    flyable = np.ones_like(DRAG, dtype=bool)
    curve = DragCurve(speed=SPEED, drag=DRAG, flyable=flyable)
    whole = drive()
    top = top_speed(curve, whole, 0.8)
    states = level_states(curve, whole, 0.8)
    assert not top.beyond.any()
    throttle = at_speeds(SPEED, states.throttle, top.speed)
    assert throttle == pytest.approx(1.0, abs=0.004)


def test_range_is_flown_faster_than_endurance() -> None:
    """Least current per speed lies above least current, and both above the slowest allowed."""
    flyable = np.ones_like(DRAG, dtype=bool)
    curve = DragCurve(speed=SPEED, drag=DRAG, flyable=flyable)
    slowest = np.full(3, 7.0)
    current, per_speed = level_cost(curve, level_states(curve, drive(), 0.8), slowest)
    longest, farthest = cheapest_speed(SPEED, current), cheapest_speed(SPEED, per_speed)
    assert np.all(farthest > longest)
    assert np.all(longest >= slowest)
    assert np.isinf(current[:, SPEED < 7.0]).all()

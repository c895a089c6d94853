"""The charge of a described flight: sums, flags, who cannot fly."""

import numpy as np
import pytest

from foamwright.physics.drive.blade import label_blade
from foamwright.physics.drive.controller import Controller
from foamwright.physics.drive.equilibrium import TWO_PI, Drive, at_throttle, at_thrust
from foamwright.physics.drive.motor import Motor
from foamwright.physics.drive.pack import Pack
from foamwright.physics.drive.propeller import Multipliers, propeller_table
from foamwright.physics.flight.course import Leg, charge_used
from foamwright.physics.flight.level import DragCurve

SPEED = np.linspace(6.0, 40.0, 69)
ONE = np.ones(3)
TABLE = propeller_table(label_blade(0.127, 0.0762, 2.0))[0]


def curve() -> DragCurve:
    """Three alike; the third flies only above 20 m/s."""
    flyable = np.ones((3, 69), dtype=bool)
    flyable[2] = SPEED > 20.0
    drag = np.tile(0.003 * SPEED**2 + 60.0 / SPEED**2, (3, 1))
    return DragCurve(speed=SPEED, drag=np.where(flyable, drag, np.inf), flyable=flyable)


def drive(capacity: float = 4680.0) -> Drive:
    """A 2204 of 2300 rpm/V, 5x3, 3S; the second takes twice the gear power."""
    kv = 2300.0 * TWO_PI / 60.0 * ONE
    return Drive(
        motor=Motor(
            speed_constant=kv,
            resistance=0.1 * ONE,
            no_load_current=0.6 * ONE,
            no_load_speed=10.0 * kv,
        ),
        controller=Controller(resistance=0.008 * ONE, part_loss=0.15 * ONE),
        pack=Pack(
            cells=3,
            capacity=capacity * ONE,
            cell_resistance=0.009 * ONE,
            lead_resistance=0.006 * ONE,
            voltage_shift=0.0 * ONE,
        ),
        propeller=TABLE,
        multipliers=Multipliers(advance=ONE, thrust=ONE, power=ONE),
        density=1.2 * ONE,
        gear_power=np.array([5.0, 10.0, 5.0]),
    )


def test_a_short_leg_takes_current_times_time() -> None:
    """Ten seconds of level flight or full throttle: amps at that charge times ten, to 0.1 %."""
    whole, shape = drive(), curve()
    level = charge_used(shape, whole, [Leg(seconds=10.0 * ONE, speed=15.0 * ONE)], 0.8)
    drag = np.full((3, 1), 0.003 * 225.0 + 60.0 / 225.0)
    state = at_thrust(whole, np.full((3, 1), 15.0), drag, 0.8)
    assert level.used[:2] == pytest.approx(10.0 * state.pack_current[:2, 0], rel=1e-3)
    full = charge_used(shape, whole, [Leg(seconds=10.0 * ONE, speed=12.0 * ONE, throttle=1.0)], 0.8)
    pull = at_throttle(whole, np.full((3, 1), 12.0), 1.0, 0.8)
    assert full.used == pytest.approx(10.0 * pull.pack_current[:, 0], rel=5e-3)
    end = at_throttle(whole, np.full((3, 1), 12.0), 1.0, full.left)
    assert full.lowest_voltage == pytest.approx(end.pack_voltage[:, 0], rel=1e-9)


def test_legs_add_up() -> None:
    """A leg cut in two takes the same; two legs leave what each took; more gear takes more."""
    whole, shape = drive(), curve()
    once = charge_used(shape, whole, [Leg(seconds=200.0 * ONE, speed=16.0 * ONE)], 1.0)
    half = Leg(seconds=100.0 * ONE, speed=16.0 * ONE)
    twice = charge_used(shape, whole, [half, half], 1.0)
    assert twice.used[:2] == pytest.approx(once.used[:2], rel=1e-3)
    assert 1.0 - once.left[:2] == pytest.approx(once.used[:2] / 4680.0)
    assert once.used[1] > once.used[0]
    assert not once.flat[:2].any()


def test_a_leg_that_cannot_be_flown_is_flagged() -> None:
    """Below its stall, beyond the curve, or beyond full throttle; the others hold."""
    whole, shape = drive(), curve()
    slow = charge_used(shape, whole, [Leg(seconds=10.0 * ONE, speed=15.0 * ONE)], 0.8)
    assert slow.holds.tolist() == [True, True, False]
    speeds = np.array([15.0, 50.0, 39.0])
    fast = charge_used(shape, whole, [Leg(seconds=10.0 * ONE, speed=speeds)], 0.8)
    assert fast.holds.tolist() == [True, False, False]
    assert np.isfinite(fast.used).all()
    assert np.isfinite(fast.lowest_voltage).all()


def test_who_cannot_fly_spoils_no_other() -> None:
    """The first two take the same beside one that flies and one that does not."""
    whole = drive()
    shape = curve()
    both = DragCurve(
        speed=SPEED,
        drag=np.tile(shape.drag[0], (3, 1)),
        flyable=np.ones((3, 69), dtype=bool),
    )
    leg = [Leg(seconds=120.0 * ONE, speed=15.0 * ONE)]
    beside, alone = charge_used(shape, whole, leg, 0.9), charge_used(both, whole, leg, 0.9)
    assert beside.used[:2] == pytest.approx(alone.used[:2], rel=1e-6)


def test_a_small_pack_runs_flat() -> None:
    """Three minutes at full throttle are too much for 300 mAh; nothing is left, and it is said."""
    leg = Leg(seconds=180.0 * ONE, speed=12.0 * ONE, throttle=1.0)
    found = charge_used(curve(), drive(1080.0), [leg], 1.0)
    assert found.flat.all()
    assert found.left.tolist() == [0.0, 0.0, 0.0]

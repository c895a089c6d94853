"""Thousands of throws at once, from the hand to the air or to the grass."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.physics.flight import launch
from foamwright.physics.flight.launch import (
    HORIZON,
    MOST_BANK,
    STEP,
    directions,
    first_state,
    flown,
    longest_step,
    quickest,
)
from foamwright.physics.flight.launch_plane import Throw, some

MakeThrow = Callable[..., Throw]


def test_the_first_state_is_the_hand_s(make_throw: MakeThrow) -> None:
    """Height, speed along the path, nose above it, right wing down, nose beside the path."""
    release = make_throw(sideslip=0.1, bank=0.2).release
    state, axes = first_state(release, placed=True), directions(release)[:, :, 0]
    over_ground = axes @ state[1:4, 0] + np.array([-0.5, 0.2, 0.1])
    assert state[0, 0] == 1.8
    assert state[13:, 0].tolist() == [0.0, 0.0]
    assert over_ground == pytest.approx([8.0 * np.cos(0.17), 0.0, -8.0 * np.sin(0.17)])
    assert np.arcsin(-axes[2, 0]) == pytest.approx(0.19)
    assert np.arctan2(axes[2, 1], axes[2, 2]) == pytest.approx(0.2)
    assert np.arctan2(axes[1, 0], axes[0, 0]) == pytest.approx(-0.1)
    assert state[4:7, 0] == pytest.approx(axes[2])
    assert state[10:13, 0] == pytest.approx(axes[0])
    assert first_state(release) == pytest.approx(state[:10])


def test_directions_are_square_to_each_other(make_throw: MakeThrow) -> None:
    """Length one, ahead, right and down in this order, however it leaves the hand."""
    luck = np.random.default_rng(4)
    angles = {n: luck.uniform(-1.5, 1.5, 50) for n in ("climb_angle", "bank", "sideslip")}
    for axes in np.moveaxis(directions(make_throw(50, **angles).release), 2, 0):
        assert axes @ axes.T == pytest.approx(np.eye(3), abs=1e-12)
        assert np.linalg.det(axes) == pytest.approx(1.0)


def test_heading_and_place_change_nothing_else(make_throw: MakeThrow) -> None:
    """The same with and without them."""
    throw = make_throw(2, speed=[10.0, 3.0], bank=0.2)
    plain, placed = flown(throw), flown(throw, placed=True)
    for name in ("clearance", "height", "airspeed", "climb", "bank", "time", "clean"):
        assert getattr(placed, name).tolist() == getattr(plain, name).tolist()
    assert placed.state[:10].tolist() == plain.state.tolist()
    assert placed.state[13, 0] > 20.0


def test_a_right_turn_goes_right(make_throw: MakeThrow) -> None:
    """Banked right and left alone: to the right, and as far to the left the other way round."""
    free: dict[str, object] = dict.fromkeys(
        ("sideslip", "cross_wind", "roll_rate", "yaw_rate", "torque_constant", "torque_linear",
         "torque_square"), 0.0,
    )  # fmt: skip
    free |= {"begin": np.inf, "height": 30.0}
    right, left = (flown(make_throw(**free, bank=b), placed=True).state[:, 0] for b in (0.3, -0.3))
    assert right[14] > 1.0
    assert left[14] == pytest.approx(-right[14])
    assert left[13] == pytest.approx(right[13])
    assert right[11] < 0.0  # the old heading is now to the left of the nose


def test_a_good_throw_flies_away(make_throw: MakeThrow) -> None:
    """Clean, watched to the end, higher than the hand, faster than the stall."""
    found = flown(make_throw(speed=10.0))
    assert found.clean[0]
    assert found.time[0] == pytest.approx(HORIZON)
    assert found.height[0] > 1.8
    assert found.airspeed[0] > 7.0
    assert 0.0 < found.clearance[0] < 1.8


def test_a_dropped_plane_is_lost_when_it_touches(make_throw: MakeThrow) -> None:
    """1 m/s without motor: on the ground within the fall from the hand, 0.6 s."""
    found = flown(make_throw(speed=1.0, head_wind=0.0, thrust_constant=0.0, thrust_linear=0.0))
    assert not found.clean[0]
    assert found.clearance[0] == 0.0
    assert 0.3 < found.time[0] < 0.9


def test_the_lower_wing_tip_touches_first(make_throw: MakeThrow) -> None:
    """Held 30 mm above half the span times the sine of the bank, it has 30 mm left."""
    throw = make_throw(bank=0.5, height=0.4 * np.sin(0.5) * np.cos(0.19) + 0.03)
    assert flown(throw, 1e-6).clearance[0] == pytest.approx(0.03, abs=1e-3)


def test_torque_without_steering_loses_the_plane(make_throw: MakeThrow) -> None:
    """Strong torque, hands off: banked beyond saving; steered it flies."""
    strong: dict[str, object] = {"torque_constant": 0.12, "speed": 10.0, "delay": 0.0}
    alone = flown(make_throw(**strong, begin=np.inf))
    held = flown(make_throw(**strong, begin=0.0))
    assert not alone.clean[0]
    assert alone.bank[0] >= MOST_BANK
    assert alone.time[0] < HORIZON
    assert held.clean[0]
    assert held.bank[0] < 0.5


def test_the_steering_comes_in_the_order_of_its_speed(make_throw: MakeThrow) -> None:
    """Bank: stabiliser least, pilot more, hands off most (2000 throws, three-quarters power)."""
    luck = np.random.default_rng(2)
    fields = {"speed": luck.normal(9.0, 1.0, 500), "bank": luck.normal(0.0, 0.1, 500)}
    banks = [
        np.median(flown(make_throw(500, **fields, begin=begin)).bank) for begin in (0, 0.35, np.inf)
    ]
    assert banks[0] < banks[1] < banks[2]


def test_head_wind_helps_as_much_as_throwing_faster(make_throw: MakeThrow) -> None:
    """The air knows no ground: the same height with 2 m/s of wind and 2 m/s less of the hand."""
    level: dict[str, object] = {"climb_angle": 0.0, "incidence": 0.1, "height": 50.0}
    windy = flown(make_throw(**level, speed=7.0, head_wind=2.0), placed=True)
    still = flown(make_throw(**level, speed=9.0, head_wind=0.0), placed=True)
    assert windy.height[0] == pytest.approx(still.height[0], abs=1e-6)
    assert windy.airspeed[0] == pytest.approx(still.airspeed[0])
    assert still.state[13, 0] - windy.state[13, 0] == pytest.approx(2.0 * HORIZON)


def test_lost_throws_leave_the_others_alone(make_throw: MakeThrow) -> None:
    """Each of a mixed batch ends as it does alone, whoever was dropped meanwhile."""
    speeds = np.array([2.0, 10.0, 3.0, 9.0, 1.0, 11.0, 2.5, 9.5])
    together = flown(make_throw(8, speed=speeds))
    for index in (0, 1, 3, 6):
        kept = np.arange(8) == index
        step = longest_step(make_throw(8, speed=speeds))
        assert step == longest_step(some(make_throw(8, speed=speeds), kept))
        alone = flown(make_throw(1, speed=speeds[index]))
        assert alone.height[0] == pytest.approx(together.height[index], abs=1e-9)
        assert alone.clearance[0] == pytest.approx(together.clearance[index], abs=1e-9)
        assert alone.time[0] == together.time[index]


def test_half_the_step_changes_no_verdict(
    make_throw: MakeThrow, monkeypatch: pytest.MonkeyPatch
) -> None:
    """1000 throws, a good half of them clean; heights agree to centimetres."""
    luck = np.random.default_rng(3)
    throw = make_throw(
        1000,
        mass=0.45,
        speed=luck.normal(8.0, 1.0, 1000),
        bank=luck.normal(0.0, 0.1, 1000),
        head_wind=luck.normal(0.0, 1.0, 1000),
    )
    usual = flown(throw)
    monkeypatch.setattr(launch, "STEP", STEP / 4)
    fine = flown(throw)
    assert 0.1 < usual.clean.mean() < 0.95
    assert (usual.clean == fine.clean).mean() >= 0.999
    both = usual.clean & fine.clean
    assert np.quantile(np.abs(usual.height - fine.height)[both], 0.99) < 0.02


def test_quick_planes_get_a_shorter_step(make_throw: MakeThrow) -> None:
    """A tenth of the roll inertia: the step follows the roll, and nothing runs away."""
    quick = make_throw(inertia_roll=2e-4, inertia_product=0.0, begin=0.0, roll_gain=0.1)
    assert longest_step(make_throw()) == STEP
    assert longest_step(quick) < 0.5 * STEP
    assert quickest(quick)[0] > quickest(make_throw())[0]
    assert np.isfinite(flown(quick).height[0])


def test_a_throw_that_runs_away_is_lost_not_an_error(make_throw: MakeThrow) -> None:
    """An unstable plane with absurd numbers ends on the ground, in finite figures."""
    found = flown(make_throw(2, Cma=[50.0, -0.4], Cmq=[40.0, -8.0], height=[50.0, 1.8]))
    for name in ("clearance", "height", "airspeed", "climb", "bank", "time"):
        assert np.isfinite(getattr(found, name)).all()
    assert not found.clean[0]


def test_it_has_to_be_flying_at_the_end(make_throw: MakeThrow) -> None:
    """Thrown off a cliff without wings worth the name: not touched yet, but about to."""
    stone: dict[str, object] = {"maximum_lift": 0.05, "thrust_constant": 0.0, "climb_angle": 0.0}
    drop = 500.0 - flown(make_throw(**stone, height=500.0)).height[0]
    found = flown(make_throw(**stone, height=drop + 3.0))
    assert found.clearance[0] > 0.0
    assert found.climb[0] < -5.0
    assert not found.clean[0]


def test_each_throw_has_its_own_step(make_throw: MakeThrow) -> None:
    """Steps of their own end as each alone with that step; the quick one takes more of them."""
    throw = make_throw(3, speed=[9.0, 10.0, 3.0], bank=[0.1, -0.2, 0.0])
    steps = np.array([0.03, 0.011, 0.02])
    together = flown(throw, step=steps)
    for index, step in enumerate(steps):
        alone = flown(some(throw, np.arange(3) == index), step=float(step))
        for name in ("height", "clearance", "airspeed", "bank", "time"):
            one, other = getattr(together, name)[index], getattr(alone, name)[0]
            assert one == pytest.approx(other, rel=1e-9, abs=1e-9), name
    assert together.time[:2].tolist() == [HORIZON, HORIZON]
    assert together.time[2] < HORIZON

"""Forces, moments and motion of a plane just thrown."""

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.launch import first_state
from foamwright.physics.flight.launch_forces import (
    PLATE_DRAG,
    STALLED_POWER,
    Stall,
    moment,
    motion,
    signals,
    wing,
)
from foamwright.physics.flight.launch_plane import Throw
from foamwright.physics.flight.launch_stacked import stacked

MakeThrow = Callable[..., Throw]
TOP = (0.95 - 0.15) / 4.2
"""Angle of the stall of the plane all tests share."""


def at(throw: Throw, degrees: float | Samples) -> Stall:
    """Return the wing at an angle of attack, 10 m/s."""
    angle = np.deg2rad(np.broadcast_to(degrees, throw.plane.mass.shape))
    nothing = np.zeros(throw.plane.mass.shape)
    return wing(stacked(throw), 10.0 * np.cos(angle), 10.0 * np.sin(angle), nothing)


def test_below_the_stall_lift_is_a_straight_line(make_throw: MakeThrow) -> None:
    """CL0 + CLa alpha, and the fitted polar's drag."""
    found = at(make_throw(), 5.0)
    CL = 0.15 + 4.2 * np.deg2rad(5.0)
    assert found.CL[0] == pytest.approx(CL)
    assert found.CD[0] == pytest.approx(0.035 + 0.06 * CL**2 + 0.02 * CL**4)
    assert found.grip[0] == 1.0


def test_largest_lift_is_reached_and_not_exceeded(make_throw: MakeThrow) -> None:
    """Over all angles from -90 to 90 degrees."""
    angles = np.linspace(-90.0, 90.0, 1801)
    found = at(make_throw(angles.size), angles)
    assert found.CL.max() == pytest.approx(0.95, abs=0.005)
    assert np.rad2deg(TOP) == pytest.approx(angles[np.argmax(found.CL)], abs=0.15)
    assert found.CL.min() >= -0.8 * 0.95 - 0.01


def test_far_beyond_the_stall_it_is_a_plate(make_throw: MakeThrow) -> None:
    """No lift and a plate's drag square to the wind; equal parts at 45 degrees."""
    throw = make_throw()
    square, slanted = at(throw, 90.0), at(throw, 45.0)
    assert square.CL[0] == pytest.approx(0.0, abs=1e-9)
    assert square.CD[0] == pytest.approx(PLATE_DRAG + 0.035)
    assert slanted.CL[0] == pytest.approx(0.5 * PLATE_DRAG)
    assert square.grip[0] == STALLED_POWER


def test_lift_falls_after_the_stall_of_an_ordinary_wing(make_throw: MakeThrow) -> None:
    """And holds on where the wing is slender."""
    beyond = float(np.rad2deg(TOP)) + 8.0
    ordinary = at(make_throw(), beyond).CL[0]
    slender = at(make_throw(stall_width=0.52), beyond).CL[0]
    assert ordinary < slender < 0.95


@given(st.floats(-180.0, 180.0))
def test_wings_never_give_energy(degrees: float) -> None:
    """Drag is positive at every angle, backwards too, and nothing is infinite."""
    nothing = np.zeros(1)
    throw = _ONE[0]
    angle = np.deg2rad(degrees)
    along, across = np.array([10.0 * np.cos(angle)]), np.array([10.0 * np.sin(angle)])
    found = wing(stacked(throw), along, across, nothing)
    assert found.CD[0] > 0.0
    assert np.isfinite(found.CL[0])


_ONE: list[Throw] = []


@pytest.fixture(autouse=True)
def _one(make_throw: MakeThrow) -> None:
    """Keep one throw for tests that hypothesis calls."""
    if not _ONE:
        _ONE.append(make_throw())


def rates(throw: Throw, time: float = 1.0) -> Samples:
    """Return how the first state changes."""
    flight = stacked(throw)
    return motion(flight, first_state(throw.release), moment(flight, time))


def test_the_propeller_rolls_the_plane_left(make_throw: MakeThrow) -> None:
    """By torque over inertia, to first order; hands off, without anything crooked."""
    straight: dict[str, object] = dict.fromkeys(
        ("bank", "sideslip", "roll_rate", "yaw_rate", "pitch_rate", "cross_wind", "torque_linear"),
        0.0,
    )
    straight |= {"torque_square": 0.0, "begin": np.inf, "inertia_product": 0.0}
    found = rates(make_throw(**straight))
    assert found[7, 0] == pytest.approx(-0.03 / 4e-3)
    assert rates(make_throw(**straight, torque_constant=0.0))[7, 0] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("start", "time", "share"),
    [
        ((0.3, 0.2), 0.2, 0.0),
        ((0.3, 0.2), 0.4, 0.25),
        ((0.3, 0.2), 0.5, 1.0),
        ((0.3, 0.0), 0.31, 1.0),
        ((0.0, 0.2), 0.0, 1.0),
    ],
)
def test_thrust_comes_with_the_square_of_the_ramp(
    make_throw: MakeThrow, start: tuple[float, float], time: float, share: float
) -> None:
    """Nothing before the start, a quarter at half the ramp; at once where the motor runs."""
    still: dict[str, object] = {"thrust_linear": 0.0, "thrust_square": 0.0, "begin": np.inf}
    with_motor = rates(make_throw(**still, delay=start[0], ramp=start[1]), time)
    without = rates(make_throw(**still, thrust_constant=0.0), time)
    assert with_motor[1, 0] - without[1, 0] == pytest.approx(share * 2.0 / 0.3, abs=1e-9)


def test_a_high_thrust_line_pushes_the_nose_down(make_throw: MakeThrow) -> None:
    """By thrust times arm over inertia."""
    still: dict[str, object] = {"thrust_linear": 0.0, "thrust_square": 0.0}
    high, level = (rates(make_throw(**still, arm=arm))[8, 0] for arm in (0.04, 0.0))
    assert high - level == pytest.approx(-2.0 * 0.04 / 4.5e-3)


@pytest.mark.parametrize("bank", [0.3, -0.3])
def test_whoever_steers_rolls_back(make_throw: MakeThrow, bank: float) -> None:
    """After the reaction, not before."""
    still: dict[str, object] = {"roll_rate": 0.0, "yaw_rate": 0.0, "bank": bank}
    throw = make_throw(**still)
    before, after = rates(throw, 0.3)[7, 0], rates(throw, 0.36)[7, 0]
    assert np.sign(after - before) == -np.sign(bank)


def test_controls_stop_at_their_travel(make_throw: MakeThrow) -> None:
    """A gain of a thousand is no more than full travel."""
    wild: dict[str, object] = {"bank": 0.5, "bank_gain": 1000.0, "pitch_gain": 1000.0}
    full = {"begin": np.inf, "bank": 0.5, "aileron": -0.3, "elevator": -0.3}
    assert rates(make_throw(**wild))[7:10, 0] == pytest.approx(rates(make_throw(**full))[7:10, 0])


def test_a_plane_alike_left_and_right_flies_its_mirror_image(make_throw: MakeThrow) -> None:
    """Everything crooked the other way, torque too: the same heights, the other side."""
    crooked = ("bank", "sideslip", "roll_rate", "yaw_rate", "cross_wind", "torque_constant",
               "torque_linear", "torque_square")  # fmt: skip
    right = {"bank": 0.2, "sideslip": 0.1, "roll_rate": 0.5, "yaw_rate": -0.3, "cross_wind": 1.0,
             "torque_constant": 0.03, "torque_linear": -2e-4, "torque_square": -5e-6}  # fmt: skip
    one, other = make_throw(**right), make_throw(**{name: -right[name] for name in crooked})
    found, mirrored = rates(one)[:, 0], rates(other)[:, 0]
    same, opposite = [0, 1, 3, 4, 6, 8], [2, 5, 7, 9]
    assert mirrored[same] == pytest.approx(found[same])
    assert mirrored[opposite] == pytest.approx(-found[opposite])


def test_the_motor_and_whoever_steers_begin_in_time(make_throw: MakeThrow) -> None:
    """Nobody and nothing, then each by its own time; hands off never."""
    throw = make_throw(3, begin=[0.0, 0.35, np.inf], delay=[0.0, 0.3, 0.3], ramp=[0.2, 0.2, 0.4])
    found = [moment(stacked(throw), time) for time in (0.0, 0.35, 0.5, 0.8)]
    assert [one.acts.tolist() for one in found] == [[1, 0, 0], [1, 1, 0], [1, 1, 0], [1, 1, 0]]
    running = np.array([one.running for one in found])
    assert running[:, 0].tolist() == [1.0] * 4
    assert running[:, 1] == pytest.approx([0.0, 0.0625, 1.0, 1.0])
    assert running[:, 2] == pytest.approx([0.0, 0.015625, 0.25, 1.0])


def test_signals_know_lift_and_grip() -> None:
    """Sideslip, rates and aileron; the same times lift; what the stall takes."""
    found = Stall(CL=np.full(1, 0.8), CD=np.zeros(1), alpha=np.zeros(1), grip=np.full(1, 0.5))
    beta, turned, aileron = np.full(1, 0.1), np.array([[0.2], [9.0], [0.3]]), np.full(1, 0.4)
    told = signals(beta, turned, aileron, found)[:, 0]
    assert told == pytest.approx([0.1, 0.2, 0.3, 0.2, 0.08, 0.16, 0.24, 0.16, 0.1, 0.4])


@given(st.lists(st.floats(-3.0, 3.0), min_size=3, max_size=3))
def test_directions_stay_directions(turning: list[float]) -> None:
    """Down and ahead turn at the rate of the body, square to themselves and to each other."""
    throw = _ONE[0]
    flight, state = stacked(throw), first_state(throw.release, placed=True)
    state[7:10, 0] = turning
    found = motion(flight, state, moment(flight, 0.0))[:, 0]
    down, ahead = state[4:7, 0], state[10:13, 0]
    assert found[4:7] == pytest.approx(-np.cross(turning, down), abs=1e-12)
    assert found[10:13] == pytest.approx(-np.cross(turning, ahead), abs=1e-12)
    assert found[4:7] @ ahead + down @ found[10:13] == pytest.approx(0.0, abs=1e-12)


def test_heights_and_places_go_with_the_speed_over_ground(make_throw: MakeThrow) -> None:
    """At the release: the throw's own speed, up, ahead and aside, whatever the wind."""
    throw = make_throw(climb_angle=0.3, head_wind=3.0, cross_wind=1.0, down_wind=-0.5)
    flight = stacked(throw)
    found = motion(flight, first_state(throw.release, placed=True), moment(flight, 0.0))[:, 0]
    assert found[0] == pytest.approx(8.0 * np.sin(0.3))
    assert found[13:] == pytest.approx([8.0 * np.cos(0.3), 0.0], abs=1e-9)

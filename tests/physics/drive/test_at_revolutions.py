"""What a drive draws at known revolutions, and the airspeed told from it."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.physics.drive.test_equilibrium import CHARGE, SAMPLES, SPEED, TABLE, drive

from foamwright.physics.drive.at_revolutions import Turning, airspeed_of, current_drawn, falling
from foamwright.physics.drive.equilibrium import TWO_PI, Operating, at_throttle
from foamwright.physics.drive.motor import loss_current

BARE = replace(drive(), gear_power=np.zeros(SAMPLES))
"""Without gear: the joined drive takes its amps at the pack's open voltage, a log at its own."""


def flown(throttle: float) -> tuple[Operating, list[Turning]]:
    """Return the drive at a throttle, and each sample's own states as a log would have them."""
    state = at_throttle(BARE, SPEED, throttle, CHARGE)
    logs = [
        Turning(revolutions=state.revolutions[row], voltage=state.pack_voltage[row])
        for row in range(SAMPLES)
    ]
    return state, logs


@pytest.mark.parametrize("throttle", [0.4, 0.7, 1.0])
def test_the_current_is_that_of_the_joined_drive(throttle: float) -> None:
    """Solved for a throttle and asked again at its revolutions and volts: the same amps."""
    state, logs = flown(throttle)
    for row, log in enumerate(logs):
        told = current_drawn(BARE, SPEED, log)[row]
        assert told == pytest.approx(state.pack_current[row], rel=1e-3, abs=2e-3)


@pytest.mark.parametrize("throttle", [0.4, 0.7, 1.0])
def test_the_airspeed_comes_back(throttle: float) -> None:
    """Where power falls with advance ratio, amps at known revolutions tell the airspeed flown."""
    state, logs = flown(throttle)
    seen = 0
    for row, log in enumerate(logs):
        advance = float(drive().multipliers.advance[row])
        first, last = falling(TABLE, log.revolutions)
        ratio = SPEED[0] / (log.revolutions * TABLE.diameter * advance)
        inside = (ratio > 1.2 * first + 0.05) & (ratio < 0.95 * last)
        told, missed = airspeed_of(BARE, state.pack_current[row][None, :], log)
        assert told[row][inside] == pytest.approx(SPEED[0][inside], rel=2e-3, abs=0.02)
        assert not missed[row][inside].any()
        seen += int(inside.sum())
    assert seen > 2 * SAMPLES


def test_more_current_than_at_any_airspeed_is_standing_still() -> None:
    """And less than at any is the end where the propeller stops pulling; both are marked."""
    log = Turning(revolutions=np.array([250.0]), voltage=np.array([11.0]))
    told, missed = airspeed_of(drive(), np.array([[200.0]]), log)
    assert (told == 0.0).all()
    assert missed.all()
    told, missed = airspeed_of(drive(), np.array([[-5.0]]), log)
    _, last = falling(TABLE, log.revolutions)
    ends = drive().multipliers.advance[:, None] * last * log.revolutions * TABLE.diameter
    assert told == pytest.approx(ends)
    assert missed.all()


def test_an_idle_propeller_takes_what_the_motor_loses() -> None:
    """Without air there is no torque: volts times amps are the friction's and the copper's."""
    still = replace(drive(), density=np.full(SAMPLES, 1e-9), gear_power=np.zeros(SAMPLES))
    log = Turning(revolutions=np.array([100.0, 250.0]), voltage=np.array([11.0, 11.0]))
    told = current_drawn(still, np.zeros((1, 2)), log)
    motor = still.motor
    speed = np.broadcast_to(TWO_PI * log.revolutions, told.shape)
    friction = loss_current(motor, speed)
    # Commutation gives torque back, so the current is a little below the friction's.
    power = friction * speed / motor.speed_constant[:, None]
    lossless = told * log.voltage
    assert (lossless > 0.98 * power).all()
    assert (lossless < 1.35 * power).all()


def test_gear_draws_on_top() -> None:
    """Video and boards take their watts from the same pack, at its voltage."""
    log = Turning(revolutions=np.array([200.0]), voltage=np.array([10.0]))
    more = current_drawn(drive(), SPEED[:, :1], log) - current_drawn(BARE, SPEED[:, :1], log)
    assert more[:, 0] == pytest.approx(drive().gear_power / 10.0)


def test_power_falls_from_its_peak_while_the_propeller_pulls() -> None:
    """On the table itself, at each of its speeds."""
    turns = TABLE.revolutions[1:-1]
    first, last = falling(TABLE, turns)
    assert (first < last).all()
    for column, (low, high) in enumerate(zip(first, last, strict=True), start=1):
        inside = (TABLE.advance_ratio >= low) & (TABLE.advance_ratio <= high)
        assert np.count_nonzero(inside) > 10
        assert (np.diff(TABLE.power[inside, column]) <= 1e-9).all()
        assert (TABLE.thrust[inside, column] > 0.0).all()


@given(
    speed=st.floats(3.0, 22.0),
    turns=st.floats(170.0, 330.0),
    more=st.floats(1.02, 1.5),
)
def test_more_amps_at_the_same_revolutions_are_less_airspeed(
    speed: float, turns: float, more: float
) -> None:
    """A propeller that takes more power at one speed meets the air slower."""
    log = Turning(revolutions=np.array([turns]), voltage=np.array([11.0]))
    amps = current_drawn(drive(), np.array([[speed]]), log)
    slower, _ = airspeed_of(drive(), amps * more, log)
    found, _ = airspeed_of(drive(), amps, log)
    assert (slower <= found + 1e-2).all()

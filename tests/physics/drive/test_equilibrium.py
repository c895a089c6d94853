"""Where propeller, motor, controller and pack agree."""

from dataclasses import fields, replace
from typing import Any

import numpy as np
import pytest

from foamwright.physics.arrays import Samples
from foamwright.physics.drive.blade import label_blade
from foamwright.physics.drive.controller import Controller
from foamwright.physics.drive.equilibrium import TWO_PI, Drive, Operating, at_throttle, at_thrust
from foamwright.physics.drive.motor import Motor, commutation_from_size, loss_current
from foamwright.physics.drive.pack import Pack, pack_resistance, pack_voltage
from foamwright.physics.drive.propeller import Multipliers, propeller_table

TABLE = propeller_table(label_blade(0.127, 0.0762, 2.0))[0]
SPEED = np.linspace(0.0, 24.0, 7)[None, :]
SAMPLES = 24
CHARGE = 0.7


def drive(samples: int = SAMPLES) -> Drive:
    """A 2204 motor of 2300 rpm/V, 5x3 propeller, 3S 1300 pack; every number scattered."""
    generator = np.random.default_rng(5)

    def scattered(middle: float, spread: float) -> Samples:
        return middle * np.exp(spread * generator.standard_normal(samples))

    kv = scattered(2300.0 * TWO_PI / 60.0, 0.05)
    return Drive(
        motor=Motor(
            speed_constant=kv,
            resistance=scattered(0.10, 0.2),
            no_load_current=scattered(0.6, 0.3),
            no_load_speed=kv * 10.0,
            commutation=commutation_from_size(kv, scattered(0.02, 0.1)),
        ),
        controller=Controller(resistance=scattered(0.008, 0.3), part_loss=scattered(0.15, 0.3)),
        pack=Pack(
            cells=3,
            capacity=np.full(samples, 1.3 * 3600.0),
            cell_resistance=scattered(0.009, 0.2),
            lead_resistance=scattered(0.006, 0.2),
            voltage_shift=0.02 * generator.standard_normal(samples),
        ),
        propeller=TABLE,
        multipliers=Multipliers(
            advance=scattered(1.0, 0.08), thrust=scattered(1.0, 0.1), power=scattered(1.0, 0.15)
        ),
        density=scattered(1.2, 0.02),
        gear_power=scattered(6.0, 0.2),
    )


def one(whole: Drive, index: int) -> Drive:
    """Return the drive of one sample."""

    def cut(record: object) -> dict[str, Any]:
        names = [field.name for field in fields(record)]  # type: ignore[arg-type]
        arrays = {name: getattr(record, name) for name in names}
        return {k: v[index : index + 1] for k, v in arrays.items() if isinstance(v, np.ndarray)}

    return replace(
        whole,
        motor=replace(whole.motor, **cut(whole.motor)),
        controller=replace(whole.controller, **cut(whole.controller)),
        pack=replace(whole.pack, **cut(whole.pack)),
        multipliers=replace(whole.multipliers, **cut(whole.multipliers)),
        density=whole.density[index : index + 1],
        gear_power=whole.gear_power[index : index + 1],
    )


def power_gap(whole: Drive, state: Operating) -> Samples:
    """Return electrical power into the controller less shaft, copper and no-load losses [W]."""
    motor = whole.motor
    turning = TWO_PI * state.revolutions
    gear = (
        state.pack_current
        - (state.throttle * (1.0 + whole.controller.part_loss[:, None] * (1.0 - state.throttle)))
        * state.motor_current
    )
    drawn = state.pack_current - gear
    lost = state.pack_voltage * drawn - state.pack_voltage * state.throttle * state.motor_current
    copper = (motor.resistance + whole.controller.resistance)[:, None] * state.motor_current**2
    idle = loss_current(motor, turning) * turning / motor.speed_constant[:, None]
    return state.pack_voltage * drawn - lost - copper - idle - state.torque * turning


@pytest.mark.parametrize("throttle", [0.3, 0.65, 1.0])
def test_pack_power_is_shaft_and_losses(throttle: float) -> None:
    """What the pack gives is found again as shaft power, copper, iron, switching and gear."""
    whole = drive()
    state = at_throttle(whole, SPEED, throttle, CHARGE)
    assert state.holds[:, :3].all()
    gap = np.where(state.holds, power_gap(whole, state), 0.0)
    assert np.abs(gap).max() < 1e-4


def test_the_pack_sags_by_its_resistance() -> None:
    """Voltage under load is open-circuit voltage less pack current times resistance."""
    whole = drive()
    state = at_throttle(whole, SPEED, 1.0, CHARGE)
    left = np.full(SAMPLES, CHARGE)
    sag = pack_resistance(whole.pack, left)[:, None] * state.pack_current
    assert state.pack_voltage == pytest.approx(pack_voltage(whole.pack, left)[:, None] - sag)
    gear = whole.gear_power / pack_voltage(whole.pack, left)
    assert state.pack_current - state.motor_current == pytest.approx(gear[:, None] + 0 * sag)


@pytest.mark.parametrize("throttle", [0.4, 0.7, 1.0])
def test_asking_for_the_thrust_gives_the_throttle_back(throttle: float) -> None:
    """The thrust of a throttle asks for that throttle, speed and current again."""
    whole = drive()
    state = at_throttle(whole, SPEED[:, :4], throttle, CHARGE)
    pulls = state.thrust > 0.05
    back = at_thrust(whole, SPEED[:, :4], np.where(pulls, state.thrust, 1.0), CHARGE)
    assert pulls[:, 0].all()
    for name in ("throttle", "revolutions", "motor_current", "pack_current", "pack_voltage"):
        found, given = getattr(back, name)[pulls], getattr(state, name)[pulls]
        assert found == pytest.approx(given, rel=2e-5), name


def test_batch_equals_loop() -> None:
    """Each sample stands alone, to the solver's tolerance."""
    whole = drive(4)
    thrust = np.full((4, 7), 1.5)
    full, level = at_throttle(whole, SPEED, 1.0, CHARGE), at_thrust(whole, SPEED, thrust, CHARGE)
    for i in range(4):
        alone = one(whole, i)
        single = at_throttle(alone, SPEED, 1.0, CHARGE)
        assert single.thrust[0] == pytest.approx(full.thrust[i], rel=1e-6, abs=1e-6)
        assert single.pack_current[0] == pytest.approx(full.pack_current[i], rel=1e-6)
        wanted = at_thrust(alone, SPEED, thrust[:1], CHARGE)
        assert wanted.throttle[0] == pytest.approx(level.throttle[i], rel=1e-6)
        assert wanted.holds[0].tolist() == level.holds[i].tolist()


def test_more_throttle_pulls_more_and_speed_takes_it_away() -> None:
    """Thrust rises with throttle and falls with airspeed; current falls with airspeed too."""
    whole = drive()
    states = [at_throttle(whole, SPEED[:, :4], throttle, CHARGE) for throttle in (0.5, 0.75, 1.0)]
    assert np.all(np.diff([state.thrust for state in states], axis=0) > 0)
    assert np.all(np.diff(states[2].thrust, axis=1) < 0)
    assert np.all(np.diff(states[2].motor_current, axis=1) < 0)


def test_too_much_thrust_is_flagged_and_the_rest_is_not_touched() -> None:
    """A sample that asks for too much, for infinity or for nothing known spoils no other."""
    whole = drive(6)
    thrust = np.full((6, 7), 1.0)
    clean = at_thrust(whole, SPEED, thrust, CHARGE)
    thrust[1], thrust[2], thrust[3] = 500.0, np.inf, np.nan
    state = at_thrust(whole, SPEED, thrust, CHARGE)
    assert not state.holds[1:4].any()
    others = [0, 4, 5]
    assert state.holds[others].tolist() == clean.holds[others].tolist()
    assert state.pack_current[others] == pytest.approx(clean.pack_current[others], rel=1e-9)
    assert clean.holds[:, :4].all()
    assert all(np.isfinite(getattr(state, name)).all() for name in ("revolutions", "pack_current"))


def test_a_propeller_flown_too_fast_brakes_and_is_flagged() -> None:
    """Far faster than its pitch it pushes back, and its table is left; at 5 m/s neither."""
    whole = drive()
    state = at_throttle(whole, np.array([[5.0, 60.0]]), 0.3, CHARGE)
    assert np.all(state.thrust[:, 0] > 0)
    assert not state.outside[:, 0].any()
    assert np.all(state.thrust[:, 1] < 0)
    assert state.outside[:, 1].all()


def test_an_emptier_pack_pulls_less() -> None:
    """Full throttle at a fifth of the charge gives less thrust than when full, in every sample."""
    whole = drive()
    full, empty = (at_throttle(whole, SPEED[:, :3], 1.0, charge) for charge in (1.0, 0.2))
    assert np.all(empty.thrust < full.thrust)

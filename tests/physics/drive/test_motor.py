"""The motor: identities, inverses, commutation, sizes."""

import numpy as np
import pytest

from foamwright.physics.drive.motor import (
    Motor,
    commutation_from_size,
    current_for_torque,
    loss_current,
    mass_from_stator,
    resistance_from_size,
    shaft_torque,
    torque_constant,
    voltage_for_speed,
    warm_resistance,
)

RPM = 2.0 * np.pi / 60.0


def motor(commutation: float = 7e-5) -> Motor:
    """Two motors, one twice as fast as the other."""
    kv = np.array([2300.0, 4600.0]) * RPM
    return Motor(
        speed_constant=kv,
        resistance=np.array([0.10, 0.15]),
        no_load_current=np.array([0.6, 0.9]),
        no_load_speed=kv * 10.0,
        commutation=np.full(2, commutation),
    )


def test_torque_constant_is_one_over_kv() -> None:
    """In SI units the two are reciprocal."""
    kv = motor().speed_constant
    assert torque_constant(kv) * kv == pytest.approx(1.0)


@pytest.mark.parametrize("commutation", [0.0, 7e-5])
def test_current_and_torque_are_inverses(commutation: float) -> None:
    """The current for a torque gives that torque, with and without commutation."""
    own = motor(commutation)
    torque = np.array([[0.0, 0.02, 0.08], [0.0, 0.01, 0.05]])
    speed = np.array([[2000.0, 1800.0, 1200.0]] * 2)
    current = current_for_torque(own, torque, speed)
    assert shaft_torque(own, current, speed) == pytest.approx(torque, abs=1e-14)


@pytest.mark.parametrize("commutation", [0.0, 7e-5])
def test_energy_is_kept(commutation: float) -> None:
    """Electrical power is shaft, copper and the no-load loss; commutation itself costs nothing."""
    own = motor(commutation)
    speed = np.array([[2000.0, 1500.0], [3000.0, 2500.0]])
    current = np.array([[3.0, 9.0], [2.0, 8.0]])
    electrical = voltage_for_speed(own, current, speed) * current
    shaft = shaft_torque(own, current, speed) * speed
    copper = current**2 * own.resistance[:, None]
    loss = loss_current(own, speed) * speed / own.speed_constant[:, None]
    assert electrical == pytest.approx(shaft + copper + loss, rel=1e-12)


def test_without_commutation_the_three_constants_are_left() -> None:
    """A motor made without it has none: V = w / Kv + I R."""
    full = motor()
    own = Motor(
        speed_constant=full.speed_constant,
        resistance=full.resistance,
        no_load_current=full.no_load_current,
        no_load_speed=full.no_load_speed,
    )
    voltage = voltage_for_speed(own, np.full(2, 5.0), np.full(2, 1000.0))
    assert voltage == pytest.approx(1000.0 / own.speed_constant + 5.0 * own.resistance)


def test_no_load_current_is_met_at_its_speed() -> None:
    """The printed one at the printed speed, half of it near rest."""
    own = motor()
    assert loss_current(own, own.no_load_speed) == pytest.approx(own.no_load_current)
    assert loss_current(own, np.zeros(2)) == pytest.approx(0.5 * own.no_load_current)


def test_batch_equals_one_at_a_time() -> None:
    """Each sample stands alone."""
    own = motor()
    torque, speed = np.array([0.05, 0.02]), np.array([1500.0, 3000.0])
    both = current_for_torque(own, torque, speed)
    for i in range(2):
        single = Motor(
            speed_constant=own.speed_constant[i : i + 1],
            resistance=own.resistance[i : i + 1],
            no_load_current=own.no_load_current[i : i + 1],
            no_load_speed=own.no_load_speed[i : i + 1],
            commutation=own.commutation[i : i + 1],
        )
        alone = current_for_torque(single, torque[i : i + 1], speed[i : i + 1])
        assert alone[0] == pytest.approx(both[i], rel=1e-14)


def test_copper_warms_by_four_tenths_of_a_percent_a_kelvin() -> None:
    """40 K add 15.7 %."""
    assert warm_resistance(np.array([0.1]), np.array([40.0]))[0] == pytest.approx(0.11572)


def test_sizes_give_usual_numbers() -> None:
    """A 2206 weighs 31 g within 15 % (common practice, no source); R goes as 1 / Kv squared."""
    mass = mass_from_stator(np.array([0.022]), np.array([0.006]))
    assert mass[0] == pytest.approx(0.031, rel=0.15)
    kv = np.array([2300.0, 4600.0]) * RPM
    resistance = resistance_from_size(kv, mass)
    assert resistance[0] / resistance[1] == pytest.approx(4.0)
    assert 0.03 < resistance[0] < 0.09


def test_commutation_goes_as_turns_squared() -> None:
    """Twice the Kv, a quarter; 31 g come to some 10 microhenry a phase (common practice)."""
    kv = np.array([2000.0, 4000.0]) * RPM
    lag = commutation_from_size(kv, np.full(2, 0.031))
    assert lag[0] / lag[1] == pytest.approx(4.0)
    # An overlap of commutation loses 3 / pi of the inductance; seven pole pairs are usual.
    assert 2e-6 < lag[0] * np.pi / (3.0 * 7.0) < 30e-6

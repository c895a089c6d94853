"""The actuator disc: identities between its closed forms."""

import numpy as np
import pytest

from foamwright.physics.drive.momentum import (
    disc_area,
    froude_efficiency,
    ideal_static_thrust,
    induced_speed,
    many_blade_circulation,
    propeller_efficiency,
    thrust_loading,
    tip_loss,
)


def test_static_thrust_times_induced_speed_is_the_power() -> None:
    """Momentum theory at rest: P = T v."""
    power, diameter = np.array([100.0]), np.array([0.127])
    thrust = ideal_static_thrust(power, diameter, np.array([1.225]))
    speed = induced_speed(thrust, np.zeros(1), 1.225 * disc_area(diameter))
    assert thrust * speed == pytest.approx(power)


def test_ideal_efficiency_is_airspeed_over_speed_at_the_disc() -> None:
    """V / (V + v) and Froude's form agree at any loading."""
    airspeed, area = np.array([5.0, 12.0, 20.0]), 1.225 * disc_area(np.full(3, 0.127))
    thrust = np.array([4.0, 3.0, 1.0])
    speed = induced_speed(thrust, airspeed, area)
    loading = thrust / (0.5 * area * airspeed**2)
    assert froude_efficiency(loading) == pytest.approx(airspeed / (airspeed + speed))


def test_loading_and_efficiency_agree_with_their_definitions() -> None:
    """From thrust, speed and size with units, and from coefficients without."""
    J, CT, CP = np.array([0.6]), np.array([0.05]), np.array([0.045])
    n, D, rho = 120.0, 0.15, 1.2
    thrust, speed = CT * rho * n**2 * D**4, J * n * D
    assert thrust_loading(J, CT) == pytest.approx(
        thrust / (0.5 * rho * speed**2 * disc_area(np.array([D])))
    )
    assert propeller_efficiency(J, CT, CP) == pytest.approx(
        thrust * speed / (CP * rho * n**3 * D**5)
    )


def test_many_blades_have_no_tip_loss() -> None:
    """The tip factor tends to one with the blade count, and falls to zero at the tip."""
    many = tip_loss(np.array([200.0]), np.array([0.9]), np.array([0.2]))
    tip = tip_loss(np.array([2.0]), np.array([1.0 - 1e-12]), np.array([0.2]))
    assert many[0] == pytest.approx(1.0, abs=1e-6)
    assert tip[0] < 1e-4


def test_the_circulation_function_rises_from_hub_to_tip() -> None:
    """Zero at the hub, one far out."""
    assert many_blade_circulation(np.array([0.0, 1e6])) == pytest.approx([0.0, 1.0])

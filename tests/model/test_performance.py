"""Full throttle, cruise and level flight, recomputed at the point found."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.performance import FRESH, MIDDLE, usable_charge
from foamwright.physics.drive.equilibrium import at_throttle

Computed = Callable[..., ComputablePlane]


@pytest.mark.parametrize("name", ["reedling", "windrow"])
def test_at_top_speed_thrust_equals_drag(computed: Computed, name: str) -> None:
    """Drag and full-throttle thrust computed anew at each sample's own top speed: 3 %.

    The curve between the 24 speeds is where the rest comes from; it is less than 1 % of speed,
    since drag over thrust rises with the third power and more.
    """
    plane = computed(name)
    full = plane.full_throttle
    for sample in range(0, plane.samples, 37):
        speed = full.top_speed[sample : sample + 1]
        drag = plane.drag_at(speed).drag[sample, 0]
        thrust = at_throttle(plane.complete_drive.drive, speed[None, :], 1.0, FRESH).thrust
        assert thrust[sample, 0] == pytest.approx(drag, rel=0.03)
        assert full.top_drag[sample] == pytest.approx(drag, rel=0.03)


def test_endurance_is_charge_over_current(computed: Computed) -> None:
    """Usable ampere seconds over the amps at cruise; way is speed times that; J/m is U I / V."""
    plane = computed("reedling")
    cruise, charge = plane.cruise, usable_charge(plane.complete_drive)
    assert charge == pytest.approx(
        plane.complete_drive.usable * plane.complete_drive.drive.pack.capacity
    )
    assert cruise.endurance == pytest.approx(charge / cruise.current)
    assert cruise.distance == pytest.approx(cruise.endurance * cruise.speed)
    volts = cruise.energy_per_way * cruise.speed / cruise.current
    assert np.all((volts > 3 * 3.3) & (volts < 3 * 4.2))


def test_cruise_is_the_cheapest_way_and_loiter_the_cheapest_time(computed: Computed) -> None:
    """No speed of a denser row above 1.2 times stall takes less charge per metre, or per second."""
    plane = computed("reedling")
    cruise = plane.cruise
    speeds = np.linspace(8.0, 22.0, 29)
    points = plane.level_points(speeds)
    usual = points.holds & (speeds >= 1.2 * plane.stall_speed[:, None])
    per_way = np.where(usual, points.current / speeds, np.inf).min(axis=1)
    per_time = np.where(usual, points.current, np.inf).min(axis=1)
    assert np.median(per_way / (cruise.current / cruise.speed)) == pytest.approx(1.0, abs=0.02)
    charge = usable_charge(plane.complete_drive)
    loiter = charge / cruise.loiter_endurance
    assert np.median(per_time / loiter) == pytest.approx(1.0, abs=0.03)
    assert np.all(cruise.loiter_endurance >= cruise.endurance * 0.999)


def test_level_flight_balances_thrust_and_drag(computed: Computed) -> None:
    """At 14 m/s thrust is the drag; throttle, current and power rise with speed."""
    plane = computed("reedling")
    speeds = np.array([11.0, 14.0, 17.0, 20.0])
    points = plane.level_points(speeds)
    drag = plane.drag_at(speeds).drag
    assert points.holds[:, :3].all()
    assert points.thrust[:, :3] == pytest.approx(drag[:, :3], rel=1e-3)
    for rising in (points.throttle, points.current, points.power, points.revolutions):
        assert np.all(np.diff(np.median(rising, axis=0)) > 0)
    assert np.all((points.efficiency[:, :3] > 0.1) & (points.efficiency[:, :3] < 0.9))


def test_charge_and_throttle_at_full_speed(computed: Computed) -> None:
    """Full throttle empties the pack first; the largest current is at rest or flying, not less."""
    plane = computed("reedling")
    full = plane.full_throttle
    assert full.lasts == pytest.approx(usable_charge(plane.complete_drive) / full.top_current)
    assert np.all(full.lasts < plane.cruise.endurance)
    assert np.all(full.current_max >= full.top_current)
    assert np.median(full.top_speed / full.pitch_speed) < 1.02


def test_it_sags_under_load(computed: Computed) -> None:
    """Nearly flat and at full throttle: below 3.6 V a cell and above 2.8 for an ordinary pack."""
    volts = computed("reedling").full_throttle.pack_voltage_min / 3
    assert np.all((volts > 2.8) & (volts < 3.7))


def test_climb_is_spare_thrust_times_speed_over_weight(computed: Computed) -> None:
    """(T - D) V / W at the speed named for it, from a curve computed anew: 4 %."""
    plane = computed("reedling")
    full = plane.full_throttle
    for sample in (3, 90, 200):
        speed = full.climb_speed[sample : sample + 1]
        drag = plane.drag_at(speed).drag[sample, 0]
        thrust = at_throttle(plane.complete_drive.drive, speed[None, :], 1.0, FRESH).thrust
        rate = (thrust[sample, 0] - drag) * speed[0] / plane.weight[sample]
        assert full.climb_rate[sample] == pytest.approx(rate, rel=0.04)


def test_middle_charge_is_between_fresh_and_empty() -> None:
    """Where each figure is told, in the order of a flight."""
    assert 0.2 < MIDDLE < FRESH < 1.0


def test_tips_beyond_the_measurements_are_named(computed: Computed) -> None:
    """A 5-inch propeller at 22 000 rpm runs its tips at Mach 0.4: extrapolated, aloud."""
    plane = computed("reedling")
    mach = np.pi * 0.127 * np.median(plane.full_throttle.top_revolutions) / 340
    assert mach > 0.26
    assert any(f"Mach {mach:.1f}" in text for text in plane.full_throttle.assumed)

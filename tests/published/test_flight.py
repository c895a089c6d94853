"""Climb against a textbook aeroplane, a flight's charge against a library's integrator."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from foamwright.physics.arrays import Samples
from foamwright.physics.drive.blade import label_blade
from foamwright.physics.drive.controller import Controller
from foamwright.physics.drive.equilibrium import TWO_PI, Drive, at_throttle, at_thrust
from foamwright.physics.drive.motor import Motor
from foamwright.physics.drive.pack import Pack
from foamwright.physics.drive.propeller import Multipliers, propeller_table
from foamwright.physics.flight.climb import fastest_climb
from foamwright.physics.flight.course import Leg, charge_used
from foamwright.physics.flight.level import DragCurve

pytestmark = pytest.mark.published

FOOT, POUND = 0.3048, 4.4482216
ONE = np.ones(1)


def test_climb_of_the_propeller_aeroplane_of_a_textbook() -> None:
    """CP-1 at sea level: 1494 ft/min within 1 %, read there from a graph.

    J. D. Anderson, Introduction to Flight, ch. 6, from memory: 2950 lb, 174 ft2, aspect ratio 7.37,
    CD0 0.025, span efficiency 0.8, 230 hp at a propeller efficiency of 0.8. The closed form at
    CD = 4 CD0 gives 1498 ft/min.
    """
    weight, area, density = 2950.0 * POUND, 174.0 * FOOT**2, 1.225
    speed = np.linspace(25.0, 80.0, 111)
    pressure = 0.5 * density * speed**2 * area
    CL = weight / pressure
    drag = (0.025 + CL**2 / (np.pi * 0.8 * 7.37)) * pressure
    thrust = 0.8 * 230.0 * 550.0 * FOOT * POUND / speed
    curve = DragCurve(speed=speed, drag=drag[None, :], flyable=np.ones((1, speed.size), dtype=bool))
    found = fastest_climb(curve, thrust[None, :], np.array([weight]))
    assert found.rate[0] * 60.0 / FOOT == pytest.approx(1494.0, rel=0.01)


def test_charge_of_a_flight_against_an_integrator() -> None:
    """Launch, cruise of eight minutes, full throttle: SciPy's Runge-Kutta within 0.1 %."""
    speed = np.linspace(6.0, 30.0, 49)
    drag = 0.003 * speed**2 + 60.0 / speed**2
    curve = DragCurve(speed=speed, drag=drag[None, :], flyable=np.ones((1, speed.size), dtype=bool))
    kv = 2300.0 * TWO_PI / 60.0 * ONE
    drive = Drive(
        motor=Motor(
            speed_constant=kv,
            resistance=0.1 * ONE,
            no_load_current=0.6 * ONE,
            no_load_speed=10 * kv,
        ),
        controller=Controller(resistance=0.008 * ONE, part_loss=0.15 * ONE),
        pack=Pack(
            cells=3,
            capacity=0.85 * 3600.0 * ONE,
            cell_resistance=0.014 * ONE,
            lead_resistance=0.006 * ONE,
            voltage_shift=0.0 * ONE,
        ),
        propeller=propeller_table(label_blade(0.127, 0.0762, 2.0))[0],
        multipliers=Multipliers(advance=ONE, thrust=ONE, power=ONE),
        density=1.2 * ONE,
        gear_power=5.0 * ONE,
    )
    plan = [(8.0, 10.0, 1.0), (480.0, 15.0, None), (30.0, 20.0, 0.9)]

    def current(charge: float, fast: float, throttle: float | None) -> float:
        air = np.array([[fast]])
        if throttle is not None:
            return float(at_throttle(drive, air, throttle, charge).pack_current[0, 0])
        pull = np.array([[float(np.interp(fast, speed, drag))]])
        return float(at_thrust(drive, air, pull, charge).pack_current[0, 0])

    left = 1.0
    for seconds, fast, throttle in plan:

        def slope(_: float, s: Samples, f: float = fast, t: float | None = throttle) -> list[float]:
            return [-current(float(s[0]), f, t) / (0.85 * 3600.0)]

        done = solve_ivp(slope, (0.0, seconds), [left], rtol=1e-7, atol=1e-9)
        left = float(done.y[0, -1])
    legs = [Leg(seconds=t * ONE, speed=v * ONE, throttle=u) for t, v, u in plan]
    found = charge_used(curve, drive, legs, 1.0)
    assert found.holds.all()
    assert 1.0 - left > 0.4
    assert 1.0 - found.left[0] == pytest.approx(1.0 - left, rel=1e-3)

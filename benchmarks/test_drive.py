"""Propeller and drive for a batch against loops and direct evaluation, in the same run."""

import bisect
import math
import time

import numpy as np
from pytest_benchmark.fixture import BenchmarkFixture
from scipy.optimize import brentq

from foamwright.physics.drive.blade import label_blade
from foamwright.physics.drive.blade_element import Operation, blade_element
from foamwright.physics.drive.controller import Controller
from foamwright.physics.drive.equilibrium import TWO_PI, Drive, at_throttle
from foamwright.physics.drive.motor import Motor
from foamwright.physics.drive.pack import Pack, pack_resistance, pack_voltage
from foamwright.physics.drive.propeller import (
    STANDARD_VISCOSITY,
    Multipliers,
    coefficients,
    propeller_table,
)

POINTS = 1024
LOOPED = 64
BLADE = label_blade(5.0 * 0.0254, 3.0 * 0.0254, 2)
TABLE = propeller_table(BLADE)[0]
RANDOM = np.random.default_rng(1)
ADVANCE = RANDOM.uniform(0.0, 0.7, POINTS)
REVOLUTIONS = RANDOM.uniform(150.0, 400.0, POINTS)


def operation(chosen: slice) -> Operation:
    """Return some of the operating points."""
    return Operation(
        advance_ratio=ADVANCE[chosen],
        revolutions=REVOLUTIONS[chosen],
        kinematic_viscosity=np.full(ADVANCE[chosen].size, STANDARD_VISCOSITY),
    )


def test_a_batch_of_blade_elements_against_a_loop(benchmark: BenchmarkFixture) -> None:
    """1024 operating points of one blade; the loop is timed over 64 and scaled."""
    start = time.perf_counter()
    looped = [blade_element(BLADE, operation(slice(i, i + 1)))[0][0] for i in range(LOOPED)]
    loop = (time.perf_counter() - start) * POINTS / LOOPED
    thrust, _, _ = benchmark(blade_element, BLADE, operation(slice(None)))
    benchmark.extra_info["loop over batch"] = loop / benchmark.stats.stats.median
    assert np.allclose(thrust[:LOOPED], looped, rtol=1e-5, atol=1e-7)


def test_a_table_against_the_blade_elements_behind_it(benchmark: BenchmarkFixture) -> None:
    """1024 look-ups against 1024 direct evaluations; both agree within 2 % of thrust at rest."""
    start = time.perf_counter()
    direct, _, _ = blade_element(BLADE, operation(slice(None)))
    took = time.perf_counter() - start
    read, _, _ = benchmark(coefficients, TABLE, ADVANCE, REVOLUTIONS)
    benchmark.extra_info["direct over look-up"] = took / benchmark.stats.stats.median
    benchmark.extra_info["largest difference in CT"] = float(np.abs(read - direct).max())
    assert np.abs(read - direct).max() < 0.02 * direct.max()


def scattered(middle: float, spread: float) -> np.ndarray:
    """Return samples about a middle."""
    return middle * np.exp(spread * RANDOM.standard_normal(POINTS))


def a_drive() -> Drive:
    """Return 1024 samples of a small motor, a 5x3 propeller and a 3S pack."""
    kv = scattered(2300.0 * TWO_PI / 60.0, 0.05)
    return Drive(
        motor=Motor(
            speed_constant=kv,
            resistance=scattered(0.10, 0.2),
            no_load_current=scattered(0.6, 0.3),
            no_load_speed=kv * 10.0,
            commutation=scattered(2.0e-5, 0.2),
        ),
        controller=Controller(resistance=scattered(0.008, 0.3), part_loss=scattered(0.15, 0.3)),
        pack=Pack(
            cells=3,
            capacity=np.full(POINTS, 1.3 * 3600.0),
            cell_resistance=scattered(0.009, 0.2),
            lead_resistance=scattered(0.006, 0.2),
            voltage_shift=np.zeros(POINTS),
        ),
        propeller=TABLE,
        multipliers=Multipliers(
            advance=scattered(1.0, 0.08), thrust=scattered(1.0, 0.1), power=scattered(1.0, 0.15)
        ),
        density=scattered(1.2, 0.02),
        gear_power=scattered(6.0, 0.2),
    )


SPEEDS = np.log(TABLE.revolutions).tolist()
ADVANCES, POWERS = TABLE.advance_ratio.tolist(), TABLE.power.tolist()


def plain_power_coefficient(advance_ratio: float, revolutions: float) -> float:
    """Return CP of the table for plain floats, as a loop would read it."""
    speed = min(max(math.log(revolutions), SPEEDS[0]), SPEEDS[-1])
    ratio = min(max(advance_ratio, 0.0), ADVANCES[-1])
    row = min(max(bisect.bisect_right(ADVANCES, ratio) - 1, 0), len(ADVANCES) - 2)
    column = min(max(bisect.bisect_right(SPEEDS, speed) - 1, 0), len(SPEEDS) - 2)
    along = (ratio - ADVANCES[row]) / (ADVANCES[row + 1] - ADVANCES[row])
    across = (speed - SPEEDS[column]) / (SPEEDS[column + 1] - SPEEDS[column])
    near = POWERS[row][column] * (1 - across) + POWERS[row][column + 1] * across
    far = POWERS[row + 1][column] * (1 - across) + POWERS[row + 1][column + 1] * across
    return near * (1 - along) + far * along


def looped_revolutions(drive: Drive, airspeed: float) -> list[float]:
    """Return the revolutions of every sample at full throttle by SciPy's compiled root finder."""
    left = np.full(POINTS, 0.7)
    columns = {
        "kv": drive.motor.speed_constant,
        "winding": drive.motor.resistance + drive.controller.resistance,
        "idle": drive.motor.no_load_current,
        "idle_speed": drive.motor.no_load_speed,
        "lag": drive.motor.commutation,
        "voltage": pack_voltage(drive.pack, left),
        "sag": pack_resistance(drive.pack, left),
        "advance": drive.multipliers.advance,
        "power": drive.multipliers.power,
        "density": drive.density,
        "gear": drive.gear_power,
    }
    found = []
    for values in zip(*(column.tolist() for column in columns.values()), strict=True):
        one = dict(zip(columns, values, strict=True))
        volts = one["voltage"] - one["sag"] * one["gear"] / one["voltage"]

        def residual(turns: float, one: dict[str, float] = one, volts: float = volts) -> float:
            turning = TWO_PI * turns
            lag = one["lag"] * turning
            current = (volts - turning / one["kv"]) / (one["winding"] + one["sag"] + lag)
            lost = one["idle"] * 0.5 * (1.0 + turning / one["idle_speed"])
            given = (current - lost) / one["kv"] + one["lag"] * current**2
            ratio = airspeed / (turns * TABLE.diameter) / one["advance"]
            power = one["power"] * plain_power_coefficient(ratio, turns)
            return given - power * one["density"] * turns**2 * TABLE.diameter**5 / TWO_PI

        top = volts * one["kv"] / TWO_PI
        found.append(brentq(residual, 1e-3 * top, top, xtol=1e-3))
    return found


def test_a_batch_at_full_throttle_against_a_loop(benchmark: BenchmarkFixture) -> None:
    """1024 drives at 15 m/s; the loop works on plain floats and agrees within 0.1 %."""
    drive = a_drive()
    start = time.perf_counter()
    looped = looped_revolutions(drive, 15.0)
    loop = time.perf_counter() - start
    state = benchmark(at_throttle, drive, np.full((1, 1), 15.0), 1.0, 0.7)
    benchmark.extra_info["loop over batch"] = loop / benchmark.stats.stats.median
    assert np.allclose(state.revolutions[:, 0], looped, rtol=1e-3)

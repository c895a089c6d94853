"""Equilibria of a whole ensemble at once against a loop over its samples, in the same run."""

import time
from collections.abc import Callable

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from foamwright.physics.drive.blade import label_blade
from foamwright.physics.drive.controller import Controller
from foamwright.physics.drive.equilibrium import TWO_PI, Drive, Operating, at_throttle, at_thrust
from foamwright.physics.drive.motor import Motor
from foamwright.physics.drive.pack import Pack
from foamwright.physics.drive.propeller import Multipliers, propeller_table

SAMPLES, LOOPED = 1024, 16
SPEED = np.linspace(6.0, 30.0, 24)[None, :]
THRUST = np.tile(0.2 + 0.002 * SPEED**2, (SAMPLES, 1))
TABLE = propeller_table(label_blade(0.127, 0.0762, 2.0))[0]


def drive(samples: int) -> Drive:
    """A 2204 of 2300 rpm/V, 5x3, 3S 1300; Kv scattered."""
    one = np.ones(samples)
    kv = 2300.0 * TWO_PI / 60.0 * np.linspace(0.9, 1.1, samples)
    return Drive(
        motor=Motor(
            speed_constant=kv,
            resistance=0.1 * one,
            no_load_current=0.6 * one,
            no_load_speed=10.0 * kv,
            commutation=7e-5 * one,
        ),
        controller=Controller(resistance=0.008 * one, part_loss=0.15 * one),
        pack=Pack(
            cells=3,
            capacity=4680.0 * one,
            cell_resistance=0.009 * one,
            lead_resistance=0.006 * one,
            voltage_shift=0.0 * one,
        ),
        propeller=TABLE,
        multipliers=Multipliers(advance=one, thrust=one, power=one),
        density=1.2 * one,
        gear_power=5.0 * one,
    )


def full(whole: Drive) -> Operating:
    """Full throttle."""
    return at_throttle(whole, SPEED, 1.0, 0.9)


def level(whole: Drive) -> Operating:
    """A thrust for every speed."""
    return at_thrust(whole, SPEED, THRUST[: whole.density.size], 0.6)


@pytest.mark.parametrize("state", [full, level])
def test_a_batch_of_equilibria_is_ten_times_faster_than_a_loop(
    benchmark: BenchmarkFixture, state: Callable[[Drive], Operating]
) -> None:
    """1024 samples at 24 speeds; the loop takes one sample with all its speeds at a time."""
    single, whole = drive(1), drive(SAMPLES)
    start = time.perf_counter()
    for _ in range(LOOPED):
        state(single)
    loop = (time.perf_counter() - start) * SAMPLES / LOOPED
    benchmark(state, whole)
    batch = benchmark.stats.stats.min
    benchmark.extra_info["loop over batch"] = loop / batch
    assert loop > 10.0 * batch

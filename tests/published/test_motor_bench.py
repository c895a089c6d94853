"""Motor, label propeller and volts against a bench of nine outrunners and eight propellers.

Data: P. Cao, J. Strawson (2018), see data/motors_README.md. Kv, commutation and the bias of moulded
5-inch propellers were each found once from all runs together; nothing is tuned to one motor.
"""

import importlib.util
import sys
from dataclasses import replace
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from foamwright.physics.drive.controller import Controller
from foamwright.physics.drive.equilibrium import TWO_PI, at_throttle
from foamwright.physics.drive.motor import (
    COMMUTATION,
    COMMUTATION_LN,
    PRINTED_KV,
    PRINTED_KV_SPREAD,
    Motor,
    resistance_from_size,
    warm_resistance,
)

pytestmark = pytest.mark.published

ROOT = Path(__file__).parents[2]
BENCH = Path(__file__).parent / "data/motors_bench.csv"
CURRENT, THRUST, SPEED = range(3)
WIDER = float(np.sqrt(1.0 + 1.0 / 9.0)) * 1.397 / 1.2816
"""Spread for a new motor over that of nine: the mean's error, and Student's 80 % for eight."""


def load(name: str) -> ModuleType:
    """Return a tool as a module."""
    spec = importlib.util.spec_from_file_location(name, ROOT / f"tools/{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[name] = module
    spec.loader.exec_module(module)
    return module


TOOL = load("compare_motors")
RUNS = TOOL.read(BENCH)
HELD = [TOOL.held(run, TOOL.NORMALS) for run in RUNS]
ERRORS = np.array([error for error, _ in HELD])
INSIDE = np.array([inside for _, inside in HELD])


def test_labels_hold_current_and_thrust_four_times_in_five() -> None:
    """The 80 % band holds 70 to 90 % of the 85 runs: of currents 86, of thrusts 79."""
    share = INSIDE.mean(axis=0)
    assert 0.70 <= share[CURRENT] <= 0.90
    assert 0.70 <= share[THRUST] <= 0.90
    assert 0.70 <= share[SPEED] <= 0.90


def test_labels_alone_reach_ten_percent_in_thrust() -> None:
    """Median error 16 % in current, 10 % in thrust, 4.5 % in speed; no bias beyond 3 %."""
    median = np.median(np.abs(ERRORS), axis=0)
    assert median[CURRENT] < 0.17
    assert median[THRUST] < 0.11
    assert median[SPEED] < 0.05
    assert np.abs(ERRORS.mean(axis=0)).max() < 0.03


@pytest.mark.slow
def test_one_bench_point_halves_the_error() -> None:
    """Thrust of the same motor's other 5-inch propellers: target 6 %, reached 5.1 %, from labels.

    A builder reads volts, amps, rpm and thrust with one propeller; Kv, resistance, no-load current
    and commutation follow. The other propellers are known by their labels only.
    """
    after = np.median(np.abs(TOOL.after_one_point(RUNS)), axis=0)
    assert after[THRUST] < 0.06
    assert after[CURRENT] < 0.07
    assert after[SPEED] < 0.02


def test_constants_are_those_of_the_data() -> None:
    """Kv and commutation found again from all runs, rounded; spreads no less than found."""
    kv, kv_spread, lag, lag_spread = TOOL.likeliest(RUNS)
    assert kv == pytest.approx(PRINTED_KV, abs=0.005)
    assert lag * COMMUTATION == pytest.approx(COMMUTATION, rel=0.03)
    assert kv_spread * WIDER == pytest.approx(PRINTED_KV_SPREAD, abs=0.005)
    assert lag_spread * WIDER == pytest.approx(COMMUTATION_LN, abs=0.03)


@pytest.mark.slow
def test_a_motor_left_out_is_held_by_the_others(monkeypatch: pytest.MonkeyPatch) -> None:
    """Constants found without a motor hold its runs as well: 78 % of currents, 75 % of thrusts.

    Each of the nine motors is left out in turn; median errors are 17 % and 11 %.
    """
    held = []
    for name, own in TOOL.by_motor(RUNS).items():
        kv, kv_spread, lag, lag_spread = TOOL.likeliest([r for r in RUNS if r.motor != name])
        with monkeypatch.context() as changed:
            changed.setattr(TOOL, "PRINTED_KV", kv)
            changed.setattr(TOOL, "PRINTED_KV_SPREAD", WIDER * kv_spread)
            changed.setattr(TOOL, "COMMUTATION_LN", WIDER * lag_spread)
            changed.setattr("foamwright.physics.drive.motor.COMMUTATION", lag * COMMUTATION)
            held += [TOOL.held(run, TOOL.NORMALS) for run in own]
    share = np.mean([inside for _, inside in held], axis=0)
    median = np.median(np.abs([error for error, _ in held]), axis=0)
    assert np.all((share >= 0.70) & (share <= 0.90))
    assert median[CURRENT] < 0.18
    assert median[THRUST] < 0.12


def test_commutation_explains_what_resistance_cannot() -> None:
    """Beyond the resistance of its size a motor loses volts as speed times current.

    Of the four motors with ten runs and more, over currents of one to two at least, each follows
    w / Kv + (R + X w) I more closely than w / Kv + (R + constant) I.
    """
    for own in TOOL.by_motor(RUNS).values():
        if len(own) < 10:
            continue
        current, turning = np.array([(r.measured[CURRENT], r.measured[SPEED]) for r in own]).T
        size = resistance_from_size(
            np.array([own[0].kv * TWO_PI / 60.0]), TOOL.motor_mass(own[0].motor)
        )
        resistance = warm_resistance(size, np.array([TOOL.WINDING_RISE])) + TOOL.BRIDGE
        beyond = np.array([run.volts for run in own]) - resistance * current
        left = [
            np.linalg.lstsq(np.stack((turning, term), axis=1), beyond, rcond=None)[1][0]
            for term in (turning * current, current)
        ]
        assert left[0] < left[1]


def test_the_trade_example_of_three_constants() -> None:
    """2300 rpm/V, 0.10 ohm, 12.2 V, 35 milliohm, 5x3: 12.1 A, 586 g (common practice, no source).

    The figure is worked out with true constants and no commutation, so it is held with the same
    and the propeller's spread only. With printed Kv and commutation as on the bench, the same
    parts come to 8 A and 450 g: the bench motors run at 0.76 of printed Kv times volts, these
    constants give 0.89.
    """
    run = TOOL.Run(
        motor="motor-2204-trade",
        kv=2300.0,
        prop="5x3",
        label=(0.127, 0.0762, 2.0),
        volts=12.2,
        measured=np.array([12.1, 0.586 * 9.80665, np.nan]),
    )
    one = np.ones(TOOL.SAMPLES)
    kv = 2300.0 * TWO_PI / 60.0 * one
    drive = TOOL.drive_of(run, TOOL.NORMALS)
    ideal = replace(
        drive,
        motor=Motor(
            speed_constant=kv,
            resistance=0.10 * one,
            no_load_current=0.6 * one,
            no_load_speed=10.0 * kv,
        ),
        controller=Controller(resistance=0.006 * one, part_loss=0.0 * one),
        pack=replace(drive.pack, lead_resistance=0.035 * one),
    )
    found = at_throttle(ideal, np.zeros((1, 1)), 1.0, 1.0)
    current, thrust = (
        np.percentile(found.motor_current, (10, 90)),
        np.percentile(found.thrust, (10, 90)),
    )
    assert current[0] < run.measured[CURRENT] < current[1]
    assert thrust[0] < run.measured[THRUST] < thrust[1]

"""Hold motor, label propeller and volts against a static bench: error, coverage, worth of a point.

    PYTHONPATH=src python tools/compare_motors.py bench.csv [--constants]

bench.csv: motor, kv_nominal, prop, diameter_in, pitch_in, blades, esc_us, thrust_N, V, I, rpm_elec,
supply_limited, flag. Only full command counts; rows at the supply's limit and flagged ones do not.
A motor is known by the stator size in its name and its printed Kv, a propeller by its label, and
the volts at the controller are those measured. The 80 % band runs from the 10th to the 90th
percentile of 1024 samples. With --constants it prints the likeliest Kv and
commutation of all motors at once instead.
"""

import csv
import re
import sys
from collections import defaultdict
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize
from scipy.stats import norm, qmc

from foamwright.model.spreads import CURRENT_DISCREPANCY_LN
from foamwright.physics.drive.blade import label_blade
from foamwright.physics.drive.controller import Controller
from foamwright.physics.drive.equilibrium import TWO_PI, Drive, at_throttle
from foamwright.physics.drive.motor import (
    COMMUTATION_LN,
    PRINTED_KV,
    PRINTED_KV_SPREAD,
    Motor,
    commutation_from_size,
    mass_from_stator,
    resistance_from_size,
    warm_resistance,
)
from foamwright.physics.drive.pack import FULL_CELL, Pack
from foamwright.physics.drive.propeller import PropellerTable, propeller_table
from foamwright.physics.drive.propeller_spread import multipliers, rest_spread

Array = NDArray[np.float64]
INCH = 0.0254
FULL_COMMAND = 2000.0
"""Pulse of full throttle [us]."""
PERCENTILES = (10.0, 50.0, 90.0)
SAMPLES = 1024
NORMALS: Array = norm.ppf(qmc.Sobol(9, seed=3).random(SAMPLES))
"""Of Kv, resistance, no-load current, commutation, propeller (3), current, density."""
PROPELLER = range(4, 7)
"""Which of them are the propeller's."""
UNKNOWN_HEIGHT = 5.5e-3
"""Stator height of a motor whose name keeps it back [m]."""
BRIDGE = 0.012
"""Controller and leads after the voltmeter [ohm]."""
RESISTANCE_LN = 0.4
NO_LOAD_SHARE = (30.0, 0.5)
"""No-load current at 10 V a kilogram of motor, ln spread: common practice."""
WINDING_RISE = 40.0
AIR = (1.2, 0.02)
"""Density, not recorded, and ln spread [kg m^-3]."""
VOLTS_ERROR = 0.03
"""What the voltmeter and the model leave of a motor's volts: residuals are 0.003 to 0.065 [V]."""
READING_LN = np.array([0.04, 0.03, 0.015])
"""ln error of a builder's ammeter, thrust scale and tachometer: common practice."""


@dataclass(frozen=True, kw_only=True)
class Run:
    """One motor with one propeller at full command."""

    motor: str
    kv: float
    """Printed [rpm/V]."""
    prop: str
    label: tuple[float, float, float]
    """Diameter, pitch [m], blades."""
    volts: float
    measured: Array
    """(3,) current [A], thrust [N], revolutions [1/s]."""


def read(path: Path) -> list[Run]:
    """Return the runs at full command that count."""
    runs = []
    with path.open(newline="") as file:
        for row in csv.DictReader(file):
            limited = row["supply_limited"] == "True" or bool(row["flag"])
            if limited or float(row["esc_us"]) != FULL_COMMAND:
                continue
            runs.append(
                Run(
                    motor=row["motor"],
                    kv=float(row["kv_nominal"]),
                    prop=row["prop"],
                    label=(
                        float(row["diameter_in"]) * INCH,
                        float(row["pitch_in"]) * INCH,
                        float(row["blades"]),
                    ),
                    volts=float(row["V"]),
                    measured=np.array(
                        [float(row["I"]), float(row["thrust_N"]), float(row["rpm_elec"]) / 60.0]
                    ),
                )
            )
    return runs


def stator(name: str) -> tuple[float, float]:
    """Return stator diameter and height from a name like motor-2205-... [m]."""
    found = re.search(r"-(\d\d)(\d\d|xx)-", name)
    if found is None:
        raise SystemExit(f"{name}: no stator size in the name")
    height = UNKNOWN_HEIGHT if found[2] == "xx" else float(found[2]) * 1e-3
    return float(found[1]) * 1e-3, height


def motor_mass(name: str) -> Array:
    """Return the mass a motor's unknown numbers are guessed from (1,) [kg]."""
    diameter, height = stator(name)
    return mass_from_stator(np.array([diameter]), np.array([height]))


def motor_of(run: Run, normals: Array) -> Motor:
    """Return the samples of a motor from its stator and printed Kv."""
    mass, printed = motor_mass(run.motor), np.array([run.kv * TWO_PI / 60.0])
    cold = resistance_from_size(printed, mass) * np.exp(RESISTANCE_LN * normals[:, 1])
    kv = printed * PRINTED_KV * (1.0 + PRINTED_KV_SPREAD * normals[:, 0])
    return Motor(
        speed_constant=kv,
        resistance=warm_resistance(cold, np.full(SAMPLES, WINDING_RISE)),
        no_load_current=NO_LOAD_SHARE[0] * mass * np.exp(NO_LOAD_SHARE[1] * normals[:, 2]),
        no_load_speed=kv * 10.0,
        commutation=commutation_from_size(printed, mass) * np.exp(COMMUTATION_LN * normals[:, 3]),
    )


@lru_cache(maxsize=64)
def table_of(label: tuple[float, float, float]) -> PropellerTable:
    """Return the table of the typical blade of a label."""
    return propeller_table(label_blade(*label))[0]


def drive_of(run: Run, normals: Array) -> Drive:
    """Return the samples of a run's drive, the measured volts behind no resistance."""
    nothing = np.zeros(SAMPLES)
    supply = Pack(
        cells=1,
        capacity=np.ones(SAMPLES),
        cell_resistance=nothing,
        lead_resistance=nothing,
        voltage_shift=np.full(SAMPLES, run.volts - FULL_CELL),
    )
    return Drive(
        motor=motor_of(run, normals),
        controller=Controller(resistance=np.full(SAMPLES, BRIDGE), part_loss=nothing),
        pack=supply,
        propeller=table_of(run.label),
        multipliers=multipliers(normals[:, 4:7], rest_spread(*run.label)),
        density=AIR[0] * np.exp(AIR[1] * normals[:, 8]),
        gear_power=nothing,
    )


def predicted(run: Run, normals: Array) -> Array:
    """Return current, thrust and revolutions of every sample, (3, n)."""
    found = at_throttle(drive_of(run, normals), np.zeros((1, 1)), 1.0, 1.0)
    current = found.motor_current[:, 0] * np.exp(CURRENT_DISCREPANCY_LN * normals[:, 7])
    return np.stack((current, found.thrust[:, 0], found.revolutions[:, 0]))


def held(run: Run, normals: Array) -> tuple[Array, Array]:
    """Return ln measured/predicted and whether the band holds it, for current, thrust, speed."""
    low, middle, high = np.percentile(predicted(run, normals), PERCENTILES, axis=1)
    return np.log(run.measured / middle), (run.measured >= low) & (run.measured <= high)


def informed(run: Run) -> Array:
    """Return the normals after a run was measured, the propeller's own set back.

    The logs of the readings are nearly linear in the normals, so normals stay normal: the best
    linear update, in closed form.
    """
    logs = np.log(predicted(run, NORMALS)).T
    off = logs - logs.mean(axis=0)
    shared = NORMALS.T @ off / SAMPLES
    gain = np.linalg.solve(off.T @ off / SAMPLES + np.diag(READING_LN**2), shared.T).T
    mean = gain @ (np.log(run.measured) - logs.mean(axis=0))
    left = np.eye(NORMALS.shape[1]) - gain @ shared.T
    keep = [i for i in range(NORMALS.shape[1]) if i not in PROPELLER]
    factor = np.linalg.cholesky(left[np.ix_(keep, keep)] + 1e-9 * np.eye(len(keep)))
    found = NORMALS.copy()
    found[:, keep] = mean[keep] + NORMALS[:, keep] @ factor.T
    return found


def after_one_point(runs: list[Run]) -> Array:
    """Return ln measured/predicted of current, thrust, speed of every motor's other runs.

    Each run in turn is the bench point; the other propellers on the same motor are predicted.
    """
    errors = []
    for point in runs:
        others = [r for r in runs if r.motor == point.motor and r.prop != point.prop]
        normals = informed(point) if others else NORMALS
        errors += [held(run, normals)[0] for run in others]
    return np.array(errors)


def unlikelihood(constants: Array, runs: list[Run]) -> float:
    """Return minus the ln likelihood of one motor's volts at its measured currents and speeds.

    Volts are w / Kv + (R + X w) I, linear in 1/Kv (mean, deviation over printed), X (the same over
    usual) and R (of its size within 40 %), so they are jointly normal.
    """
    mass, printed = motor_mass(runs[0].motor), np.array([runs[0].kv * TWO_PI / 60.0])
    cold = resistance_from_size(printed, mass)
    warm = float(warm_resistance(cold, np.array([WINDING_RISE]))[0])
    mean_resistance = warm * np.exp(0.5 * RESISTANCE_LN**2)
    deviation = mean_resistance * np.sqrt(np.expm1(RESISTANCE_LN**2))
    volts = np.array([run.volts for run in runs])
    current, speed = np.array([(run.measured[0], run.measured[2] * TWO_PI) for run in runs]).T
    back = speed / printed
    lag = speed * current * commutation_from_size(printed, mass)
    off = volts - back * constants[0] - current * (mean_resistance + BRIDGE) - lag * constants[2]
    spread = np.eye(volts.size) * VOLTS_ERROR**2
    for vector, own in ((back, constants[1]), (lag, constants[3]), (current, deviation)):
        spread += np.outer(vector, vector) * own**2
    return 0.5 * float(off @ np.linalg.solve(spread, off) + np.linalg.slogdet(spread)[1])


def likeliest(runs: list[Run]) -> Array:
    """Return Kv over printed and its relative spread, commutation over usual and its ln spread."""
    groups = by_motor(runs).values()

    def total(constants: Array) -> float:
        return float(sum(unlikelihood(constants, own) for own in groups))

    found = minimize(
        total,
        np.array([1.06, 0.06, 1.0, 0.5]),
        method="Nelder-Mead",
        options={"maxiter": 4000, "xatol": 1e-5, "fatol": 1e-6},
    ).x
    share = abs(found[3]) / found[2]
    return np.array(
        [
            1.0 / found[0],
            abs(found[1]) / found[0],
            found[2] / np.sqrt(1.0 + share**2),
            np.sqrt(np.log1p(share**2)),
        ]
    )


def by_motor(runs: list[Run]) -> dict[str, list[Run]]:
    """Return the runs of each motor."""
    groups: dict[str, list[Run]] = defaultdict(list)
    for run in runs:
        groups[run.motor].append(run)
    return groups


def line(name: str, errors: Array, inside: Array) -> str:
    """Return medians, bias and coverage in one line."""
    off, bias, share = np.median(np.abs(errors), axis=0), errors.mean(axis=0), inside.mean(axis=0)
    return (
        f"{name:22s} n {len(errors):3d}  median |ln| I {off[0]:.3f} T {off[1]:.3f} n {off[2]:.3f}"
        f"  mean ln I {bias[0]:+.3f} T {bias[1]:+.3f} n {bias[2]:+.3f}"
        f"  in band I {share[0]:.2f} T {share[1]:.2f} n {share[2]:.2f}"
    )


def main() -> None:
    """Print every motor, all of them, and what one bench point is worth."""
    runs = read(Path(sys.argv[1]))
    groups = by_motor(runs)
    if "--constants" in sys.argv:
        kv, kv_spread, lag, lag_spread = likeliest(runs)
        print(f"Kv over printed {kv:.3f}, relative spread {kv_spread:.3f}")
        print(f"commutation over usual {lag:.2f}, ln spread {lag_spread:.2f}")
        return
    found = {name: [held(run, NORMALS) for run in own] for name, own in groups.items()}
    for name, own in found.items():
        print(line(name, np.array([e for e, _ in own]), np.array([i for _, i in own])))
    every = [pair for own in found.values() for pair in own]
    print(line("all", np.array([e for e, _ in every]), np.array([i for _, i in every])))
    after = np.median(np.abs(after_one_point(runs)), axis=0)
    print(f"after one point: median |ln| I {after[0]:.3f} T {after[1]:.3f} n {after[2]:.3f}")


if __name__ == "__main__":
    main()

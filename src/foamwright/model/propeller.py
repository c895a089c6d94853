"""The propeller: label, blade or measured table, settled by a bench reading."""

from functools import lru_cache
from pathlib import Path

import numpy as np

from foamwright.model.air import AirState
from foamwright.model.drive_parts import DriveParts
from foamwright.physics.drive.blade import BladeStations, label_blade, measured_blade
from foamwright.physics.drive.equilibrium import TWO_PI
from foamwright.physics.drive.motor import Motor, shaft_torque
from foamwright.physics.drive.propeller import (
    CurveRows,
    PropellerTable,
    coefficients,
    measured_table,
    propeller_table,
)
from foamwright.physics.drive.propeller_spread import (
    Spread,
    StaticReading,
    blade_spread,
    conditioned,
    moulded_spread,
    rest_spread,
    table_spread,
)
from foamwright.plane.data_files import read_blade, read_coefficients


@lru_cache(maxsize=64)
def label_table(diameter: float, pitch: float, blades: int) -> PropellerTable:
    """Return the table of the typical blade of a label."""
    return propeller_table(label_blade(diameter, pitch, blades))[0]


def propeller_of(
    parts: DriveParts, folder: Path
) -> tuple[PropellerTable, tuple[Spread, Spread], list[str]]:
    """Return the propeller's table, its spreads in flight and at rest, what was assumed.

    Both spreads are those before any bench reading.
    """
    item, diameter, pitch = parts.propeller, parts.diameter, parts.pitch
    if item.coefficients is not None:
        rows = np.array(read_coefficients(folder / item.coefficients))
        curve = CurveRows(advance_ratio=rows[:, 0], thrust=rows[:, 1], power=rows[:, 2])
        return measured_table(curve, diameter), (table_spread(), table_spread()), []
    if item.blade is not None:
        rows = np.array(read_blade(folder / item.blade))
        stations = BladeStations(radius=rows[:, 0], chord=rows[:, 1], twist=np.deg2rad(rows[:, 2]))
        blade = measured_blade(stations, diameter, item.blades)
        return propeller_table(blade)[0], (blade_spread(), blade_spread()), []
    text = (
        f"{item.name}: from its label alone, which tells thrust within about a fifth and power "
        "within a quarter; one bench reading of rpm and amps narrows that"
    )
    if item.static_reading is not None:
        text = f"{item.name}: from its label and one bench reading"
    label = (diameter, pitch, float(item.blades))
    table = label_table(diameter, pitch, item.blades)
    return table, (moulded_spread(*label), rest_spread(*label)), [text]


def settled(
    parts: DriveParts, table: PropellerTable, spread: Spread, *, motor: Motor, air: AirState
) -> Spread:
    """Return the propeller's spread after the builder's static bench reading, if there is one."""
    reading = parts.propeller.static_reading
    if reading is None:
        return spread
    turns = np.array([reading.rotation_speed.value])
    CT, CP, _ = coefficients(table, np.zeros(1), turns)
    density = float(np.median(air.density))
    torque = shaft_torque(
        motor,
        np.full(motor.speed_constant.shape, reading.current.value),
        np.full(motor.speed_constant.shape, TWO_PI * turns[0]),
    )
    power = TWO_PI * np.median(torque) / (density * turns[0] ** 2 * parts.diameter**5)
    # Kv, commutation and no-load current stand between amps and torque: their spread is the
    # reading's error.
    error = float(np.std(torque) / np.median(torque))
    thrust = None
    if reading.thrust is not None:
        thrust = reading.thrust.value / (density * turns[0] ** 2 * parts.diameter**4)
    return conditioned(
        spread,
        StaticReading(
            power_ratio=float(power / CP[0]),
            power_error=max(error, 0.03),
            thrust_ratio=None if thrust is None else float(thrust / CT[0]),
        ),
    )

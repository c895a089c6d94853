"""Motor, propeller, speed controller and pack made into drive records."""

import dataclasses
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np

from foamwright.model import spreads
from foamwright.model.air import AirState
from foamwright.model.ensemble import Draws
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.blade import BladeStations, label_blade, measured_blade
from foamwright.physics.drive.controller import Controller
from foamwright.physics.drive.equilibrium import TWO_PI, Drive
from foamwright.physics.drive.motor import (
    COMMUTATION_LN,
    PRINTED_KV,
    PRINTED_KV_SPREAD,
    Motor,
    commutation_from_size,
    mass_from_stator,
    resistance_from_size,
    shaft_torque,
    warm_resistance,
)
from foamwright.physics.drive.pack import HIGH_VOLTAGE_EXTRA, Pack, cell_resistance
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
    multipliers,
    rest_spread,
    table_spread,
)
from foamwright.plane import gear
from foamwright.plane.data_files import read_blade, read_coefficients
from foamwright.plane.plane import Plane
from foamwright.quantity import Quantity

QUALITY = {"good": (27.0, 4.0), "ordinary": (43.0, 7.0), "tired": (70.0, 12.0)}
"""Cell resistance times capacity by condition, and spread [ohm A s]; common practice:
6-9, 10-14 and 15-25 milliohm ampere-hours."""

LEADS = (0.006, 0.0015)
"""Leads and plug of a pack, and spread [ohm]; common practice."""

CELL_SHIFT = 0.02
"""Spread of a cell's open-circuit voltage against the curve [V]."""

PACK_WARMTH = 5.0
"""How much warmer than the air a pack in flight is [K]; common practice."""

BRIDGE = (0.006, 0.35)
"""Resistance of a speed controller that states none, and relative spread [ohm]."""

PART_LOSS = (0.15, 0.06)
"""Share of the current lost near zero throttle, and spread; common practice, no source."""

WINDING_RISE = (40.0, 15.0)
"""How much warmer than printed a winding runs, and spread [K]; common practice."""

KV_MEASURED = 0.015
"""Relative spread of a measured Kv that states none; common practice."""

RESISTANCE_LN = 0.4
"""ln spread of a resistance from the motor's size; common practice."""

NO_LOAD_SHARE = (30.0, 0.5)
"""No-load current at 10 V a kilogram of motor, and ln spread [A kg^-1]; common practice."""

BURST_SHARE = (1000.0, 0.15)
"""Ten-second current a kilogram of motor, and ln spread [A kg^-1]; common practice."""

REGULATOR_EFFICIENCY = {"linear": None, "switching": 0.88}
"""What a regulator passes on; a linear one passes the current and burns the voltage."""

FIVE_VOLT = 5.0


@dataclass(frozen=True, kw_only=True, slots=True)
class DriveModel:
    """The drive and what was assumed about it."""

    drive: Drive
    """Joined, with the propeller as it is in flight."""
    at_rest: Drive
    """The same with the propeller as it is standing still: labels tell that better."""
    usable: Samples
    """Share of the charge that is flown (n,) [-]."""
    burst_current: Samples
    """What the motor bears for ten seconds (n,) [A]."""
    current_factor: Samples
    """Discrepancy of every predicted current (n,) [-]."""
    thrust_height: float
    """z of the thrust line [m]."""
    assumed: tuple[str, ...]
    """What was assumed."""
    provisional: bool
    """Whether no bench reading stands behind the propeller."""


def needs(plane: Plane) -> tuple[str, ...]:
    """Return what is missing for a drive, as keys with words."""
    lacking = []
    by_kind = {item.kind: item for item in reversed(plane.items)}
    for kind, words in (
        ("motor", "a motor"),
        ("propeller", "a propeller"),
        ("pack", "a pack"),
        ("esc", "a speed controller"),
    ):
        if kind not in by_kind:
            lacking.append(f"an item of kind '{kind}' ({words})")
    motor, propeller, pack = (by_kind.get(k) for k in ("motor", "propeller", "pack"))
    if isinstance(motor, gear.Motor) and motor.kv is None:
        lacking.append(f"items.{motor.name}.kv, the motor's Kv")
    if isinstance(propeller, gear.Propeller) and propeller.diameter is None:
        lacking.append(f"items.{propeller.name}.diameter")
    if isinstance(propeller, gear.Propeller) and propeller.pitch is None:
        lacking.append(f"items.{propeller.name}.pitch")
    if isinstance(pack, gear.Pack) and pack.cells is None:
        lacking.append(f"items.{pack.name}.cells")
    if isinstance(pack, gear.Pack) and pack.capacity is None:
        lacking.append(f"items.{pack.name}.capacity")
    return tuple(lacking)


@dataclass(frozen=True, kw_only=True, slots=True)
class DriveParts:
    """The items of a complete drive, with the numbers that may not be missing."""

    motor: gear.Motor
    kv: Quantity
    propeller: gear.Propeller
    diameter: float
    pitch: float
    pack: gear.Pack
    cells: int
    capacity: Quantity
    controller: gear.SpeedController


def parts_of(plane: Plane) -> DriveParts | None:
    """Return the items of the drive; none where `needs` has something to ask."""
    by_kind = {item.kind: item for item in reversed(plane.items)}
    motor, propeller = by_kind.get("motor"), by_kind.get("propeller")
    pack, esc = by_kind.get("pack"), by_kind.get("esc")
    if not (isinstance(motor, gear.Motor) and isinstance(propeller, gear.Propeller)):
        return None
    if not (isinstance(pack, gear.Pack) and isinstance(esc, gear.SpeedController)):
        return None
    if motor.kv is None or propeller.diameter is None or propeller.pitch is None:
        return None
    if pack.cells is None or pack.capacity is None:
        return None
    return DriveParts(
        motor=motor,
        kv=motor.kv,
        propeller=propeller,
        diameter=propeller.diameter.value,
        pitch=propeller.pitch.value,
        pack=pack,
        cells=pack.cells,
        capacity=pack.capacity,
        controller=esc,
    )


def motor_of(parts: DriveParts, draws: Draws) -> tuple[Motor, Samples, list[str]]:
    """Return the motor, its ten-second current, and what was assumed."""
    item = parts.motor
    base, assumed = f"items.{item.name}", []
    kv, said = speed_constant_of(parts, draws)
    assumed += said
    mass = motor_mass(item)
    printed = np.full(draws.samples, TWO_PI * parts.kv.value)
    if item.resistance is not None:
        cold = draws.written(
            item.resistance,
            0.15 * item.resistance.value,
            key=f"{base}.resistance",
            label="motor resistance",
        )
    else:
        guess = resistance_from_size(printed, mass)
        cold = guess * draws.factor(
            RESISTANCE_LN, key=f"{base}.resistance", label="motor resistance"
        )
        assumed.append(f"{item.name}: resistance from its size and Kv, within 40 %")
    rise = draws.around(
        WINDING_RISE[0], WINDING_RISE[1], key="model.winding", label="motor temperature"
    )
    if item.no_load_current is not None:
        idle = draws.written(
            item.no_load_current,
            0.25 * item.no_load_current.value,
            key=f"{base}.no_load_current",
            label="no-load current",
        )
    else:
        idle = (
            NO_LOAD_SHARE[0]
            * mass
            * draws.factor(NO_LOAD_SHARE[1], key=f"{base}.no_load_current", label="no-load current")
        )
        assumed.append(f"{item.name}: no-load current from its mass")
    volts = 10.0 if item.no_load_voltage is None else item.no_load_voltage.value
    motor = Motor(
        speed_constant=kv,
        resistance=warm_resistance(cold, rise),
        no_load_current=idle,
        no_load_speed=kv * volts,
        commutation=commutation_from_size(printed, mass)
        * draws.factor(COMMUTATION_LN, key="model.commutation", label="commutation of the motor"),
    )
    if item.burst_current is not None:
        burst = draws.written(
            item.burst_current,
            0.12 * item.burst_current.value,
            key=f"{base}.burst_current",
            label="what the motor bears",
        )
    else:
        burst = (
            BURST_SHARE[0]
            * mass
            * draws.factor(
                BURST_SHARE[1], key=f"{base}.burst_current", label="what the motor bears"
            )
        )
    return motor, burst, assumed


def speed_constant_of(parts: DriveParts, draws: Draws) -> tuple[Samples, list[str]]:
    """Return the true Kv (n,) [rad s^-1 V^-1], and what was assumed of a printed one."""
    key, label, written = f"items.{parts.motor.name}.kv", "true Kv of the motor", parts.kv.value
    if parts.motor.kv_measured:
        return TWO_PI * draws.written(parts.kv, KV_MEASURED * written, key=key, label=label), []
    true = PRINTED_KV * written
    text = (
        f"{parts.motor.name}: true Kv {PRINTED_KV:.0%} ± {PRINTED_KV_SPREAD:.0%} of the printed "
        "one, as on a bench of nine small motors"
    )
    return TWO_PI * draws.around(true, PRINTED_KV_SPREAD * true, key=key, label=label), [text]


def motor_mass(item: gear.Motor) -> Samples:
    """Return the mass a motor's unknown numbers are guessed from (1,) [kg]."""
    if item.stator_diameter is not None and item.stator_height is not None:
        size = np.array([item.stator_diameter.value]), np.array([item.stator_height.value])
        return mass_from_stator(*size)
    return np.array([0.02 if item.mass is None else item.mass.value])


def pack_of(parts: DriveParts, air: AirState, draws: Draws) -> tuple[Pack, Samples, list[str]]:
    """Return the pack, the share of it that is flown, and what was assumed."""
    item = parts.pack
    base, assumed = f"items.{item.name}", []
    capacity = draws.written(
        parts.capacity,
        spreads.PACK_CAPACITY * parts.capacity.value,
        key=f"{base}.capacity",
        label="true capacity of the pack",
    )
    if item.cell_resistance is not None:
        cell = draws.written(
            item.cell_resistance,
            0.2 * item.cell_resistance.value,
            key=f"{base}.cell_resistance",
            label="pack resistance",
        )
    else:
        middle, spread = QUALITY[item.condition]
        quality = draws.around(
            middle, spread, key=f"{base}.cell_resistance", label="pack resistance"
        )
        cell = cell_resistance(capacity, quality, air.temperature + PACK_WARMTH)
        assumed.append(
            f"{item.name}: {item.condition} cells, {middle / 3.6:.0f} ± {spread / 3.6:.0f} mΩ·Ah; "
            "the charger's reading would settle it"
        )
    shift = draws.around(0.0, CELL_SHIFT, key="model.cell_voltage", label="cell voltage")
    leads = draws.around(LEADS[0], LEADS[1], key="model.leads", label="pack resistance")
    share = 0.80 if item.usable is None else item.usable.value
    if item.usable is None:
        assumed.append("80 % of the charge is flown, a fifth stays in the pack")
    usable = draws.around(share, spreads.USABLE, key="model.usable", label="charge used")
    pack = Pack(
        cells=parts.cells,
        capacity=capacity,
        cell_resistance=cell,
        lead_resistance=leads,
        voltage_shift=shift,
        full_extra=HIGH_VOLTAGE_EXTRA if item.chemistry == "LiHV" else 0.0,
    )
    return pack, np.clip(usable, 0.1, 1.0), assumed


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
        "within a quarter; one bench reading of rpm and amps halves that"
    )
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


def gear_power(plane: Plane, pack: Pack, draws: Draws) -> tuple[Samples, list[str]]:
    """Return what video, boards and servos take from the pack (n,) [W]."""
    total = np.zeros(draws.samples)
    nominal = 3.8 * pack.cells
    regulators = [item for item in plane.items if isinstance(item, gear.Regulator)]
    linear = bool(regulators) and regulators[0].type == "linear"
    assumed, quiet = [], []
    for item in plane.items:
        if item.draw is None:
            if item.kind in ("servo", "receiver", "camera", "video transmitter", "gps"):
                quiet.append(item.name)
            continue
        volts = nominal if item.rail == "pack" else FIVE_VOLT
        if item.rail_voltage is not None:
            volts = item.rail_voltage.value
        watts = item.draw.value * (volts if item.draw.dimension == "current" else 1.0)
        spread = item.draw.spread
        relative = spreads.DRAW_LN if spread is None else spread / max(item.draw.value, 1e-9)
        factor = draws.factor(relative, key=f"items.{item.name}.draw", label=f"draw of {item.name}")
        lost = 1.0
        if item.rail != "pack":
            lost = nominal / volts if linear else 1.0 / (REGULATOR_EFFICIENCY["switching"] or 1.0)
        total += watts * item.count * factor * lost
    if quiet:
        assumed.append("no draw known, so none counted, for " + ", ".join(quiet))
    return total, assumed


def drive_of(
    parts: DriveParts, plane: Plane, folder: Path, *, air: AirState, draws: Draws
) -> DriveModel:
    """Return the joined drive."""
    motor, burst, assumed = motor_of(parts, draws)
    pack, usable, more = pack_of(parts, air, draws)
    table, prior, said = propeller_of(parts, folder)
    flying, resting = (settled(parts, table, kind, motor=motor, air=air) for kind in prior)
    normals = np.stack(
        [draws.normal(f"propeller.{part}", "the propeller itself") for part in ("a", "b", "c")],
        axis=-1,
    )
    esc, propeller = parts.controller, parts.propeller
    bridge = BRIDGE[0] if esc.resistance is None else esc.resistance.value
    controller = Controller(
        resistance=draws.around(
            bridge, BRIDGE[1] * bridge, key="model.bridge", label="ESC resistance"
        ),
        part_loss=draws.around(
            PART_LOSS[0], PART_LOSS[1], key="model.part_loss", label="part-throttle loss"
        ),
    )
    gear_draw, quiet = gear_power(plane, pack, draws)
    drive = Drive(
        motor=motor,
        controller=controller,
        pack=pack,
        propeller=table,
        multipliers=multipliers(normals, flying),
        density=air.density,
        gear_power=gear_draw,
    )
    place = parts.motor.at
    height = place.z.value if place and place.z else 0.0
    measured = propeller.static_reading is not None or propeller.coefficients is not None
    return DriveModel(
        drive=drive,
        at_rest=dataclasses.replace(drive, multipliers=multipliers(normals, resting)),
        usable=usable,
        burst_current=burst,
        current_factor=draws.factor(
            spreads.CURRENT_DISCREPANCY_LN, key="model.current", label="currents against the model"
        ),
        thrust_height=height,
        assumed=(*said, *assumed, *more, *quiet),
        provisional=not measured,
    )

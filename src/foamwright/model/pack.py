"""The pack and what feeds from it besides the motor."""

import numpy as np

from foamwright.model import spreads
from foamwright.model.air import AirState
from foamwright.model.drive_parts import DriveParts
from foamwright.model.ensemble import Draws
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.pack import HIGH_VOLTAGE_EXTRA, Pack, cell_resistance
from foamwright.plane import gear
from foamwright.plane.plane import Plane

QUALITY = {"good": (27.0, 4.0), "ordinary": (43.0, 7.0), "tired": (70.0, 12.0)}
"""Cell resistance times capacity by condition, and spread [ohm A s]; common practice:
6-9, 10-14 and 15-25 milliohm ampere-hours."""

LEADS = (0.006, 0.0015)
"""Leads and plug of a pack, and spread [ohm]; common practice."""

CELL_SHIFT = 0.02
"""Spread of a cell's open-circuit voltage against the curve [V]."""

PACK_WARMTH = 5.0
"""How much warmer than the air a pack in flight is [K]; common practice."""

REGULATOR_EFFICIENCY = {"linear": None, "switching": 0.88}
"""What a regulator passes on; a linear one passes the current and burns the voltage."""

FIVE_VOLT = 5.0


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

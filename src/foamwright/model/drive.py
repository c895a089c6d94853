"""Motor, propeller, speed controller and pack joined."""

import dataclasses
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from foamwright.model import spreads
from foamwright.model.air import AirState
from foamwright.model.drive_parts import DriveParts
from foamwright.model.ensemble import Draws
from foamwright.model.motor import motor_of
from foamwright.model.pack import gear_power, pack_of
from foamwright.model.propeller import propeller_of, settled
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.controller import Controller
from foamwright.physics.drive.equilibrium import Drive
from foamwright.physics.drive.propeller_spread import multipliers
from foamwright.plane.plane import Plane

BRIDGE = (0.006, 0.35)
"""Resistance of a speed controller that states none, and relative spread [ohm]."""

PART_LOSS = (0.15, 0.06)
"""Share of the current lost near zero throttle, and spread; common practice, no source."""


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

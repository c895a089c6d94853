"""Short period, phugoid, roll, spiral and Dutch roll of the plane at one speed, n samples."""

from dataclasses import dataclass

import numpy as np

from foamwright.model.drag import PlaneDrag
from foamwright.physics.arrays import Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.flight.modes import (
    LateralModes,
    LevelFlight,
    Oscillation,
    pitch_matrix,
    pitch_modes,
    roll_yaw_matrix,
    roll_yaw_modes,
    turned_inertia,
)

ASSUMED = (
    "swinging and settling: sticks and throttle held still, small motions, no gusts",
    "power at the propeller taken as constant",
)
"""What the modes leave out."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Modes:
    """Small motions about level flight of n samples."""

    speed: float
    """[m s^-1]."""
    short_period: Oscillation
    """Nose up and down, fast."""
    phugoid: Oscillation
    """Rise and fall, slow."""
    sideways: LateralModes
    """Dutch roll, roll and spiral."""
    flight: LevelFlight
    """The steady flight they are about."""
    assumed: tuple[str, ...]
    """What was assumed."""


def modes_of(
    derivatives: Derivatives,
    drag: PlaneDrag,
    mass: Samples,
    *,
    inertia: Samples,
    density: Samples,
    downwash_lag: Samples,
) -> Modes:
    """Return the modes at the one speed of a drag curve; `inertia` (n, 3, 3) is in body axes."""
    speed = np.full(mass.shape, drag.speed[0])
    lift, force = drag.lift_coefficient[:, 0], drag.drag[:, 0]
    flight = LevelFlight(
        speed=speed,
        density=density,
        mass=mass,
        inertia=turned_inertia(inertia, drag.alpha[:, 0]),
        lift=lift,
        drag=force / (0.5 * density * speed**2 * derivatives.area),
        drag_slope=2.0 * drag.induced[:, 0] * derivatives.CLa / lift,
        thrust_slope=-force / speed,  # at constant power thrust falls as speed rises
        downwash_lag=downwash_lag,
    )
    short, phugoid = pitch_modes(pitch_matrix(derivatives, flight))
    return Modes(
        speed=float(drag.speed[0]),
        short_period=short,
        phugoid=phugoid,
        sideways=roll_yaw_modes(roll_yaw_matrix(derivatives, flight)),
        flight=flight,
        assumed=ASSUMED,
    )

"""The current a drive draws at an airspeed and a propeller speed that were both told."""

import numpy as np

from foamwright.model.drive import DriveModel
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.at_revolutions import Turning, current_drawn, falling

SENSOR_SCALE = 0.05
"""Of a current sensor nobody calibrated, relative: the same in all its readings; common practice,
no source. What a propeller's curve misses differs from state to state and is the reading's own."""


def drawn_at(model: DriveModel, speed: float, rotation_speed: float, voltage: float) -> Samples:
    """Return the current from the pack, whatever the throttle (n,) [A].

    None where the propeller would be driven by the air: a drive says little of that.
    """
    turning = Turning(revolutions=np.array([rotation_speed]), voltage=np.array([voltage]))
    _, last = falling(model.drive.propeller, turning.revolutions)
    ratio = speed / (rotation_speed * model.drive.propeller.diameter)
    drawn = current_drawn(model.drive, np.array([[speed]]), turning)[:, 0] * model.current_factor
    return np.where(ratio < last[0] * model.drive.multipliers.advance, drawn, np.nan)

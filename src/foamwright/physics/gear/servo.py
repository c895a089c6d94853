"""What a servo can hold, and how fast it gets there."""

import numpy as np

from foamwright.physics.arrays import Samples

USABLE_TORQUE = 0.40
"""Share of the label's stall torque to count on: common practice, no source."""

LOADED_SPEED = (0.70, 0.06)
"""Speed under load over the label's, and spread: 60-80 %, common practice, no source."""


def held_moment(torque: Samples, ratio: Samples) -> Samples:
    """Return the hinge moment a servo holds in daily use.

    Parameters
    ----------
    torque : (n,) [N m]
        Stall torque of the label.
    ratio : (n,) [-]
        Servo angle per surface angle where it stands: the mechanical advantage.

    Returns
    -------
    (n,) [N m]

    Source
    ------
    common-practice
    """
    return USABLE_TORQUE * torque * np.abs(ratio)


def time_for(turn: Samples, sixty_degrees: Samples, loaded: Samples) -> Samples:
    """Return the time a servo takes for a turn.

    Parameters
    ----------
    turn : (n,) [rad]
        Of its arm.
    sixty_degrees : (n,) [s]
        Time for 60 degrees of the label.
    loaded : (n,) [-]
        Speed under load over that of the label.

    Returns
    -------
    (n,) [s]

    Source
    ------
    common-practice
    """
    return np.asarray(np.abs(turn) / np.radians(60.0) * sixty_degrees / loaded)

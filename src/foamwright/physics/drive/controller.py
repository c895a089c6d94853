"""The speed controller: an averaging converter with a resistance and a part-throttle loss."""

from dataclasses import dataclass

from foamwright.physics.arrays import Samples


@dataclass(frozen=True, kw_only=True, slots=True)
class Controller:
    """A speed controller of n samples."""

    resistance: Samples
    """Of the bridge and the leads (n,) [ohm]."""
    part_loss: Samples
    """Share of the current lost near zero throttle; it fades to nothing at full (n,) [-]."""


def motor_voltage(pack_voltage: Samples, throttle: Samples) -> Samples:
    """Return the mean voltage given to the motor.

    Parameters
    ----------
    pack_voltage : (n,) [V]
        Under load.
    throttle : (n,) [-]
        Duty, 0 to 1.

    Returns
    -------
    (n,) [V]

    Source
    ------
    own-derivation
    """
    return pack_voltage * throttle


def current_gain(throttle: Samples, part_loss: Samples) -> Samples:
    """Return pack current over motor current: duty, and what switching costs at part throttle.

    Parameters
    ----------
    throttle : (n,) [-]
        Duty, 0 to 1.
    part_loss : (n,) [-]
        Share lost near zero throttle.

    Returns
    -------
    (n,) [-]

    Valid
    -----
    A lossless averaging converter at full throttle; the loss in between is common practice.

    Source
    ------
    own-derivation, common-practice
    """
    return throttle * (1.0 + part_loss * (1.0 - throttle))

"""The quantities that tests and flights teach, in words a builder knows."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.model.computable import ComputablePlane
from foamwright.model.performance import MIDDLE
from foamwright.physics.arrays import Samples
from foamwright.physics.drive.pack import pack_resistance


@dataclass(frozen=True, kw_only=True, slots=True)
class Parameter:
    """One quantity that can be learned."""

    label: str
    """The words for it."""
    dimension: str
    """Which dimension of `quantity` it has."""
    samples: Callable[[ComputablePlane], Samples]
    """Its samples (n,) [SI]."""
    drive: bool = False
    """Whether it needs a complete drive."""


def pack_ohms(computed: ComputablePlane) -> Samples:
    """Return the resistance of the pack half empty (n,) [ohm]."""
    return pack_resistance(computed.complete_drive.drive.pack, np.full(computed.samples, MIDDLE))


PARAMETERS: Mapping[str, Parameter] = {
    "all_up_mass": Parameter(
        label="all-up mass", dimension="mass", samples=lambda c: c.masses.all_up
    ),
    "balance_place": Parameter(
        label="where it balances", dimension="length", samples=lambda c: c.masses.centre[:, 0]
    ),
    "drag_area": Parameter(
        label="drag area, flying", dimension="area", samples=lambda c: np.full(c.samples, np.nan)
    ),
    "maximum_lift": Parameter(
        label="largest lift coefficient", dimension="number", samples=lambda c: c.maximum_lift[0]
    ),
    "propeller_thrust": Parameter(
        label="thrust of the propeller over its label's",
        dimension="number",
        samples=lambda c: c.complete_drive.at_rest.multipliers.thrust,
        drive=True,
    ),
    "propeller_power": Parameter(
        label="power of the propeller over its label's",
        dimension="number",
        samples=lambda c: c.complete_drive.at_rest.multipliers.power,
        drive=True,
    ),
    "propeller_pitch": Parameter(
        label="true pitch of the propeller over the printed one",
        dimension="number",
        samples=lambda c: c.complete_drive.drive.multipliers.advance,
        drive=True,
    ),
    "speed_constant": Parameter(
        label="true Kv of the motor",
        dimension="speed constant",
        samples=lambda c: c.complete_drive.drive.motor.speed_constant / (2.0 * np.pi),
        drive=True,
    ),
    "pack_resistance": Parameter(
        label="resistance of the pack", dimension="resistance", samples=pack_ohms, drive=True
    ),
    "pack_capacity": Parameter(
        label="true capacity of the pack",
        dimension="charge",
        samples=lambda c: c.complete_drive.drive.pack.capacity,
        drive=True,
    ),
    "currents": Parameter(
        label="currents over the model's",
        dimension="number",
        samples=lambda c: c.complete_drive.current_factor,
        drive=True,
    ),
    "control_delay": Parameter(
        label="delay of the stabiliser",
        dimension="time",
        samples=lambda c: np.full(c.samples, np.nan) if c.rate_loop is None else c.rate_loop.delay,
    ),
}
"""What can be learned, by name."""

COSTLY = "control_delay"
"""The one that is computed only where something was observed of it."""


def parameters_of(
    computed: ComputablePlane, speed: float, *, delay: bool = False
) -> dict[str, Samples]:
    """Return the samples (n,) of every parameter this plane has, drag at a speed [m s^-1].

    The delay of the stabiliser is among them where it is asked for.
    """
    found = {
        name: parameter.samples(computed)
        for name, parameter in PARAMETERS.items()
        if not (parameter.drive and computed.drive_missing) and (delay or name != COSTLY)
    }
    drag = computed.drag_at(np.array([speed])).drag[:, 0]
    return {**found, "drag_area": drag / (0.5 * computed.air.density * speed**2)}

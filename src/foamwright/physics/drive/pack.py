"""Lithium-polymer pack: open-circuit voltage, resistance, what is usable."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Samples

FULL_CELL = 4.20
"""Open-circuit voltage of a full cell [V]; the published curve's cell ends at 4.103 V."""

HIGH_VOLTAGE_EXTRA = 0.15
"""What a high-voltage cell has more when full [V]: common practice, no source."""

COLD = 0.033
"""Growth of ln resistance per kelvin below 22 degC: 1.75 times at 5 degC, common practice."""

WARM = 295.15
"""Where resistances are printed [K]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Pack:
    """A pack of n samples."""

    cells: int
    """In series."""
    capacity: Samples
    """(n,) [A s]."""
    cell_resistance: Samples
    """Of one cell, half full, at its temperature (n,) [ohm]."""
    lead_resistance: Samples
    """Leads and plug (n,) [ohm]."""
    voltage_shift: Samples
    """Of one cell against the curve (n,) [V]."""
    full_extra: float = 0.0
    """Open-circuit voltage a full cell has more than 4.20 V [V]."""


def published_open_circuit_voltage(charge: Samples) -> Samples:
    """Return the open-circuit voltage of the published 850 mAh cell.

    Parameters
    ----------
    charge : (n,) [-]
        Share left, 0 to 1.

    Returns
    -------
    (n,) [V]

    Source
    ------
    chen-rincon-mora-2006
    """
    return (
        -1.031 * np.exp(-35.0 * charge)
        + 3.685
        + 0.2156 * charge
        - 0.1178 * charge**2
        + 0.3201 * charge**3
    )


def published_resistance(charge: Samples) -> Samples:
    """Return the series resistance of the published 850 mAh cell.

    Parameters
    ----------
    charge : (n,) [-]
        Share left, 0 to 1.

    Returns
    -------
    (n,) [ohm]

    Source
    ------
    chen-rincon-mora-2006
    """
    return 0.1562 * np.exp(-24.37 * charge) + 0.07446


def open_circuit_voltage(charge: Samples, full_extra: float = 0.0) -> Samples:
    """Return the open-circuit voltage of a cell that is full at 4.20 V.

    The published curve, lifted in proportion to the square of the charge so that it ends at
    4.20 V.

    Parameters
    ----------
    charge : (n,) [-]
        Share left, 0 to 1.
    full_extra : float [V]
        What a full cell has more than 4.20 V.

    Returns
    -------
    (n,) [V]

    Valid
    -----
    Within 40 mV of a measured cobalt-oxide pouch cell from 10 to 95 %. Nickel-manganese cells lie
    lower: up to 85 mV above 30 %, 0.2 V near empty.

    Source
    ------
    chen-rincon-mora-2006, common-practice
    """
    lift = FULL_CELL + full_extra - 4.10290
    return published_open_circuit_voltage(charge) + lift * charge**2


def resistance_shape(charge: Samples) -> Samples:
    """Return cell resistance over that of a half-full cell.

    Measured cells with diffusion in it rise earlier: a cobalt-oxide pouch cell over tens of minutes
    shows 0.85 nearly full and 1.4 at a tenth, where this gives 1.0 and 1.2.

    Parameters
    ----------
    charge : (n,) [-]
        Share left, 0 to 1.

    Returns
    -------
    (n,) [-]

    Source
    ------
    chen-rincon-mora-2006
    """
    return published_resistance(charge) / published_resistance(np.full_like(charge, 0.5))


def cell_resistance(capacity: Samples, quality: Samples, temperature: Samples) -> Samples:
    """Return a half-full cell's resistance from its capacity.

    Parameters
    ----------
    capacity : (n,) [A s]
        Of the cell.
    quality : (n,) [ohm A s]
        Resistance times capacity at 22 degC: 22-32 good, 36-50 ordinary, 54-90 tired.
    temperature : (n,) [K]
        Of the cell.

    Returns
    -------
    (n,) [ohm]

    Valid
    -----
    Hobby packs of 0.3 to 5 Ah, ten-second loads.

    Source
    ------
    common-practice
    """
    cold = np.exp(COLD * np.maximum(WARM - temperature, 0.0))
    return quality / capacity * cold


def pack_voltage(pack: Pack, charge: Samples) -> Samples:
    """Return the open-circuit voltage of a pack.

    Parameters
    ----------
    pack : Pack
        n samples.
    charge : (n,) [-]
        Share left, 0 to 1.

    Returns
    -------
    (n,) [V]

    Source
    ------
    chen-rincon-mora-2006
    """
    return pack.cells * (open_circuit_voltage(charge, pack.full_extra) + pack.voltage_shift)


def pack_resistance(pack: Pack, charge: Samples) -> Samples:
    """Return the resistance of a pack with its leads.

    Parameters
    ----------
    pack : Pack
        n samples.
    charge : (n,) [-]
        Share left, 0 to 1.

    Returns
    -------
    (n,) [ohm]

    Source
    ------
    chen-rincon-mora-2006, own-derivation
    """
    return pack.cells * pack.cell_resistance * resistance_shape(charge) + pack.lead_resistance


def mass_from_label(cells: int, capacity: Samples) -> Samples:
    """Return a usual pack's mass with leads and plug, within 10 %.

    Parameters
    ----------
    cells : int
        In series.
    capacity : (n,) [A s]
        Printed.

    Returns
    -------
    (n,) [kg]

    Source
    ------
    common-practice
    """
    return (4.0 + cells * (0.6 + 26.0 * capacity / 3600.0)) * 1e-3


def peukert_time(capacity: Samples, hours: Samples, current: Samples, exponent: Samples) -> Samples:
    """Return how long a cell lasts at a current, by Peukert's law.

    Parameters
    ----------
    capacity : (n,) [A s]
        Rated.
    hours : (n,) [s]
        Discharge time it was rated at.
    current : (n,) [A]
        Drawn.
    exponent : (n,) [-]
        1 for an ideal cell; lithium 1.02-1.08.

    Returns
    -------
    (n,) [s]

    Source
    ------
    peukert-1897
    """
    return hours * (capacity / (current * hours)) ** exponent

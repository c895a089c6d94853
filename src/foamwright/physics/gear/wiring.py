"""Copper wire and plugs: size, resistance, voltage drop, currents that melt."""

import numpy as np

from foamwright.physics.arrays import Samples

COPPER_RESISTIVITY = 1.0 / 58.0e6
"""Annealed copper at 20 degC [ohm m]."""
COPPER_TEMPERATURE = 0.00393
"""Growth of its resistance per kelvin about 20 degC [K^-1]."""
ROOM = 293.15
"""Where resistances are printed [K]."""
FREEZING = 273.15
"""0 degC [K]."""
COPPER_MELTS = 1083.0
"""Melting point in Onderdonk's formula [degC]."""
CIRCULAR_MIL = 0.25 * np.pi * 25.4e-6**2
"""Area of a circle one thousandth of an inch across [m^2]."""
GOLD_CONTACT = 0.75e-3
"""One mated contact of a good plug [ohm]: 0.5-1 milliohm, common practice, no source."""


def gauge_diameter(gauge: Samples) -> Samples:
    """Return the diameter of a solid wire of an American Wire Gauge number.

    Parameters
    ----------
    gauge : (n,) [-]
        AWG number.

    Returns
    -------
    (n,) [m]

    Source
    ------
    astm-b258
    """
    return 0.127e-3 * 92.0 ** ((36.0 - gauge) / 39.0)


def gauge_area(gauge: Samples) -> Samples:
    """Return the copper cross-section of an American Wire Gauge number.

    Parameters
    ----------
    gauge : (n,) [-]
        AWG number.

    Returns
    -------
    (n,) [m^2]

    Source
    ------
    astm-b258
    """
    return 0.25 * np.pi * gauge_diameter(gauge) ** 2


def resistance_per_length(area: Samples, temperature: Samples) -> Samples:
    """Return the resistance of solid annealed copper per metre.

    Parameters
    ----------
    area : (n,) [m^2]
        Copper cross-section.
    temperature : (n,) [K]
        Of the wire.

    Returns
    -------
    (n,) [ohm m^-1]

    Valid
    -----
    Solid wire; fine strands of the same nominal section have up to 13 to 16 % more (IEC 60228).

    Source
    ------
    iec-60028, iec-60228
    """
    warm = 1.0 + COPPER_TEMPERATURE * (temperature - ROOM)
    return COPPER_RESISTIVITY / area * warm


def gauge_resistance(gauge: Samples, temperature: Samples) -> Samples:
    """Return the resistance of a wire per metre from its gauge number.

    Parameters
    ----------
    gauge : (n,) [-]
        AWG number.
    temperature : (n,) [K]
        Of the wire.

    Returns
    -------
    (n,) [ohm m^-1]

    Source
    ------
    astm-b258, iec-60028
    """
    return resistance_per_length(gauge_area(gauge), temperature)


def to_room_factor(temperature: Samples) -> Samples:
    """Return what a resistance measured at a temperature is multiplied by to give that at 20 degC.

    Parameters
    ----------
    temperature : (n,) [K]
        Where it was measured.

    Returns
    -------
    (n,) [-]

    Source
    ------
    iec-60228
    """
    return 254.5 / (234.5 + temperature - FREEZING)


def rounded_room_factor(temperature: Samples) -> Samples:
    """Return the same factor in the standard's rounded form, within 0.5 %.

    Parameters
    ----------
    temperature : (n,) [K]
        Where it was measured.

    Returns
    -------
    (n,) [-]

    Source
    ------
    iec-60228
    """
    return 250.0 / (230.0 + temperature - FREEZING)


def slow_melting_current(diameter: Samples) -> Samples:
    """Return the current that melts a bare copper wire in air in the long run (Preece).

    Parameters
    ----------
    diameter : (n,) [m]
        Of the solid wire.

    Returns
    -------
    (n,) [A]

    Source
    ------
    preece-1884
    """
    return 80.0 * (diameter * 1e3) ** 1.5


def fast_melting_current(area: Samples, seconds: Samples, ambient: Samples) -> Samples:
    """Return the current that melts a copper wire within a short time (Onderdonk).

    Parameters
    ----------
    area : (n,) [m^2]
        Copper cross-section.
    seconds : (n,) [s]
        How long it flows.
    ambient : (n,) [K]
        Temperature at first.

    Returns
    -------
    (n,) [A]

    Valid
    -----
    Up to about ten seconds: no heat leaves the wire.

    Source
    ------
    onderdonk-1928
    """
    first = ambient - FREEZING
    rise = (COPPER_MELTS - first) / (234.0 + first)
    return area / CIRCULAR_MIL * np.sqrt(np.log10(rise + 1.0) / (33.0 * seconds))


def connector_resistance(
    pairs: Samples, contact_resistance: float | Samples = GOLD_CONTACT
) -> Samples:
    """Return the resistance of mated plugs, there and back.

    Parameters
    ----------
    pairs : (n,) [-]
        Two-pole plugs in series.
    contact_resistance : (n,) [ohm]
        Of one mated contact; a pair has two.

    Returns
    -------
    (n,) [ohm]

    Source
    ------
    common-practice
    """
    return 2.0 * pairs * contact_resistance


def voltage_drop(current: Samples, line: Samples, length: Samples) -> Samples:
    """Return the voltage a two-wire lead loses, there and back.

    Parameters
    ----------
    current : (n,) [A]
        In the lead.
    line : (n,) [ohm m^-1]
        Resistance of one wire.
    length : (n,) [m]
        Of the lead, one way.

    Returns
    -------
    (n,) [V]

    Source
    ------
    own-derivation
    """
    return 2.0 * length * line * current

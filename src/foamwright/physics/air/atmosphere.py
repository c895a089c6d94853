"""Pressure, temperature, density and viscosity of the air.

Altitudes are geopotential unless a name says geometric; up is positive.
"""

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.validity import Range

GAS_CONSTANT_DRY_AIR = 287.05287
"""Specific gas constant of dry air [J kg^-1 K^-1], ISO 2533."""

GAS_CONSTANT_VAPOUR = 461.523
"""Specific gas constant of water vapour [J kg^-1 K^-1]: 8.314463 / 0.01801527."""

HEAT_RATIO = 1.4
"""Ratio of the specific heats of air [-], ISO 2533."""

GRAVITY = 9.80665
"""Standard acceleration of free fall [m s^-2], ISO 2533."""

EARTH_RADIUS = 6_356_766.0
"""Radius that ties geometric to geopotential altitude [m], ISO 2533."""

SEA_LEVEL_PRESSURE = 101_325.0
"""Standard pressure at sea level [Pa], ISO 2533."""

SEA_LEVEL_TEMPERATURE = 288.15
"""Standard temperature at sea level [K], ISO 2533."""

SEA_LEVEL_DENSITY = SEA_LEVEL_PRESSURE / (GAS_CONSTANT_DRY_AIR * SEA_LEVEL_TEMPERATURE)
"""Standard density at sea level [kg m^-3]: 1.225."""

LAPSE_RATE = 0.0065
"""Standard fall of temperature with geopotential altitude below 11 km [K m^-1], ISO 2533."""

PRESSURE_EXPONENT = GRAVITY / (GAS_CONSTANT_DRY_AIR * LAPSE_RATE)
"""Exponent of the pressure law below 11 km [-]: 5.25588."""

SUTHERLAND_FACTOR = 1.458e-6
"""Factor of the viscosity law [kg m^-1 s^-1 K^-0.5], ISO 2533."""

SUTHERLAND_TEMPERATURE = 110.4
"""Temperature in the viscosity law [K], ISO 2533."""

ICE_POINT = 273.15
"""0 degC [K]."""

ALTITUDES = Range(quantity="geopotential altitude", unit="m", low=-2000.0, high=11_000.0)
"""Where the constant lapse rate of the standard holds."""

TEMPERATURES = Range(quantity="air temperature", unit="K", low=233.15, high=323.15)
"""Where the saturation pressure over water is fitted: -40 to 50 degC."""


def geopotential_altitude(geometric_altitude: Samples) -> Samples:
    """Return the geopotential altitude of a height above the sea.

    Parameters
    ----------
    geometric_altitude : (n,) [m]
        Height above mean sea level, as a map tells it.

    Returns
    -------
    (n,) [m]

    Source
    ------
    iso-2533
    """
    return EARTH_RADIUS * geometric_altitude / (EARTH_RADIUS + geometric_altitude)


def geometric_altitude(altitude: Samples) -> Samples:
    """Return the height above the sea of a geopotential altitude.

    Parameters
    ----------
    altitude : (n,) [m]
        Geopotential altitude.

    Returns
    -------
    (n,) [m]

    Source
    ------
    iso-2533
    """
    return EARTH_RADIUS * altitude / (EARTH_RADIUS - altitude)


def temperature(altitude: Samples, offset: Samples | float = 0.0) -> Samples:
    """Return the air temperature on a day warmer or colder than standard.

    Parameters
    ----------
    altitude : (n,) [m]
        Geopotential altitude.
    offset : (n,) [K]
        How much warmer than the standard day.

    Returns
    -------
    (n,) [K]

    Valid
    -----
    Up to 11 km; near the ground a real day departs from the constant lapse rate.

    Source
    ------
    iso-2533
    """
    return SEA_LEVEL_TEMPERATURE - LAPSE_RATE * altitude + offset


def pressure(altitude: Samples) -> Samples:
    """Return the standard pressure at a pressure altitude.

    Parameters
    ----------
    altitude : (n,) [m]
        Geopotential pressure altitude.

    Returns
    -------
    (n,) [Pa]

    Valid
    -----
    Up to 11 km; weather moves the pressure at a place by 3 % or less.

    Source
    ------
    iso-2533
    """
    ratio = 1.0 - LAPSE_RATE * altitude / SEA_LEVEL_TEMPERATURE
    return SEA_LEVEL_PRESSURE * np.maximum(ratio, 0.0) ** PRESSURE_EXPONENT


def density(pressure: Samples, temperature: Samples) -> Samples:
    """Return the density of dry air as an ideal gas.

    Parameters
    ----------
    pressure : (n,) [Pa]
        Static pressure.
    temperature : (n,) [K]
        Static temperature, not the offset from the standard day.

    Returns
    -------
    (n,) [kg m^-3]

    Valid
    -----
    Dry air; saturated air at 35 degC is about 2 % lighter.

    Source
    ------
    iso-2533
    """
    return pressure / (GAS_CONSTANT_DRY_AIR * temperature)


def saturation_pressure(temperature: Samples) -> Samples:
    """Return the pressure of water vapour over liquid water when the air can take no more.

    Parameters
    ----------
    temperature : (n,) [K]
        Air temperature.

    Returns
    -------
    (n,) [Pa]

    Valid
    -----
    -20 to 50 degC within 0.1 %, extended to -40 degC.

    Source
    ------
    buck-1981
    """
    celsius = temperature - ICE_POINT
    return 611.21 * np.exp(17.502 * celsius / (240.97 + celsius))


def moist_density(pressure: Samples, temperature: Samples, relative_humidity: Samples) -> Samples:
    """Return the density of moist air as two ideal gases.

    Parameters
    ----------
    pressure : (n,) [Pa]
        Static pressure, vapour included.
    temperature : (n,) [K]
        Air temperature.
    relative_humidity : (n,) [-]
        0 for dry air, 1 for saturated air.

    Returns
    -------
    (n,) [kg m^-3]

    Valid
    -----
    -40 to 50 degC; within 0.05 % of the metrological formula for room air.

    Source
    ------
    buck-1981, own-derivation
    """
    vapour = relative_humidity * saturation_pressure(temperature)
    dry_share = (pressure - vapour) / GAS_CONSTANT_DRY_AIR
    return (dry_share + vapour / GAS_CONSTANT_VAPOUR) / temperature


def viscosity(temperature: Samples) -> Samples:
    """Return the dynamic viscosity of air after Sutherland.

    Parameters
    ----------
    temperature : (n,) [K]
        Air temperature.

    Returns
    -------
    (n,) [Pa s]

    Source
    ------
    iso-2533
    """
    return SUTHERLAND_FACTOR * temperature**1.5 / (temperature + SUTHERLAND_TEMPERATURE)


def kinematic_viscosity(temperature: Samples, density: Samples) -> Samples:
    """Return viscosity over density, what a Reynolds number divides by.

    Parameters
    ----------
    temperature : (n,) [K]
        Air temperature.
    density : (n,) [kg m^-3]
        Air density.

    Returns
    -------
    (n,) [m^2 s^-1]

    Source
    ------
    iso-2533
    """
    return viscosity(temperature) / density


def speed_of_sound(temperature: Samples) -> Samples:
    """Return the speed of sound in dry air.

    Parameters
    ----------
    temperature : (n,) [K]
        Air temperature.

    Returns
    -------
    (n,) [m s^-1]

    Source
    ------
    iso-2533
    """
    return np.sqrt(HEAT_RATIO * GAS_CONSTANT_DRY_AIR * temperature)


def density_altitude(density: Samples) -> Samples:
    """Return the altitude at which standard air has this density.

    Parameters
    ----------
    density : (n,) [kg m^-3]
        Air density.

    Returns
    -------
    (n,) [m]
        Geopotential altitude.

    Valid
    -----
    Up to 11 km.

    Source
    ------
    iso-2533
    """
    ratio = (density / SEA_LEVEL_DENSITY) ** (1.0 / (PRESSURE_EXPONENT - 1.0))
    return SEA_LEVEL_TEMPERATURE / LAPSE_RATE * (1.0 - ratio)


def is_outside(altitude: Samples, temperature: Samples) -> Flags:
    """Return where the formulas of this module were not checked.

    Parameters
    ----------
    altitude : (n,) [m]
        Geopotential altitude.
    temperature : (n,) [K]
        Air temperature.

    Returns
    -------
    (n,) [-]

    Source
    ------
    iso-2533, buck-1981
    """
    return ALTITUDES.beyond(altitude) | TEMPERATURES.beyond(temperature)

"""The air of the flying field on the day, one value a sample."""

from dataclasses import dataclass

import numpy as np

from foamwright.model import spreads
from foamwright.model.ensemble import Draws
from foamwright.physics.air import atmosphere
from foamwright.physics.arrays import Samples
from foamwright.plane.targets import Site


@dataclass(frozen=True, kw_only=True, slots=True)
class AirState:
    """The air; all (n,)."""

    density: Samples
    """[kg m^-3]."""
    kinematic_viscosity: Samples
    """[m^2 s^-1]."""
    speed_of_sound: Samples
    """[m s^-1]."""
    temperature: Samples
    """[K]."""
    assumed: tuple[str, ...]
    """What was assumed."""


def air_of(site: Site, draws: Draws) -> AirState:
    """Return the air at a site; a standard day at sea level where nothing is written."""
    assumed = []
    elevation = 0.0 if site.elevation is None else site.elevation.value
    if site.elevation is None:
        assumed.append("field at sea level")
    height = np.full(draws.samples, elevation)
    if site.temperature is None:
        standard = float(atmosphere.temperature(np.array([elevation]))[0])
        assumed.append(f"air at {standard - 273.15:.0f} °C ± {spreads.TEMPERATURE:.0f} K")
        temperature = draws.around(
            standard, spreads.TEMPERATURE, key="site.temperature", label="air temperature"
        )
    else:
        temperature = draws.written(
            site.temperature, 1.0, key="site.temperature", label="air temperature"
        )
    pressure = atmosphere.pressure(height) * draws.factor(
        spreads.STATIC_CONDITIONS, key="site.pressure", label="air pressure of the day"
    )
    if site.humidity is None:
        density = atmosphere.density(pressure, temperature)
    else:
        damp = np.full(draws.samples, site.humidity.value)
        density = atmosphere.moist_density(pressure, temperature, damp)
    return AirState(
        density=density,
        kinematic_viscosity=atmosphere.viscosity(temperature) / density,
        speed_of_sound=atmosphere.speed_of_sound(temperature),
        temperature=temperature,
        assumed=tuple(assumed),
    )

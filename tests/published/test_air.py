"""The standard atmosphere against an independent implementation of ICAO 7488 (ambiance)."""

import numpy as np
import pytest
from ambiance import Atmosphere

from foamwright.physics.air import atmosphere

pytestmark = pytest.mark.published

HEIGHTS = np.linspace(-400.0, 10_500.0, 110)
"""Heights above the sea [m]."""


def test_the_whole_troposphere_agrees_with_ambiance() -> None:
    """Pressure, density, viscosity and sound within 1e-6 at every 100 m."""
    other = Atmosphere(HEIGHTS)
    altitude = atmosphere.geopotential_altitude(HEIGHTS)
    temperature = atmosphere.temperature(altitude)
    pressure = atmosphere.pressure(altitude)
    density = atmosphere.density(pressure, temperature)
    assert altitude == pytest.approx(other.H, rel=1e-6)
    assert temperature == pytest.approx(other.temperature, rel=1e-6)
    assert pressure == pytest.approx(other.pressure, rel=1e-6)
    assert density == pytest.approx(other.density, rel=1e-6)
    assert atmosphere.viscosity(temperature) == pytest.approx(other.dynamic_viscosity, rel=1e-6)
    assert atmosphere.kinematic_viscosity(temperature, density) == pytest.approx(
        other.kinematic_viscosity, rel=1e-6
    )
    assert atmosphere.speed_of_sound(temperature) == pytest.approx(other.speed_of_sound, rel=1e-6)

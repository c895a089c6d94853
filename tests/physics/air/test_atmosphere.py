"""The air: limits and identities; printed values are in tests/published/cases_air.toml."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.air import atmosphere

ALTITUDES = st.floats(min_value=-500.0, max_value=5000.0)
TEMPERATURES = st.floats(min_value=243.0, max_value=318.0)


@given(ALTITUDES)
def test_geometric_and_geopotential_altitude_are_inverse(altitude: float) -> None:
    """Going over and back gives the altitude again."""
    there = atmosphere.geopotential_altitude(np.array([altitude]))
    assert atmosphere.geometric_altitude(there) == pytest.approx([altitude], abs=1e-8)


@given(ALTITUDES)
def test_density_altitude_of_standard_air_is_its_altitude(altitude: float) -> None:
    """On the standard day both altitudes agree."""
    height = np.array([altitude])
    density = atmosphere.density(atmosphere.pressure(height), atmosphere.temperature(height))
    assert atmosphere.density_altitude(density) == pytest.approx([altitude], abs=1e-6)


@given(ALTITUDES)
def test_pressure_falls_by_the_weight_of_the_air_above(altitude: float) -> None:
    """dp/dH = -rho g0, the hydrostatic equation."""
    height = np.array([altitude])
    slope = (atmosphere.pressure(height + 1.0) - atmosphere.pressure(height - 1.0)) / 2.0
    density = atmosphere.density(atmosphere.pressure(height), atmosphere.temperature(height))
    assert slope == pytest.approx(-density * atmosphere.GRAVITY, rel=1e-6)


@given(TEMPERATURES)
def test_dry_moist_air_is_dry_air(temperature: float) -> None:
    """At no humidity both formulas agree."""
    pressure, kelvin = np.array([95_000.0]), np.array([temperature])
    assert atmosphere.moist_density(pressure, kelvin, np.zeros(1)) == pytest.approx(
        atmosphere.density(pressure, kelvin), rel=1e-14
    )


@given(TEMPERATURES, st.floats(min_value=0.01, max_value=1.0))
def test_humid_air_is_lighter(temperature: float, humidity: float) -> None:
    """Water weighs less than air."""
    pressure, kelvin = np.array([95_000.0]), np.array([temperature])
    moist = atmosphere.moist_density(pressure, kelvin, np.array([humidity]))
    assert np.all(moist < atmosphere.density(pressure, kelvin))


def test_water_boils_in_the_formula_where_it_boils() -> None:
    """At 100 degC, far beyond its range, the fit is still within 3 % of one atmosphere."""
    assert atmosphere.saturation_pressure(np.array([373.15])) == pytest.approx(
        [101_325.0], rel=0.03
    )


def test_a_batch_is_its_loop() -> None:
    """Every sample is computed as if it were alone."""
    altitude = np.array([0.0, 300.0, 1500.0])
    temperature = np.array([303.0, 275.0, 290.0])
    humidity = np.array([0.1, 0.5, 0.9])
    batch = atmosphere.moist_density(atmosphere.pressure(altitude), temperature, humidity)
    for i in range(3):
        one = slice(i, i + 1)
        alone = atmosphere.moist_density(
            atmosphere.pressure(altitude[one]), temperature[one], humidity[one]
        )
        assert batch[one] == pytest.approx(alone, rel=1e-15)


def test_a_warmer_day_is_warmer_by_its_offset() -> None:
    """The standard day is the default; an offset may differ from sample to sample."""
    altitude = np.array([0.0, 1000.0])
    standard = atmosphere.temperature(altitude)
    warm = atmosphere.temperature(altitude, np.array([10.0, -5.0]))
    assert warm - standard == pytest.approx([10.0, -5.0])


def test_air_outside_the_formulas_is_flagged() -> None:
    """Above the troposphere, and below -40 degC, and nowhere else."""
    outside = atmosphere.is_outside(np.array([0.0, 12_000.0, 0.0]), np.array([288.0, 288.0, 230.0]))
    assert outside.tolist() == [False, True, True]


def test_pressure_stays_a_number_above_the_atmosphere() -> None:
    """At 60 km the formula has run out: zero, not NaN."""
    assert atmosphere.pressure(np.array([60_000.0])).tolist() == [0.0]


def test_kinematic_viscosity_rises_in_thin_air() -> None:
    """Half the density, twice the kinematic viscosity."""
    warm = np.array([290.0])
    thick = atmosphere.kinematic_viscosity(warm, np.array([1.2]))
    thin = atmosphere.kinematic_viscosity(warm, np.array([0.6]))
    assert thin == pytest.approx(2.0 * thick)


def test_sound_travels_at_the_root_of_temperature() -> None:
    """Four times the temperature, twice the speed."""
    cold = atmosphere.speed_of_sound(np.array([250.0]))
    assert atmosphere.speed_of_sound(np.array([1000.0])) == pytest.approx(2.0 * cold)

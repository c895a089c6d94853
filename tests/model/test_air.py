"""The air of the field against an independent standard atmosphere."""

import ambiance
import numpy as np
import pytest

from foamwright.model.air import AirState, air_of
from foamwright.model.ensemble import Draws
from foamwright.plane.targets import Site
from foamwright.quantity import read


def air(**told: object) -> AirState:
    """The air at a site, 512 samples."""
    return air_of(Site(**told), Draws(512, 1))  # type: ignore[arg-type]  # read from text


@pytest.mark.parametrize("height", [0.0, 120.0, 800.0, 1600.0])
def test_standard_air_at_the_elevation_of_the_field(height: float) -> None:
    """Median density, viscosity and speed of sound of `ambiance` (ISO 2533), within 0.3 %."""
    found = air(elevation=read(f"{height} m", "elevation"))
    wanted = ambiance.Atmosphere(height)
    assert np.median(found.density) == pytest.approx(wanted.density[0], rel=3e-3)
    assert np.median(found.kinematic_viscosity) == pytest.approx(
        wanted.kinematic_viscosity[0], rel=5e-3
    )
    assert np.median(found.speed_of_sound) == pytest.approx(wanted.speed_of_sound[0], rel=3e-3)


def test_what_nobody_wrote_is_named_and_spread() -> None:
    """Sea level and 15 degrees are assumed aloud; density then spreads by some 2.6 %.

    2 % of pressure and 5 K in 288 K: hypot(0.02, 5 / 288) = 2.65 %.
    """
    found = air()
    assert len(found.assumed) == 2
    assert "sea level" in found.assumed[0]
    assert "15 °C" in found.assumed[1]
    assert np.std(found.density) / np.mean(found.density) == pytest.approx(0.0265, rel=0.08)


def test_what_is_written_is_not_assumed() -> None:
    """With both told nothing is named, and a hot day is thinner as 1/T."""
    cold = air(elevation=read("0 m", "elevation"), temperature=read("0 ± 1 degC", "temperature"))
    hot = air(elevation=read("0 m", "elevation"), temperature=read("30 ± 1 degC", "temperature"))
    assert cold.assumed == hot.assumed == ()
    ratio = np.median(cold.density) / np.median(hot.density)
    assert ratio == pytest.approx(303.15 / 273.15, rel=2e-3)


def test_damp_air_is_lighter() -> None:
    """At 30 degC and full humidity by 1.6 % (water vapour 42.4 hPa, 0.378 e/p; handbook)."""
    told = {
        "elevation": read("0 m", "elevation"),
        "temperature": read("30 ± 0.01 degC", "temperature"),
    }
    dry, damp = air(**told), air(**told, humidity=read("100 %", "fraction"))
    assert np.median(damp.density / dry.density) == pytest.approx(
        1 - 0.378 * 42.4 / 1013.25, abs=1e-3
    )

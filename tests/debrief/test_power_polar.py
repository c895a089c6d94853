"""Drag by power, where the polar and the drive are known exactly."""

from dataclasses import replace

import numpy as np
import pytest

from foamwright.debrief.outcome import Facts
from foamwright.debrief.power_polar import PowerPolar, power_polar, read_power
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene, scene_of

GRAVITY, DENSITY, MASS = 9.80665, 1.225, 0.8
AREA, INDUCED = 0.012, 40.0
"""Drag area [m^2] and induced drag times dynamic pressure [N Pa]."""
STANDBY = 3.0


def flown(
    efficiency: float = 0.5, *, glide: bool = True, seed: int = 1, lively: float = 1.0
) -> Recording:
    """Return 300 s at speeds and heights of its own, all power made of the balance of energy.

    `lively` is how much speed and height change while the motor runs.
    """
    random = np.random.default_rng(seed)
    time = np.asarray(np.arange(0.0, 300.0, 0.2), dtype=np.float64)
    off = ((time > 200.0) & (time < 225.0)) if glide else np.zeros(time.size, dtype=bool)
    speed = 14.0 + 3.0 * lively * np.sin(time / 20.0)
    bank = np.where(time % 60.0 < 30.0, np.radians(35.0), 0.0)
    pressure = 0.5 * DENSITY * speed**2
    drag = pressure * AREA + INDUCED / np.cos(bank) ** 2 / pressure
    climb = 0.4 * lively * np.sin(time / 13.0)
    gain = 3.0 * lively / 20.0 * np.cos(time / 20.0) * speed / GRAVITY
    sink = drag * speed / (MASS * GRAVITY) + gain
    climb = np.where(off, -sink, climb)
    needed = drag * speed + MASS * GRAVITY * (climb + gain)
    power = STANDBY + np.where(off, 0.0, np.maximum(needed, 0.0) / efficiency)
    volts = np.full(time.size, 11.5)
    channels = {
        "airspeed": speed + random.normal(0.0, 0.1, time.size),
        "height": 100.0 + np.cumsum(climb) * 0.2 + random.normal(0.0, 0.2, time.size),
        "roll": bank,
        "throttle": np.where(off, 0.0, 0.5),
        "current": power / volts,
        "voltage": volts,
    }
    return Recording(time=time, channels=channels, step=0.2)


def scene(log: Recording, mass: float | None = MASS) -> Scene:
    """Return the scene of a log with a pitot."""
    return scene_of(log, Facts(mass=mass, wing_area=0.12, air_density=DENSITY))[0]


def polar(log: Recording) -> PowerPolar:
    """Return the polar of a log."""
    found = power_polar(scene(log))
    assert found is not None
    return found


def area_at(speed: float) -> float:
    """Return the true drag area at a speed."""
    return AREA + INDUCED / (0.5 * DENSITY * speed**2) ** 2


def test_with_the_usual_efficiency_the_area_is_found() -> None:
    """Within 4 %, over five flights, where the drive is as efficient as is taken."""
    for seed in range(5):
        found = polar(flown(glide=False, seed=seed))
        assert found.area == pytest.approx(area_at(found.speed), rel=0.04)


@pytest.mark.parametrize("efficiency", [0.45, 0.55])
def test_without_a_glide_the_efficiency_is_one_to_one_in_the_area(efficiency: float) -> None:
    """A drive a tenth off is an area a tenth off in steady flight, and the band says so: nothing in
    the log tells one from the other."""
    found = polar(flown(efficiency, glide=False, lively=0.1))
    ratio = found.area / area_at(found.speed)
    assert ratio == pytest.approx(0.5 / efficiency, rel=0.05)
    assert found.sd > 0.11 * found.area
    assert not found.glided


@pytest.mark.parametrize("efficiency", [0.40, 0.62])
def test_a_glide_settles_the_efficiency(efficiency: float) -> None:
    """With 25 s of glide area and efficiency come out right within two of their own sigmas, and
    the band of the area is narrower than without."""
    found = polar(flown(efficiency, lively=0.1))
    without = polar(flown(efficiency, glide=False, lively=0.1))
    true = area_at(found.speed)
    assert abs(found.area - true) < 2.0 * found.sd
    assert abs(found.area - true) < abs(without.area - true)
    assert abs(found.efficiency - efficiency) < 2.0 * found.efficiency_sd
    assert found.sd / found.area < 0.8 * without.sd / without.area
    assert found.glided


def test_it_is_told_with_the_speed_it_is_for() -> None:
    """Figures in band order, the efficiency only where a glide shows it."""
    for glide in (True, False):
        names = {one.name: one for one in read_power(scene(flown(glide=glide))).figures}
        assert {"drag_area_power", "drag_area_power_speed"} <= set(names)
        assert ("drive_efficiency" in names) == glide
        assert all(one.low <= one.value <= one.high for one in names.values())
        words = names["drag_area_power"].label
        assert ("glide" in words) == glide


def test_it_teaches_only_what_nothing_else_does() -> None:
    """Where a glide or a level cruise speaks the same rows are not counted twice."""
    assert read_power(scene(flown())).observations == ()
    circling = flown(glide=False)
    course = np.mod(0.3 * circling.time, 2.0 * np.pi)
    told = replace(circling, channels={**circling.channels, "course": course})
    (seen,) = read_power(scene(told)).observations
    assert seen.name == "drag_area"
    assert seen.speed == pytest.approx(14.0, abs=1.0)


@pytest.mark.parametrize("missing", ["height", "current", "voltage", "throttle", "airspeed"])
def test_without_a_channel_nothing_is_told(missing: str) -> None:
    """Every one of them is needed."""
    log = flown()
    less = {name: values for name, values in log.channels.items() if name != missing}
    assert power_polar(scene(replace(log, channels=less))) is None


def test_without_a_mass_or_with_little_flight_nothing_is_told() -> None:
    """Nor from a glide alone."""
    log = flown()
    assert power_polar(scene(log, mass=None)) is None
    assert power_polar(scene(log.between(0.0, 40.0))) is None
    assert power_polar(scene(log.between(201.0, 224.0))) is None

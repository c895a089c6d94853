"""Agreement between columns."""

import numpy as np
import pytest

from foamwright.debrief.evidence import (
    airspeed_factor,
    charge_through,
    course_error,
    fitted_slope,
    mean_between,
    slope_over,
    smoothed,
    speed_ratio,
    turned,
    typical_ratio,
    unit_of_ratio,
)
from foamwright.debrief.positions import Track

TIME = np.arange(0.0, 60.0, 0.1)
SPEEDS = ("m/s", "km/h", "kn", "mph", "ft/s", "cm/s")
WAVE = 15.0 + 4.0 * np.sin(TIME / 5.0)


def track() -> Track:
    """Return a path whose speed is the wave, turning slowly."""
    ends = np.arange(1.0, 60.0)
    speed = mean_between(TIME, WAVE, ends - 1.0, ends)
    return Track(start=ends - 1.0, end=ends, speed=speed, course=(0.1 * (ends - 0.5)) % 6.2832)


@pytest.mark.parametrize(
    ("ratio", "unit"),
    [(1.0, "m/s"), (0.2786, "km/h"), (0.515, "kn"), (0.447, "mph"), (0.3045, "ft/s")],
)
def test_a_ratio_is_a_unit(ratio: float, unit: str) -> None:
    """Within a few percent."""
    match = unit_of_ratio(ratio, "speed", SPEEDS)
    assert match is not None
    assert match.unit == unit


@pytest.mark.parametrize("ratio", [0.48, 0.29, 0.7, 0.0, -1.0, float("nan"), float("inf")])
def test_a_ratio_between_units_is_none(ratio: float) -> None:
    """Halfway between knots and miles an hour nothing is said."""
    assert unit_of_ratio(ratio, "speed", SPEEDS) is None


def test_a_written_speed_is_held_against_the_path() -> None:
    """Knots show 1.94 for each metre a second."""
    assert speed_ratio(TIME, WAVE / 0.514444, track()) == pytest.approx(0.514444, rel=1e-3)
    assert np.isnan(speed_ratio(TIME, np.full(TIME.shape, np.nan), track()))


def test_a_course_is_held_against_the_path() -> None:
    """The right one is off by nothing, one a quarter turn off by that."""
    course = (0.1 * TIME) % (2 * np.pi)
    assert course_error(TIME, course, track()) < 0.01
    assert course_error(TIME, course + np.pi / 2, track()) == pytest.approx(np.pi / 2, abs=0.01)


def test_means_slopes_and_smoothing() -> None:
    """Of a straight line: the middle, the slope, itself."""
    line = 3.0 * TIME
    assert mean_between(TIME, line, np.array([1.0]), np.array([3.0])) == pytest.approx([6.0])
    assert slope_over(TIME, line, 2.0)[100:200] == pytest.approx(3.0)
    assert smoothed(TIME, line, 2.0)[100:200] == pytest.approx(line[100:200])


def test_a_slope_has_a_size_a_sign_and_a_correlation() -> None:
    """Minus one half, noise or not."""
    slope, agreed = fitted_slope(-0.5 * WAVE, WAVE)
    assert (slope, agreed) == pytest.approx((-0.5, -1.0))
    noise = np.random.default_rng(1).standard_normal(TIME.size)
    assert abs(fitted_slope(noise, WAVE)[1]) < 0.2
    assert fitted_slope(WAVE, np.ones(TIME.size))[1] == 0.0


def test_typical_sizes_have_a_ratio() -> None:
    """Of two airspeeds, wind aside."""
    assert typical_ratio(WAVE, 3.6 * WAVE) == pytest.approx(1 / 3.6)


def test_an_angle_is_turned_on_without_jumps() -> None:
    """Values that are not known stay unknown."""
    angle = (0.5 * TIME) % (2 * np.pi)
    angle[7] = np.nan
    found = turned(angle)
    assert np.isnan(found[7])
    assert found[-1] == pytest.approx(0.5 * TIME[-1])


def test_charge_is_not_drawn_across_a_pause() -> None:
    """2 A for 60 s are 119.8 C; with ten seconds missing 20 less."""
    current = np.full(TIME.size, 2.0)
    assert charge_through(TIME, current, 0.5) == pytest.approx(119.8)
    kept = (TIME < 20.0) | (TIME > 30.0)
    assert charge_through(TIME[kept], current[kept], 0.5) == pytest.approx(99.5, abs=0.3)


def test_an_airspeed_in_circles_is_told_from_the_wind() -> None:
    """A wind of 3 and -2 m/s; one direction alone tells nothing."""
    heading = np.linspace(0.0, 4 * np.pi, 400)
    north, east = WAVE[:400] * np.cos(heading) + 3.0, WAVE[:400] * np.sin(heading) - 2.0
    assert airspeed_factor(north, east, WAVE[:400] * 1.94384) == pytest.approx(0.514444, rel=1e-4)
    steady = np.full(400, 15.0)
    north, east = 15 * np.cos(heading) + 5.0, 15 * np.sin(heading)
    assert airspeed_factor(north, east, steady * 3.6) == pytest.approx(1 / 3.6, rel=1e-4)
    assert np.isnan(airspeed_factor(np.full(400, 15.0), np.zeros(400), steady))

"""Worked examples of static stability (Anderson, Introduction to Flight; numbers from memory)."""

from dataclasses import replace

import numpy as np
import pytest

from foamwright.physics.lift.stability import neutral_point, static_margin
from foamwright.physics.lift.tailed_plane import (
    TailedPlane,
    margin,
    moment_at_rest,
    moment_slope,
    trim_angle,
)
from foamwright.physics.lift.trim import LinearPitch, trim

pytestmark = pytest.mark.published

DEGREE = np.pi / 180.0
ANGLE = 5.0 * DEGREE
PLANE = TailedPlane(
    moment_at_centre=np.asarray([-0.003]),
    slope=np.asarray([0.09]) / DEGREE,
    centre_aft=np.asarray([0.02]),
    tail_volume=np.asarray([1.0 * 0.4 / (0.45 * 1.5)]),
    tail_slope=np.asarray([0.12]) / DEGREE,
    tail_setting=np.asarray([2.0]) * DEGREE,
    downwash_slope=np.asarray([0.42]),
)


def test_two_readings_of_a_balance_place_the_aerodynamic_centre() -> None:
    """STB-1: Cm -0.0030 and 0.0050 at CL 0 and 0.400 put it 0.020 chords ahead of the centre."""
    force, length = 6125.0 * 1.5, 0.45
    rest, loaded = -12.4 / (force * length), 20.67 / (force * length)
    lift = 3675.0 / force
    assert rest == pytest.approx(-0.0030, rel=5e-3)
    assert loaded == pytest.approx(0.0050, rel=5e-3)
    one = np.ones(1)
    place = neutral_point(lift * one, (loaded - rest) * one, 0.0 * one, one)
    assert static_margin(place, 0.0 * one, one) == pytest.approx([-0.020], rel=5e-3)


def test_a_tail_makes_the_moment_nose_down() -> None:
    """STB-2: at 5 degrees Cm -0.058, that is -240 N m."""
    found = moment_at_rest(PLANE) + moment_slope(PLANE) * ANGLE
    assert PLANE.tail_volume == pytest.approx([0.593], rel=1e-3)
    assert found == pytest.approx([-0.058], rel=1e-2)
    assert found * 6125.0 * 1.5 * 0.45 == pytest.approx([-240.0], rel=1e-2)


def test_the_plane_trims_at_the_printed_angle() -> None:
    """STB-3: -0.0394 per degree, 0.139 at rest, trim at 3.53 degrees from zero lift."""
    assert moment_slope(PLANE) * DEGREE == pytest.approx([-0.0394], rel=1e-2)
    assert moment_at_rest(PLANE) == pytest.approx([0.139], rel=1e-2)
    assert trim_angle(PLANE) / DEGREE == pytest.approx([3.53], rel=1e-2)


def test_the_neutral_point_lies_where_printed() -> None:
    """STB-4: balance at 0.26, aerodynamic centre of the wing at 0.24: 0.70, margin 0.44."""
    assert margin(PLANE) == pytest.approx([0.44], rel=1e-2)
    at_nose = replace(PLANE, centre_aft=np.asarray([-0.24]))
    assert margin(at_nose) == pytest.approx([0.70], rel=1e-2)


def test_trim_finds_the_printed_tail_setting() -> None:
    """STB-3 read backwards: for the lift at 3.53 degrees the tail must be set at 2.0 degrees."""
    power = PLANE.tail_volume * PLANE.tail_slope
    none = np.zeros(1)
    pitch = LinearPitch(
        lift=np.stack([none, PLANE.slope, none], axis=1),
        moment=np.stack([PLANE.moment_at_centre, moment_slope(PLANE), power], axis=1),
        about=none,
        chord=np.ones(1),
    )
    found = trim(pitch, none, np.asarray([[0.09 * 3.53]]), np.zeros((1, 1)))
    assert found.alpha / DEGREE == pytest.approx(np.asarray([[3.53]]))
    assert found.deflection / DEGREE == pytest.approx(np.asarray([[2.0]]), rel=1e-2)

"""Modes of printed aeroplanes: Nelson's NAVION and Etkin's jet transport; from memory."""

import control
import numpy as np
import pytest

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.flight.modes import (
    LevelFlight,
    pitch_matrix,
    pitch_modes,
    roll_yaw_matrix,
    roll_yaw_modes,
    time_to_double,
    time_to_half,
)

pytestmark = pytest.mark.published

FOOT, POUND, SLUG = 0.3048, 4.4482216, 14.593903


def one(value: float) -> Samples:
    """Return an array of one."""
    return np.array([value])


def navion() -> tuple[Derivatives, LevelFlight]:
    """Return the general-aviation aeroplane NAVION at sea level, 176 ft/s.

    Nelson 1998, appendix B (after Teper 1969); from memory, and the derivatives agree with a public
    listing of them. Printed lateral controls have other signs than ours; they do not enter the
    modes. Nelson's example leaves CLq out.
    """
    printed = {
        "CL0": 0.41, "CLa": 4.44, "CLq": 0.0, "CLde": 0.355,
        "Cm0": 0.0, "Cma": -0.683, "Cmq": -9.96, "Cmde": -0.923,
        "CYb": -0.564, "CYp": 0.0, "CYr": 0.0, "CYda": 0.0, "CYdr": 0.157,
        "Clb": -0.074, "Clp": -0.410, "Clr": 0.107, "Clda": 0.134, "Cldr": 0.0107,
        "Cnb": 0.071, "Cnp": -0.0575, "Cnr": -0.125, "Cnda": -0.0035, "Cndr": 0.072,
        "Clb_CL": 0.0, "Clr_CL": 0.0, "Cnp_CL": 0.0, "Cnda_CL": 0.0,
    }  # fmt: skip
    derivatives = Derivatives(
        area=one(184.0 * FOOT**2),
        span=one(33.4 * FOOT),
        chord=one(5.7 * FOOT),
        **{name: one(value) for name, value in printed.items()},
    )
    inertia = np.diag([1048.0, 3000.0, 3530.0]) * SLUG * FOOT**2
    flight = LevelFlight(
        speed=one(176.0 * FOOT),
        density=one(0.002378 * SLUG / FOOT**3),
        mass=one(2750.0 * POUND / 9.80665),
        inertia=inertia[None],
        lift=one(0.41),
        drag=one(0.05),
        drag_slope=one(0.33),
        thrust_slope=one(0.0),
        downwash_lag=one(-4.36),
    )
    return derivatives, flight


def test_the_navion_in_pitch() -> None:
    """Short period -2.51 +- 2.59 i, phugoid -0.017 +- 0.213 i (Nelson 1998, ch. 4, from memory)."""
    short, phugoid = pitch_modes(pitch_matrix(*navion()))
    assert -short.growth[0] == pytest.approx(2.51, rel=0.01)
    assert short.frequency[0] == pytest.approx(np.hypot(2.51, 2.59), rel=0.01)
    assert -phugoid.growth[0] == pytest.approx(0.017, rel=0.03)
    assert phugoid.frequency[0] == pytest.approx(0.2137, rel=0.01)
    assert short.swings[0]
    assert phugoid.swings[0]


def test_the_navions_pitch_derivatives() -> None:
    """Xu -0.045, Xw 0.036, Zu -0.369, Zw -2.02, Mq -2.05 (Nelson 1998, ch. 4, from memory)."""
    matrix = pitch_matrix(*navion())[0]
    assert matrix[0, 0] == pytest.approx(-0.045, rel=0.02)
    assert matrix[0, 1] == pytest.approx(0.036, rel=0.02)
    assert matrix[1, 0] == pytest.approx(-0.369, rel=0.01)
    assert matrix[1, 1] == pytest.approx(-2.02, rel=0.01)
    late = -0.0051 * 176.0
    assert matrix[2, 2] == pytest.approx(-2.05 + late, rel=0.02)
    assert matrix[2, 1] / FOOT**-1 == pytest.approx(-0.05 + 0.0051 * 2.02, rel=0.03)


def test_the_navion_sideways() -> None:
    """Spiral -0.00877, roll -8.435, Dutch roll -0.487 +- 2.335 i (Nelson 1998, ch. 5, memory)."""
    found = roll_yaw_modes(roll_yaw_matrix(*navion()))
    assert found.roll[0] == pytest.approx(-8.435, rel=0.01)
    assert found.spiral[0] == pytest.approx(-0.00877, rel=0.08)
    assert found.dutch_roll.growth[0] == pytest.approx(-0.487, rel=0.015)
    assert found.dutch_roll.frequency[0] == pytest.approx(np.hypot(0.487, 2.335), rel=0.01)
    assert not found.coupled[0]


TRANSPORT_PITCH = [
    [-0.006868, 0.01395, 0.0, -32.2],
    [-0.09055, -0.3151, 773.98, 0.0],
    [0.0001187, -0.001026, -0.4285, 0.0],
    [0.0, 0.0, 1.0, 0.0],
]
"""Jet transport at 40 000 ft, Mach 0.8, in feet (Etkin & Reid 1996, eq. 6.2,1, from memory)."""

TRANSPORT_SIDE = [
    [-0.0558, 0.0, -774.0, 32.2],
    [-0.003865, -0.4342, 0.4136, 0.0],
    [0.001086, -0.006112, -0.1458, 0.0],
    [0.0, 1.0, 0.0, 0.0],
]
"""The same sideways (Etkin & Reid 1996, eq. 6.7,1, from memory)."""


def test_the_transport_in_pitch() -> None:
    """Phugoid -0.003289 +- 0.06723 i, short period -0.3719 +- 0.8875 i (Etkin & Reid 1996)."""
    short, phugoid = pitch_modes(np.array([TRANSPORT_PITCH]))
    assert phugoid.growth[0] == pytest.approx(-0.003289, rel=2e-3)
    assert phugoid.frequency[0] == pytest.approx(np.hypot(0.003289, 0.06723), rel=1e-3)
    assert short.growth[0] == pytest.approx(-0.3719, rel=1e-3)
    assert short.frequency[0] == pytest.approx(np.hypot(0.3719, 0.8875), rel=1e-3)
    assert short.damping[0] == pytest.approx(0.387, rel=2e-3)
    assert time_to_half(phugoid.growth)[0] == pytest.approx(211.0, rel=2e-3)


def test_the_transport_sideways() -> None:
    """Spiral -0.0072973, roll -0.56248, Dutch roll -0.033011 +- 0.94655 i (Etkin & Reid 1996)."""
    found = roll_yaw_modes(np.array([TRANSPORT_SIDE]))
    assert found.spiral[0] == pytest.approx(-0.0072973, rel=2e-3)
    assert found.roll[0] == pytest.approx(-0.56248, rel=1e-3)
    assert found.dutch_roll.growth[0] == pytest.approx(-0.033011, rel=2e-3)
    assert found.dutch_roll.frequency[0] == pytest.approx(np.hypot(0.033011, 0.94655), rel=1e-3)
    assert time_to_half(found.spiral)[0] == pytest.approx(95.0, rel=2e-3)


def test_the_same_modes_as_the_control_library() -> None:
    """Frequencies and damping agree with `control.damp` on both matrices of the NAVION."""
    derivatives, flight = navion()
    for matrix, ours in (
        (pitch_matrix(derivatives, flight), pitch_modes(pitch_matrix(derivatives, flight))),
        (
            roll_yaw_matrix(derivatives, flight),
            (roll_yaw_modes(roll_yaw_matrix(derivatives, flight)).dutch_roll,),
        ),
    ):
        system = control.ss(matrix[0], np.zeros((4, 1)), np.eye(4), np.zeros((4, 1)))
        frequency, damping, _ = control.damp(system, doprint=False)
        for mode in ours:
            nearest = np.argmin(np.abs(frequency - mode.frequency[0]))
            assert mode.frequency[0] == pytest.approx(frequency[nearest], rel=1e-9)
            assert mode.damping[0] == pytest.approx(damping[nearest], rel=1e-6)


def test_a_push_settles_as_long_as_the_mode_says() -> None:
    """Let go in the short period, the control library's response has halved after the time told."""
    matrix = pitch_matrix(*navion())
    short, _ = pitch_modes(matrix)
    roots, shapes = np.linalg.eig(matrix[0])
    shape = shapes[:, np.argmax(np.abs(roots))]
    system = control.ss(matrix[0], np.zeros((4, 1)), np.eye(4), np.zeros((4, 1)))
    period = 2.0 * np.pi / np.sqrt(short.frequency[0] ** 2 - short.growth[0] ** 2)
    time = np.linspace(0.0, period, 801)
    states = control.initial_response(system, time, shape.real).outputs
    swings = period / time_to_half(short.growth)[0]
    assert states[:, -1] == pytest.approx(states[:, 0] * 0.5**swings, rel=1e-3, abs=1e-6)


def test_doubling_times() -> None:
    """ln 2 over the real part (Etkin & Reid 1996): 8 s at 0.0866 a second, never when it falls."""
    assert time_to_double(one(0.0866434))[0] == pytest.approx(8.0, rel=1e-6)
    assert np.isinf(time_to_double(one(-0.1))[0])
    assert np.isinf(time_to_half(one(0.1))[0])

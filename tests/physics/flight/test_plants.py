"""How rates answer surfaces: textbook numbers and the matrices they come from."""

import numpy as np
import pytest

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.flight.modes import LevelFlight, pitch_matrix
from foamwright.physics.flight.plants import pitch_plant, roll_plant, yaw_plant


def one(value: float) -> Samples:
    """Return an array of one."""
    return np.array([value])


def derivatives(**changed: float) -> Derivatives:
    """Return a plane of 0.06 m2 and 0.6 m span, as in the textbook figure of roll damping."""
    values = dict.fromkeys(Derivatives.__slots__, 0.0)
    values |= {
        "area": 0.06, "span": 0.6, "chord": 0.1, "CLa": 4.0, "CLde": 0.4, "Cma": -0.4,
        "Cmq": -6.0, "Cmde": -0.8, "CYb": -0.2, "CYdr": -0.1, "Clp": -0.45, "Clda": 0.25,
        "Cnb": 0.05, "Cnr": -0.08, "Cndr": 0.04,
    }  # fmt: skip
    return Derivatives(**{name: one(value) for name, value in (values | changed).items()})


def test_roll_damping_and_time_constant() -> None:
    """Clp -0.45, 20 m/s, Ix 0.0015: Lp -0.059535 N m s, 0.02520 s (Nelson 1998; CTL-1)."""
    plant = roll_plant(derivatives(), one(0.0015), one(1.225), np.array([20.0]))
    assert plant.a1[0, 0] * 0.0015 == pytest.approx(0.059535, rel=1e-4)
    assert 1.0 / plant.a1[0, 0] == pytest.approx(0.02520, rel=1e-3)


def test_steady_roll() -> None:
    """Clda 0.25, 20 degrees: pb/2V 0.19393, 740.7 degrees a second (Nelson 1998; CTL-2)."""
    plant = roll_plant(derivatives(), one(0.0015), one(1.225), np.array([20.0]))
    rate = plant.b1[0, 0] / plant.a1[0, 0] * np.radians(20.0)
    assert np.degrees(rate) == pytest.approx(740.7, rel=1e-4)
    assert rate * 0.6 / 40.0 == pytest.approx(0.19393, rel=1e-4)


def test_pitch_is_the_short_period_of_the_modes() -> None:
    """The same two states as in the matrix of small motions: same characteristic polynomial."""
    d, speed = derivatives(), 15.0
    plant = pitch_plant(d, one(0.25), one(0.003), density=one(1.225), speed=np.array([speed]))
    flight = LevelFlight(
        speed=one(speed), density=one(1.225), mass=one(0.25),
        inertia=np.diag([0.0015, 0.003, 0.004])[None], lift=one(0.3), drag=one(0.0),
        drag_slope=one(0.0), thrust_slope=one(0.0), downwash_lag=one(0.0),
    )  # fmt: skip
    core = pitch_matrix(d, flight)[0, 1:3, 1:3]
    assert plant.a1[0, 0] == pytest.approx(-np.trace(core))
    assert plant.a0[0, 0] == pytest.approx(np.linalg.det(core))


def test_pitch_and_yaw_as_state_space() -> None:
    """Transfer functions equal C (s - A)^-1 B at a few frequencies."""
    d, V, m, i = derivatives(), 15.0, 0.25, 0.003
    q = 0.5 * 1.225 * V**2
    pitch = np.array(
        [
            [-4.0 * q * 0.06 / (m * V), V],
            [-0.4 * q * 0.06 * 0.1 / (i * V), -6.0 * 0.1 / (2 * V) * q * 0.06 * 0.1 / i],
        ]
    )
    elevator = np.array([-0.4 * q * 0.06 / m, -0.8 * q * 0.06 * 0.1 / i])
    yaw = np.array(
        [
            [-0.2 * q * 0.06 / (m * V), -V],
            [0.05 * q * 0.06 * 0.6 / (i * V), -0.08 * 0.6 / (2 * V) * q * 0.06 * 0.6 / i],
        ]
    )
    rudder = np.array([-0.1 * q * 0.06 / m, 0.04 * q * 0.06 * 0.6 / i])
    speed, masses = np.array([V]), (one(m), one(i))
    for states, inputs, plant, sign in (
        (pitch, elevator, pitch_plant(d, *masses, density=one(1.225), speed=speed), -1.0),
        (yaw, rudder, yaw_plant(d, *masses, density=one(1.225), speed=speed), 1.0),
    ):
        for w in (1.0, 10.0, 50.0):
            s = 1j * w
            exact = sign * np.linalg.solve(s * np.eye(2) - states, inputs)[1]
            ours = (plant.b1 * s + plant.b0) / (s**2 + plant.a1 * s + plant.a0)
            assert ours[0, 0] == pytest.approx(exact, rel=1e-9)


def test_a_canard_is_no_wrong_way_round() -> None:
    """Its elevator raises the nose; the loop is the same with its sign turned."""
    given_masses = (one(0.25), one(0.003))
    plant = pitch_plant(
        derivatives(Cmde=0.8), *given_masses, density=one(1.225), speed=np.array([15.0])
    )
    assert plant.b1[0, 0] > 0.0
    assert plant.b0[0, 0] > 0.0

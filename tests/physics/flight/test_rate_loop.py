"""Plants, chains and margins: textbook numbers, limits and inverses."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.derivatives import Derivatives
from foamwright.physics.flight.modes import LevelFlight, pitch_matrix
from foamwright.physics.flight.rate_loop import (
    FULLY_LIMITED,
    Chain,
    Plant,
    decibels,
    delay_from_wobble,
    gain_with_margin,
    phase_margin,
    pitch_plant,
    rate_limit,
    response,
    roll_plant,
    ultimate,
    wobble_speed,
    yaw_plant,
)

DELAYS = st.floats(0.02, 0.12)
LAGS = st.floats(5.0, 60.0)


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


def chain(
    delay: float = 0.05, servo_speed: float = np.inf, gyro: float = 0.003, servo: float = 0.012
) -> Chain:
    """Return a chain of one sample."""
    return Chain(
        delay=np.array([[delay]]),
        gyro_lag=np.array([[gyro]]),
        servo_lag=np.array([[servo]]),
        servo_speed=np.array([[servo_speed]]),
        amplitude=0.05,
    )


def roll(lag: float, power: float = 400.0) -> Plant:
    """Return a roll with a damping rate."""
    shape = np.ones((1, 1))
    return Plant(b1=power * shape, b0=0.0 * shape, a1=lag * shape, a0=0.0 * shape)


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


@given(delay=DELAYS, lag=LAGS)
def test_more_delay_wobbles_slower_and_sooner(delay: float, lag: float) -> None:
    """Frequency and gain fall with dead time."""
    gain, frequency, unbracketed = ultimate(roll(lag), chain(delay))
    later, slower, _ = ultimate(roll(lag), chain(1.3 * delay))
    assert not unbracketed.any()
    assert later[0, 0] < gain[0, 0]
    assert slower[0, 0] < frequency[0, 0]


@given(delay=DELAYS, lag=LAGS, margin=st.floats(1.0, 20.0))
def test_at_the_advised_gain_the_margin_is_left(delay: float, lag: float, margin: float) -> None:
    """Gain margin comes back; phase margin is positive there and nothing at the ultimate."""
    plant, behind = roll(lag), chain(delay)
    limit, _, _ = ultimate(plant, behind)
    gain = gain_with_margin(limit, margin)
    assert decibels(limit / gain)[0, 0] == pytest.approx(margin)
    left, _ = phase_margin(plant, behind, gain)
    assert np.isnan(left[0, 0]) or left[0, 0] > 0.0
    none, _ = phase_margin(plant, behind, limit)
    assert none[0, 0] == pytest.approx(0.0, abs=1e-4)


@given(delay=DELAYS, lag=LAGS)
def test_the_wobble_tells_the_delay(delay: float, lag: float) -> None:
    """What wobbled at its frequency gives the dead time again, whatever was guessed before."""
    _, frequency, _ = ultimate(roll(lag), chain(delay))
    for guess in (0.02, 0.08):
        found = delay_from_wobble(roll(lag), chain(guess), frequency)
        assert found[0, 0] == pytest.approx(delay, rel=1e-5)


def test_a_wobble_faster_than_the_lags_gives_no_delay() -> None:
    """25 Hz through a slow servo would need an answer before the question."""
    found = delay_from_wobble(roll(20.0), chain(servo=0.04), np.array([[2.0 * np.pi * 25.0]]))
    assert found[0, 0] < 0.0


@given(power=st.floats(-2.5, -0.8), wobbles=st.floats(6.0, 60.0))
def test_a_power_law_is_followed_inside_and_beyond(power: float, wobbles: float) -> None:
    """The speed at which the gain meets the law, exactly, also outside the speeds given."""
    speed = np.geomspace(8.0, 40.0, 9)
    limit = 0.1 * (speed[None] / wobbles) ** power
    assert wobble_speed(speed, limit, one(0.1))[0] == pytest.approx(wobbles, rel=1e-6)


def test_a_gain_that_never_wobbles_says_ten_times_the_fastest() -> None:
    """A limit that does not fall has no such speed."""
    speed = np.array([10.0, 20.0, 30.0])
    assert wobble_speed(speed, np.ones((1, 3)), one(0.5))[0] == pytest.approx(300.0)


def test_a_fast_servo_is_not_in_the_way_a_slow_one_is() -> None:
    """One while it keeps up, less and later beyond, without a step at either join."""
    frequency = np.full((1, 1), 40.0)

    def at(share: float) -> complex:
        return complex(rate_limit(frequency, 0.1, np.array([[share * 4.0]]))[0, 0])

    assert at(1.5) == pytest.approx(1.0)
    assert at(1.001) == pytest.approx(at(0.999), abs=5e-3)
    assert at(FULLY_LIMITED * 1.001) == pytest.approx(at(FULLY_LIMITED * 0.999), abs=5e-3)
    assert abs(at(0.3)) == pytest.approx(4.0 / np.pi * 0.3)
    assert np.angle(at(0.3)) < np.angle(at(0.7)) < 0.0
    slow = ultimate(roll(20.0), chain(servo_speed=1.0))[1]
    assert slow[0, 0] < ultimate(roll(20.0), chain())[1][0, 0]


def test_the_phase_runs_on() -> None:
    """It falls steadily and is not folded back at -pi."""
    frequencies = np.geomspace(0.1, 300.0, 60)
    phases = [response(roll(20.0), chain(), np.array([[w]]))[1][0, 0] for w in frequencies]
    assert np.all(np.diff(phases) < 0.0)
    assert phases[-1] < -np.pi


def test_a_weak_loop_has_no_phase_margin() -> None:
    """Where the loop never reaches one there is no frequency to ask for."""
    left, where = phase_margin(roll(20.0), chain(), np.array([[1e-4]]))
    assert np.isnan(left[0, 0])
    assert np.isnan(where[0, 0])

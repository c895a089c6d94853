"""Plants, chains and margins: textbook numbers, limits and inverses."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.plants import Plant
from foamwright.physics.flight.rate_loop import (
    FULLY_LIMITED,
    Chain,
    decibels,
    delay_from_wobble,
    gain_with_margin,
    loop_phase,
    loop_size,
    phase_margin,
    rate_limit,
    ultimate,
    wobble_speed,
)

DELAYS = st.floats(0.02, 0.12)
LAGS = st.floats(5.0, 60.0)


def one(value: float) -> Samples:
    """Return an array of one."""
    return np.array([value])


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
        size, lag = rate_limit(frequency, 0.1, np.array([[share * 4.0]]))
        return complex(size[0, 0] * np.exp(-1j * lag[0, 0]))

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
    phases = [loop_phase(roll(20.0), chain(), np.array([[w]]))[0, 0] for w in frequencies]
    assert np.all(np.diff(phases) < 0.0)
    assert phases[-1] < -np.pi


def test_a_weak_loop_has_no_phase_margin() -> None:
    """Where the loop never reaches one there is no frequency to ask for."""
    left, where = phase_margin(roll(20.0), chain(), np.array([[1e-4]]))
    assert np.isnan(left[0, 0])
    assert np.isnan(where[0, 0])


def test_the_frequency_found_is_the_last_one() -> None:
    """A swinging plant whose loop is above one twice: the crossing above the hump counts."""
    values = {"b1": 0.0, "b0": 100.0, "a1": 0.4, "a0": 100.0}
    plant = Plant(**{n: np.full((1, 1), v) for n, v in values.items()})
    quick = chain(1e-4, gyro=1e-5, servo=1e-5)
    for gain in (0.5, 0.9, 1.1, 3.0):
        _, where = phase_margin(plant, quick, np.full((1, 1), gain))
        grid = np.geomspace(1.0, 100.0, 20001)[None]
        above = gain * loop_size(plant, quick, grid)[0] >= 1.0
        assert where[0, 0] == pytest.approx(grid[0, above][-1], rel=3e-4)


def test_samples_are_searched_alone() -> None:
    """Each of many gains has its own crossing, whoever is weak beside it."""
    gains = np.array([[1e-4], [0.05], [0.2], [1e-5], [1.0]])
    together = phase_margin(roll(20.0), chain(), gains)
    for row, gain in enumerate(gains):
        alone = phase_margin(roll(20.0), chain(), gain[:, None])
        for both, single in zip(together, alone, strict=True):
            assert both[row, 0] == pytest.approx(single[0, 0], rel=1e-9, nan_ok=True)

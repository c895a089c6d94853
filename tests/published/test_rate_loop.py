"""Margins of the rate loop against printed examples and an independent control library."""

import control
import numpy as np
import pytest

from foamwright.physics.arrays import Samples
from foamwright.physics.flight.modes import pitch_modes
from foamwright.physics.flight.plants import Plant
from foamwright.physics.flight.rate_loop import (
    Chain,
    decibels,
    delay_from_wobble,
    gain_with_margin,
    loop_phase,
    loop_size,
    phase_margin,
    rate_limit,
    ultimate,
)

pytestmark = pytest.mark.published


def one(value: float) -> Samples:
    """Return a (1, 1) array."""
    return np.array([[value]])


def plant(b1: float, b0: float, a1: float, a0: float) -> Plant:
    """Return (b1 s + b0) / (s^2 + a1 s + a0)."""
    return Plant(b1=one(b1), b0=one(b0), a1=one(a1), a0=one(a0))


def chain(delay: float = 0.0, gyro: float = 0.0, servo: float = 0.0) -> Chain:
    """Return dead time and two lags, with a servo that always keeps up."""
    return Chain(
        delay=one(delay),
        gyro_lag=one(gyro),
        servo_lag=one(servo),
        servo_speed=one(np.inf),
        amplitude=0.1,
    )


PRINTED = [
    # Franklin, Powell & Emami-Naeini, stability margins of 1 / s (s + 1)^2
    ("CTL-10", plant(0.0, 1.0, 1.0, 0.0), chain(servo=1.0), (2.0, 1.0, 21.39, 0.6823)),
    # Ogata, margins of 10 / s (s + 1) (s + 5)
    ("CTL-11", plant(0.0, 2.0, 1.0, 0.0), chain(servo=0.2), (3.0, 2.2361, 25.39, 1.2271)),
    # recomputed, three equal lags
    ("CTL-12", plant(0.0, 4.0, 2.0, 1.0), chain(servo=1.0), (2.0, 1.7321, 27.14, 1.2328)),
]


@pytest.mark.parametrize(("name", "loop", "behind", "printed"), PRINTED)
def test_printed_margins(
    name: str, loop: Plant, behind: Chain, printed: tuple[float, float, float, float]
) -> None:
    """Gain margin, phase crossover, phase margin, gain crossover, to 0.1 %; from memory."""
    gain, frequency, unbracketed = ultimate(loop, behind)
    left, crossing = phase_margin(loop, behind, one(1.0))
    assert not unbracketed.any(), name
    found = (gain[0, 0], frequency[0, 0], np.degrees(left[0, 0]), crossing[0, 0])
    assert found == pytest.approx(printed, rel=1e-3)


def test_ultimate_gain_and_period_of_a_textbook_plant() -> None:
    """1 / s (s + 1) (s + 5): Ku 30, Pu 2.8099 s (Ogata, Ziegler-Nichols example; from memory)."""
    gain, frequency, _ = ultimate(plant(0.0, 0.2, 1.0, 0.0), chain(servo=0.2))
    assert gain[0, 0] == pytest.approx(30.0, rel=1e-4)
    assert 2.0 * np.pi / frequency[0, 0] == pytest.approx(2.8099, rel=1e-4)


def test_half_the_ultimate_gain_keeps_six_decibels() -> None:
    """The proportional row of Ziegler and Nichols 1942: 0.5 Ku, which is 6.0206 dB."""
    assert gain_with_margin(one(30.0), 6.0206)[0, 0] == pytest.approx(15.0, rel=1e-5)
    assert decibels(one(2.0))[0, 0] == pytest.approx(6.0206, abs=1e-4)
    assert decibels(one(3.0))[0, 0] == pytest.approx(9.542, abs=1e-3)


LOOPS = [
    (plant(370.0, 0.0, 23.0, 0.0), chain(0.03, 0.003, 0.012), 0.1),
    (plant(190.0, 2400.0, 22.0, 210.0), chain(0.045, 0.004, 0.015), 0.12),
    (plant(900.0, 9000.0, 30.0, -40.0), chain(0.02, 0.002, 0.01), 0.03),
    (plant(50.0, 100.0, 4.0, 60.0), chain(0.06, 0.0, 0.02), 0.2),
]


@pytest.mark.parametrize(("loop", "behind", "gain"), LOOPS)
def test_margins_of_plane_like_loops(loop: Plant, behind: Chain, gain: float) -> None:
    """`control.margin` on the frequency response of the same loop, dead time exact: to 0.1 %."""
    omega = np.geomspace(0.5, 300.0, 20001)
    s = 1j * omega
    b1, b0, a1, a0 = (float(getattr(loop, name)[0, 0]) for name in ("b1", "b0", "a1", "a0"))
    delay, gyro, servo = (
        float(getattr(behind, name)[0, 0]) for name in ("delay", "gyro_lag", "servo_lag")
    )
    there = gain * (b1 * s + b0) / (s**2 + a1 * s + a0) * np.exp(-delay * s)
    there /= (1.0 + gyro * s) * (1.0 + servo * s)
    margin, left, at, crossing = control.margin(
        np.abs(there), np.degrees(np.unwrap(np.angle(there))), omega
    )
    found, frequency, _ = ultimate(loop, behind)
    ours, where = phase_margin(loop, behind, one(gain))
    assert found[0, 0] / gain == pytest.approx(margin, rel=1e-3)
    assert frequency[0, 0] == pytest.approx(at, rel=1e-3)
    assert np.degrees(ours[0, 0]) == pytest.approx(left, abs=0.05)
    assert where[0, 0] == pytest.approx(crossing, rel=1e-3)


@pytest.mark.parametrize(("loop", "behind", "gain"), LOOPS[:2])
def test_a_gain_beyond_the_ultimate_wobbles(loop: Plant, behind: Chain, gain: float) -> None:
    """Closed by the control library, the loop has a growing root above Ku and none below."""
    assert gain > 0.0
    s = control.tf("s")
    b1, b0, a1, a0 = (float(getattr(loop, name)[0, 0]) for name in ("b1", "b0", "a1", "a0"))
    late = control.tf(*control.pade(float(behind.delay[0, 0]), 8))
    lags = (1.0 + behind.gyro_lag[0, 0] * s) * (1.0 + behind.servo_lag[0, 0] * s)
    limit = float(ultimate(loop, behind)[0][0, 0])
    for share, grows in ((0.97, False), (1.03, True)):
        open_loop = share * limit * (b1 * s + b0) / (s**2 + a1 * s + a0) / lags * late
        roots = control.feedback(open_loop, 1).poles()
        assert (roots.real.max() > 1e-6) == grows


def test_the_wobble_of_a_plank_with_sixty_milliseconds() -> None:
    """Time constant 0.04 s at 15 m/s, 60 ms: 5.5 to 6.8 Hz from 12 to 40 m/s, gain ~ V^-1.45.

    Common practice, no source; both as a figure of the trade has them.
    """
    speeds = np.array([12.0, 40.0])
    loop = Plant(
        b1=speeds[None] ** 2,
        b0=np.zeros((1, 2)),
        a1=25.0 * speeds[None] / 15.0,
        a0=np.zeros((1, 2)),
    )
    gain, frequency, _ = ultimate(loop, chain(0.06))
    assert frequency[0] / (2.0 * np.pi) == pytest.approx([5.5, 6.8], rel=0.015)
    power = np.log(gain[0, 1] / gain[0, 0]) / np.log(40.0 / 12.0)
    assert power == pytest.approx(-1.45, abs=0.03)


@pytest.mark.parametrize(("delay", "hertz"), [(0.04, 8.2), (0.06, 5.8), (0.09, 4.2)])
def test_delay_from_a_wobble(delay: float, hertz: float) -> None:
    """40, 60, 90 ms wobble at 8.2, 5.8, 4.2 Hz on that plank (common practice): within 6 %."""
    loop = plant(1.0, 0.0, 25.0, 0.0)
    found = delay_from_wobble(loop, chain(), one(2.0 * np.pi * hertz))
    assert found[0, 0] == pytest.approx(delay, rel=0.06)


@pytest.mark.parametrize(("damping", "percent"), [(0.5, 16.303), (0.7, 4.599)])
def test_what_a_damping_ratio_means(damping: float, percent: float) -> None:
    """Overshoot of 16.3 and 4.6 % (closed form, CTL-13): our ratio, the library's response."""
    frequency = 9.0
    matrix = np.zeros((1, 4, 4))
    matrix[0, :2, :2] = [[0.0, 1.0], [-(frequency**2), -2.0 * damping * frequency]]
    matrix[0, 2:, 2:] = [[0.0, 1.0], [-0.25, -0.05]]
    short, _ = pitch_modes(matrix)
    found, w = float(short.damping[0]), float(short.frequency[0])
    step = control.step_response(
        control.tf([w**2], [1.0, 2.0 * found * w, w**2]), np.linspace(0.0, 2.0, 40001)
    )
    assert 100.0 * (step.outputs.max() - 1.0) == pytest.approx(percent, rel=1e-3)


def test_a_rate_limited_sine_by_brute_force() -> None:
    """First harmonic of a servo driven far beyond its speed, integrated step by step: 2 %."""
    amplitude, frequency = 0.3, 40.0
    for share in (0.2, 0.35, 0.5):
        speed = share * amplitude * frequency
        steps = 20000
        time = np.arange(8 * steps) * (2.0 * np.pi / frequency / steps)
        wanted = amplitude * np.sin(frequency * time)
        most = speed * (time[1] - time[0])
        angle, track = 0.0, np.empty(time.size)
        for index, aim in enumerate(wanted):
            angle += float(np.clip(aim - angle, -most, most))
            track[index] = angle
        last = slice(-steps, None)
        swing = 2.0 / steps * np.sum(track[last] * np.exp(-1j * frequency * time[last]))
        size, lag = (a[0, 0] for a in rate_limit(one(frequency), amplitude, one(speed)))
        assert swing / (-1j * amplitude) == pytest.approx(size * np.exp(-1j * lag), rel=0.02)


def test_the_response_is_the_transfer_function() -> None:
    """Size and unfolded phase at a few frequencies against the control library's."""
    loop, behind, _ = LOOPS[1]
    s = control.tf("s")
    system = (190.0 * s + 2400.0) / (s**2 + 22.0 * s + 210.0)
    system /= (1.0 + 0.004 * s) * (1.0 + 0.015 * s)
    for w in (0.5, 5.0, 30.0, 100.0):
        size, phase = (told(loop, behind, one(w)) for told in (loop_size, loop_phase))
        there = complex(system(1j * w)) * np.exp(-1j * w * 0.045)
        assert size[0, 0] == pytest.approx(abs(there), rel=1e-9)
        turn = (phase[0, 0] - np.angle(there)) / (2.0 * np.pi)
        assert turn == pytest.approx(round(turn), abs=1e-9)

"""Swings in sequences of known poles."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.debrief.pencil import autocorrelation, poles_of, sizes_of, swings_of


def damped(
    frequency: float, damping: float, rows: int = 60, phase: float = 0.0
) -> tuple[np.ndarray, complex]:
    """Return a damped sinusoid as counted, 10 ms a step, and its pole a step."""
    size = 2 * np.pi * frequency / np.sqrt(1 - damping**2)
    s = complex(-damping * size, 2 * np.pi * frequency)
    time = np.arange(rows) * 0.01
    values = np.exp(s.real * time) * np.cos(s.imag * time + phase)
    return values, complex(np.exp(0.01 * s))


@pytest.mark.parametrize("damping", [0.0, 0.02, 0.1, 0.3])
@pytest.mark.parametrize("frequency", [1.5, 4.0, 8.0, 12.0])
def test_an_exact_sinusoid_gives_its_pole(frequency: float, damping: float) -> None:
    """Without noise the pole is exact to rounding, and so is its conjugate."""
    values, pole = damped(frequency, damping, 60, 0.7)
    found = poles_of(values, 2)
    assert found[np.argmax(found.imag)] == pytest.approx(pole, abs=1e-9)
    assert found[np.argmin(found.imag)] == pytest.approx(np.conj(pole), abs=1e-9)


def test_two_sinusoids_are_told_apart() -> None:
    """4 and 5 Hz in 0.6 s, closer than a spectrum of that length could part them."""
    one, first = damped(4.0, 0.05, 60)
    two, second = damped(5.0, 0.02, 60)
    found = poles_of(one + 0.5 * two, 4)
    upper = sorted(found[found.imag > 0], key=lambda pole: float(np.angle(pole)))
    assert upper == pytest.approx([first, second], abs=1e-7)
    sizes = sizes_of(one + 0.5 * two, np.array(upper + [np.conj(pole) for pole in upper]))
    assert np.abs(sizes) == pytest.approx([0.5, 0.25, 0.5, 0.25], abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(
    frequency=st.floats(1.2, 12.0),
    damping=st.floats(0.0, 0.3),
    phase=st.floats(-3.0, 3.0),
    scale=st.floats(1e-3, 1e3),
)
def test_any_sinusoid_is_found(
    frequency: float, damping: float, phase: float, scale: float
) -> None:
    """Whatever its size and phase, the pole is that of the sinusoid."""
    values, pole = damped(frequency, damping, 80, phase)
    found = poles_of(scale * values, 2)
    assert np.max(found.imag) == pytest.approx(pole.imag, abs=1e-6)


def test_an_autocorrelation_is_the_mean_of_products() -> None:
    """Over two parts, none across, each lag by as many products as there are."""
    random = np.random.default_rng(1)
    parts = [random.normal(size=40), random.normal(size=17)]
    found = autocorrelation(parts, 20)
    for lag in range(17):
        products = np.concatenate([part[: part.size - lag] * part[lag:] for part in parts])
        assert found[lag] == pytest.approx(products.mean(), abs=1e-12)
    assert found[19] == pytest.approx(float(np.mean(parts[0][:21] * parts[0][19:])), abs=1e-12)


def test_a_swing_is_as_large_as_it_is() -> None:
    """A sine of amplitude 2 is 1.41 root mean square, all of the record, undamped."""
    time = np.arange(0.0, 30.0, 0.01)
    (found, *_) = swings_of(autocorrelation([2.0 * np.sin(30.0 * time)], 60), 0.01, 2)
    assert found.frequency == pytest.approx(30.0 / 2 / np.pi, rel=1e-3)
    assert found.damping == pytest.approx(0.0, abs=2e-3)
    assert found.rms == pytest.approx(np.sqrt(2.0), rel=0.01)
    assert found.share == pytest.approx(1.0, abs=0.01)


def test_noise_of_single_rows_takes_no_share_of_the_swing() -> None:
    """White noise as large as the sine leaves frequency and size, and halves the share."""
    random = np.random.default_rng(2)
    time = np.arange(0.0, 60.0, 0.01)
    values = 2.0 * np.sin(30.0 * time) + np.sqrt(2.0) * random.normal(size=time.size)
    (found, *_) = swings_of(autocorrelation([values], 60), 0.01, 4)
    assert found.frequency == pytest.approx(30.0 / 2 / np.pi, rel=5e-3)
    assert found.rms == pytest.approx(np.sqrt(2.0), rel=0.05)
    assert found.share == pytest.approx(0.5, abs=0.05)


def test_white_noise_holds_no_large_swing() -> None:
    """In thirty records nothing that swings on has a fifth of the mean square."""
    for seed in range(30):
        values = np.random.default_rng(seed).normal(size=3000)
        swings = swings_of(autocorrelation([values], 60), 0.01, 4)
        assert all(swing.share < 0.2 for swing in swings if swing.damping < 0.35)

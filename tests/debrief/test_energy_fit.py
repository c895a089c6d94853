"""Coefficients of an energy height, where gusts are in both sides and all of it is known."""

import numpy as np
import pytest

from foamwright.debrief.energy_fit import Stretch, fitted
from foamwright.debrief.gusts import covariance_of_means

SIZE, SPEED, GRAVITY = 60, 14.0, 9.80665
DRAG, GAIN = 0.013, 0.5
"""What the rates are multiplied by in truth."""
WIDE = np.array([1.0, 0.3])
"""How little is known of either before."""
AVERAGE = np.abs(np.subtract.outer(np.arange(SIZE), np.arange(SIZE))) <= 4
SMOOTHING = AVERAGE / AVERAGE.sum(axis=1, keepdims=True)


def stretch(random: np.random.Generator, strength: float, *, gliding: bool) -> Stretch:
    """Return a stretch of level flight or of a glide, with gusts in the airspeed that is told."""
    gusts = strength**2 * covariance_of_means(np.zeros(SIZE), 3.0)
    blown = np.linalg.cholesky(gusts + 1e-12 * np.eye(SIZE)) @ random.normal(size=SIZE)
    work = 0.08 * SPEED**3  # over the weight; so is the power
    power = 0.0 if gliding else DRAG * work / GAIN
    change = GAIN * power - DRAG * work
    noise = 0.25 * np.eye(SIZE)
    energy = 100.0 + change * np.arange(SIZE) + SPEED / GRAVITY * blown
    seen = SPEED + SMOOTHING @ blown
    return Stretch(
        energy=energy + random.normal(0.0, 0.5, SIZE),
        rates=np.stack([-0.08 * seen**3, np.full(SIZE, power)], axis=1),
        felt=np.stack([np.full(SIZE, -0.24 * SPEED**2), np.zeros(SIZE)], axis=1),
        smoothing=SMOOTHING,
        gusts=gusts,
        along=np.full(SIZE, SPEED / GRAVITY),
        noise=noise,
    )


def flights(strength: float, many: int = 120) -> tuple[np.ndarray, np.ndarray]:
    """Return coefficients (many, 2) and their sigmas of flights with one glide in four stretches.

    What is known before is right for neither: nothing but the flight decides.
    """
    found, sigmas = [], []
    for seed in range(many):
        random = np.random.default_rng(seed)
        parts = [stretch(random, strength, gliding=k == 1) for k in range(4)]
        told = fitted(parts, np.array([0.02, 0.5]), WIDE)
        assert told is not None
        found.append(told[0])
        sigmas.append(np.sqrt(np.diag(told[1])))
    return np.array(found), np.array(sigmas)


def test_calm_air_gives_both_back() -> None:
    """Within 1 % in the mean, and as sure as they are right."""
    found, sigmas = flights(0.01)
    assert found.mean(axis=0) == pytest.approx([DRAG, GAIN], rel=0.01)
    assert found.std(axis=0) == pytest.approx(np.median(sigmas, axis=0), rel=0.3)


@pytest.mark.parametrize("strength", [0.6, 1.2])
def test_gusts_do_not_draw_the_drag_to_zero(strength: float) -> None:
    """The mean over 120 flights stays within three standard errors of the truth."""
    found, sigmas = flights(strength)
    error = found.std(axis=0) / np.sqrt(found.shape[0])
    assert (np.abs(found.mean(axis=0) - [DRAG, GAIN]) < 3.0 * error).all()
    inside = np.abs(found - [DRAG, GAIN]) < 1.2816 * sigmas
    assert (inside.mean(axis=0) > 0.7).all()
    assert (inside.mean(axis=0) < 0.92).all()


def test_it_is_ordinary_least_squares_where_nothing_is_felt() -> None:
    """Without gusts: weighted by the noise alone, held against numpy's own solver."""
    random = np.random.default_rng(5)
    rates = random.normal(size=(SIZE, 2)) + 2.0
    grown = np.vstack([np.zeros(2), np.cumsum(0.5 * (rates[1:] + rates[:-1]), axis=0)])
    energy = 50.0 + grown @ [0.3, -0.2] + random.normal(0.0, 0.5, SIZE)
    still = np.zeros((SIZE, SIZE))
    one = Stretch(
        energy=energy,
        rates=rates,
        felt=np.zeros((SIZE, 2)),
        smoothing=SMOOTHING,
        gusts=still,
        along=np.ones(SIZE),
        noise=0.25 * np.eye(SIZE),
    )
    told = fitted([one], np.zeros(2), np.full(2, 1e6))
    assert told is not None
    columns = np.column_stack([np.ones(SIZE), grown])
    expected = np.linalg.lstsq(columns, energy, rcond=None)[0]
    assert told[0] == pytest.approx(expected[1:], rel=1e-6)
    spread = 0.25 * np.linalg.inv(columns.T @ columns)[1:, 1:]
    assert told[1] == pytest.approx(spread, rel=1e-6)


def test_what_gusts_drown_is_not_told() -> None:
    """Ten seconds of power that hardly changes, in a gale: None, no number."""
    random = np.random.default_rng(1)
    one = stretch(random, 6.0, gliding=False)
    short = Stretch(
        energy=one.energy[:10],
        rates=one.rates[:10] * [1e-3, 1.0],
        felt=one.felt[:10],
        smoothing=SMOOTHING[:10, :10],
        gusts=one.gusts[:10, :10],
        along=one.along[:10],
        noise=one.noise[:10, :10],
    )
    assert fitted([short], np.array([0.02, 0.5]), np.array([1e3, 0.3])) is None

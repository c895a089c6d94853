"""Swings in a record of noise: the matrix pencil on its autocorrelation."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid


@dataclass(frozen=True, kw_only=True, slots=True)
class Swing:
    """One swing a record is made of."""

    frequency: float
    """As counted [Hz]."""
    damping: float
    """Share of critical damping [-]."""
    rms: float
    """How large it is, root mean square, in the unit of the record."""
    share: float
    """Share of the record's mean square [-]."""


def poles_of(values: Grid, count: int) -> np.ndarray:
    """Return the poles (count,) whose powers make up a sequence, complex, a step each.

    The pencil's length is a half of the sequence; noise is kept out by the largest singular
    values of the Hankel matrix (hua-sarkar-1990).
    """
    length = values.size // 2
    rows = np.lib.stride_tricks.sliding_window_view(values, length + 1)
    _, _, right = np.linalg.svd(rows, full_matrices=False)
    kept = right[:count].T
    found: np.ndarray = np.linalg.eigvals(np.linalg.lstsq(kept[:-1], kept[1:], rcond=None)[0])
    return found


def sizes_of(values: Grid, poles: np.ndarray) -> np.ndarray:
    """Return how much of a sequence each pole makes at its start (poles,), complex."""
    powers = poles[None, :] ** np.arange(values.size)[:, None]
    found: np.ndarray = np.linalg.lstsq(powers, values.astype(complex), rcond=None)[0]
    return found


def autocorrelation(parts: Sequence[Grid], lags: int) -> Grid:
    """Return the mean product of rows so many rows apart (lags,), none across two parts."""
    products, counts = np.zeros(lags), np.zeros(lags)
    for part in parts:
        size = 1 << int(np.ceil(np.log2(part.size + lags)))
        spectrum = np.fft.rfft(part, size)
        most = min(lags, part.size)
        products[:most] += np.fft.irfft(np.abs(spectrum) ** 2, size)[:most]
        counts[:most] += part.size - np.arange(most)
    return np.asarray(products / np.maximum(counts, 1.0))


def swings_of(values: Grid, step: float, count: int) -> tuple[Swing, ...]:
    """Return the swings in an autocorrelation at even steps [s], the largest first.

    Its first value holds all the noise of single rows and is left out; what a swing had there is
    carried back by its pole.
    """
    poles = poles_of(values[1:], count)
    poles = poles[(np.abs(poles) > 1e-6) & (np.abs(poles) < 1.05)]
    sizes = sizes_of(values[1:], poles)
    found = []
    for pole, size in zip(poles, sizes, strict=True):
        s = np.log(pole) / step
        square = 2.0 * float((size / pole).real)
        if s.imag <= 0.0 or square <= 0.0:
            continue
        found.append(
            Swing(
                frequency=float(s.imag / 2.0 / np.pi),
                damping=float(-s.real / abs(s)),
                rms=float(np.sqrt(square)),
                share=square / max(float(values[0]), 1e-30),
            )
        )
    return tuple(sorted(found, key=lambda swing: -swing.rms))

"""Scrambled Sobol samples, one dimension an uncertain input, and who carries a spread."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Samples
from foamwright.quantity import Quantity

DIMENSIONS = 512
"""Dimensions drawn at once: fixed, so that an input added later leaves the others' draws alone."""

WIDE = 0.12
"""Relative spread from which a positive quantity is drawn log-normally."""

LEAST_SHARE = 0.02
"""Smallest share of the variance worth naming."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Input:
    """One uncertain input."""

    key: str
    """Unique name: the dotted path in the plane file, or the model's name."""
    label: str
    """The builder's words for it; inputs with the same label are told as one."""
    normals: Samples
    """Its standard normal draws, (n,)."""


class Draws:
    """Standard normal draws by input name.

    The same name always gets the same draws, in a variant or a remedy too, so that two planes
    are compared with the same luck.
    """

    def __init__(self, samples: int, seed: int) -> None:
        """Draw `samples` points of a scrambled Sobol sequence."""
        from scipy.special import ndtri  # noqa: PLC0415 - slow to import, only needed here
        from scipy.stats import qmc  # noqa: PLC0415 - slow to import, only needed here

        whole = 1 << max(samples - 1, 0).bit_length()
        points = qmc.Sobol(DIMENSIONS, scramble=True, rng=seed).random(whole)[:samples]
        self._normals: Samples = ndtri(np.clip(points, 1e-9, 1 - 1e-9))
        self._inputs: dict[str, Input] = {}
        self.samples = samples
        self.seed = seed

    def normal(self, key: str, label: str) -> Samples:
        """Return the (n,) standard normal draws of one input."""
        if key not in self._inputs:
            column = self._normals[:, len(self._inputs)]
            self._inputs[key] = Input(key=key, label=label, normals=column)
        return self._inputs[key].normals

    def around(self, centre: float, spread: float, *, key: str, label: str) -> Samples:
        """Return (n,) draws around a centre with a spread of one standard deviation [SI].

        Wide positive quantities are log-normal about their median, so that none turns negative.
        """
        if spread == 0.0:
            return np.full(self.samples, centre)
        normals = self.normal(key, label)
        if centre > 0 and spread > WIDE * centre:
            wide: Samples = centre * np.exp(normals * np.log1p(spread / centre))
            return wide
        found: Samples = centre + spread * normals
        return found

    def written(self, quantity: Quantity, default: float, *, key: str, label: str) -> Samples:
        """Return (n,) draws of what the builder wrote; `default` where no spread was written."""
        spread = default if quantity.spread is None else quantity.spread
        return self.around(quantity.value, spread, key=key, label=label)

    def factor(self, ln_spread: float, *, key: str, label: str) -> Samples:
        """Return (n,) log-normal factors with median 1."""
        factors: Samples = np.exp(ln_spread * self.normal(key, label))
        return factors

    def inputs(self) -> tuple[Input, ...]:
        """Return every input drawn so far."""
        return tuple(self._inputs.values())


def carriers(draws: Draws, values: Samples, *, most: int = 4) -> tuple[tuple[str, float], ...]:
    """Return which inputs carry the spread of `values` (n,): label and share of the variance.

    The share is the squared correlation with the input's own draws: inputs are independent, so
    the shares of a response that is near to linear add up to one.
    """
    finite = np.isfinite(values)
    if finite.sum() < 8 or np.ptp(values[finite]) < 1e-12:  # too few, or nothing varies
        return ()
    ranked = values[finite].argsort().argsort().astype(float)
    centred = ranked - ranked.mean()
    shares: dict[str, float] = {}
    for entry in draws.inputs():
        normals = entry.normals[finite]
        normals = normals - normals.mean()
        norm = np.sqrt((normals @ normals) * (centred @ centred))
        share = float((normals @ centred / norm) ** 2) if norm > 0 else 0.0
        # 1/n is what pure luck gives; it is taken off before shares are added.
        shares[entry.label] = shares.get(entry.label, 0.0) + max(share - 1.0 / finite.sum(), 0.0)
    largest = sorted(shares.items(), key=lambda pair: -pair[1])[:most]
    return tuple((name, round(float(share), 3)) for name, share in largest if share >= LEAST_SHARE)

"""Scrambled Sobol samples, one dimension an uncertain input, and who carries a spread."""

import copy
from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid, Samples
from foamwright.plane.plane import Plane
from foamwright.quantity import Quantity

DIMENSIONS = 512
"""Dimensions drawn at once: fixed, so that an input added later leaves the others' draws alone."""

WIDE = 0.12
"""Relative spread from which a positive quantity is drawn log-normally."""

WIDEST = 1.0
"""Relative spread beyond which it no longer is: the tail of such a log-normal has no end. A scale
that is a gram off and shows a tenth of one is such a case."""

LEFT = 0.01
"""Share of a positive quantity that is always left of it."""

LEAST_SHARE = 0.02
"""Smallest share of the variance worth naming."""

MOST_TAKEN = 24
"""Inputs looked at one after the other for their share."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Input:
    """One uncertain input."""

    key: str
    """Unique name: the dotted path in the plane file, or the model's name."""
    label: str
    """The builder's words for it; inputs with the same label are told as one."""
    normals: Samples
    """Its standard normal draws, (n,)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Knowledge:
    """What tests and flights taught of some inputs: a joint normal of their normals."""

    keys: tuple[str, ...]
    """The k inputs, in the order they are drawn in."""
    labels: tuple[str, ...]
    """Their labels."""
    mean: Grid
    """(k,)."""
    factor: Grid
    """Lower Cholesky factor of their covariance (k, k)."""
    plane: Plane | None = None
    """The plane it was learned of; what speaks of a part another plane lacks is left out there."""


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
        self._columns: dict[str, int] = {}
        self.samples = samples
        self.seed = seed
        self.knowledge: Knowledge | None = None
        self.forgotten: frozenset[str] = frozenset()
        self.surplus: float = 0.0

    def knowing(
        self, knowledge: Knowledge | None, forgotten: frozenset[str] = frozenset()
    ) -> "Draws":
        """Return draws of the same luck that know what tests and flights taught.

        What was learned of `forgotten` inputs is left out: they are inputs of a part that was
        exchanged meanwhile, and have luck of their own. Inputs already drawn keep their columns.
        """
        known = copy.copy(self)
        known.knowledge, known.forgotten = knowledge, forgotten
        known._inputs, known._columns = {}, {}  # noqa: SLF001 - its own class
        for entry in self._inputs.values():
            known.normal(entry.key, entry.label)
        return known

    def heavier(self, surplus: float) -> "Draws":
        """Return draws of a plane whose scale showed more, or less, than its plan adds up to [kg].

        Where it comes from nobody knows, so it is no input; it goes with the plane into every
        variant and remedy.
        """
        found = copy.copy(self)
        found.surplus = surplus
        return found

    def branched(self) -> "Draws":
        """Return draws that know every input drawn so far and go their own way from here.

        What is drawn after it in one branch leaves the columns of the other branches alone.
        """
        branch = copy.copy(self)
        branch._inputs = dict(self._inputs)  # noqa: SLF001 - its own class
        branch._columns = dict(self._columns)  # noqa: SLF001
        return branch

    def same_luck(self, other: "Draws") -> bool:
        """Return whether both hand out the columns of one sequence."""
        return self._normals is other._normals  # noqa: SLF001 - its own class

    def normal(self, key: str, label: str) -> Samples:
        """Return the (n,) standard normal draws of one input."""
        if key not in self._inputs:
            self._base(key, label)
        return self._inputs[key].normals

    def _base(self, key: str, label: str) -> None:
        """Give an input its column, and what was learned of it."""
        known = self.knowledge
        if known is None or key not in known.keys:
            self._inputs[key] = Input(
                key=key, label=label, normals=self._normals[:, self._next(key)]
            )
            return
        row = known.keys.index(key)
        # Its draws hang on those learned before it, so they have their columns first.
        for earlier, words in zip(known.keys[:row], known.labels, strict=False):
            self.normal(earlier, words)
        self._next(key)
        if key in self.forgotten:
            column = self._normals[:, DIMENSIONS - 1 - row]
        else:
            places = [self._columns[name] for name in known.keys[: row + 1]]
            column = known.mean[row] + self._normals[:, places] @ known.factor[row, : row + 1]
        self._inputs[key] = Input(key=key, label=label, normals=column)

    def _next(self, key: str) -> int:
        """Return the column that the next input has."""
        self._columns[key] = len(self._columns)
        return self._columns[key]

    def around(self, centre: float, spread: float, *, key: str, label: str) -> Samples:
        """Return (n,) draws around a centre with a spread of one standard deviation [SI].

        Wide positive quantities are log-normal about their median, so that none turns negative;
        those wider than themselves are normal, cut off just above nothing.
        """
        if spread == 0.0:
            return np.full(self.samples, centre)
        normals = self.normal(key, label)
        if centre > 0 and spread > WIDEST * centre:
            return np.maximum(centre + spread * normals, LEFT * centre)
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

    The share is the squared rank correlation with the input's own draws. The largest is taken
    first and taken out of everything else before the next is looked for: few draws of two
    independent inputs may run alike by luck, and the price of a servo is no cause of a balance.
    """
    finite = np.isfinite(values)
    if finite.sum() < 8 or np.ptp(values[finite]) < 1e-12:  # too few, or nothing varies
        return ()
    entries = draws.inputs()
    left = values[finite].argsort().argsort().astype(float)
    left -= left.mean()
    whole, luck = float(left @ left), 1.0 / int(finite.sum())
    columns = np.stack([entry.normals[finite] for entry in entries], axis=1)
    columns -= columns.mean(axis=0)
    shares: dict[str, float] = {}
    for _ in range(min(len(entries), MOST_TAKEN)):
        columns /= np.maximum(np.sqrt((columns**2).sum(axis=0)), 1e-9)
        explained = (left @ columns) ** 2 / whole
        best = int(np.argmax(explained))
        if explained[best] < 4.0 * luck:  # two standard errors: no more than luck
            break
        # 1/n is what pure luck gives; it is taken off before shares are added.
        label = entries[best].label
        shares[label] = shares.get(label, 0.0) + float(explained[best]) - luck
        direction = columns[:, best].copy()
        left -= direction * (direction @ left)
        columns -= np.outer(direction, direction @ columns)
        columns[:, best] = 0.0
    largest = sorted(shares.items(), key=lambda pair: -pair[1])[:most]
    return tuple((name, round(share, 3)) for name, share in largest if share >= LEAST_SHARE)

"""Weighing samples by how well they foretell what was observed.

A large set of samples is drawn from what was known before; each is weighted by the likelihood of
the observations. Where too few of them carry the weight, a second set is drawn where the weight
lies, and both are taken as one mixture (owen-2013). What is left is
summarised as a joint normal of the inputs.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from foamwright.model.bounds import log_chance_below, reading_like
from foamwright.model.ensemble import Knowledge
from foamwright.physics.arrays import Flags, Grid, Samples

FEWEST = 1000.0
"""Effective samples below which a second set is drawn."""

ILL_FITTING = 0.01
"""Chance below which an observation fits nothing the model knows."""

WIDER = 1.2
"""Factor on the standard deviations of the second set: its tails must hold the posterior's."""

SURE = 4.0
"""Standard errors a coefficient needs to count."""

LEAST_TAUGHT = 0.002
"""Share of an input's variance that has to go before it counts as learned."""

MOST_KEYS = 64
"""Inputs that are learned at once."""

IMPOSSIBLE = -1.0e6
"""Log-likelihood of a sample that cannot do what was observed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Drawn:
    """One set of samples: inputs and what the model says to each observation."""

    keys: tuple[str, ...]
    """The inputs in the order they were drawn in."""
    labels: tuple[str, ...]
    """Their labels."""
    normals: Samples
    """Their normals (n, k)."""
    told: Samples
    """What the model says to each observation, on the scale it is compared on (n, m)."""
    others: Samples
    """Other quantities that are told before and after (n, q)."""


Draw = Callable[[Knowledge | None], Drawn]
"""Draws a set: from what was known before, or from a proposal."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Linear:
    """The model about its middle: told = level + normals @ slope, with what is left over."""

    level: Grid
    """(m,)."""
    slope: Grid
    """(k, m); zero where it is no more than luck."""
    rest: Grid
    """Standard deviation of what no straight line tells (m,)."""


def linear(drawn: Drawn) -> Linear:
    """Return the straight line through a set of samples, by least squares."""
    m = drawn.told.shape[1]
    level, rest = np.full(m, np.nan), np.full(m, np.nan)
    slope = np.zeros((drawn.normals.shape[1], m))
    finite = np.isfinite(drawn.told)
    # What the same samples can do is fitted at once: many flights tell the same few things.
    for able in np.unique(finite, axis=1).T:
        if able.mean() < 0.5:  # hardly any such plane can do it at all
            continue
        columns = np.flatnonzero((finite == able[:, None]).all(axis=0))
        normals, told = drawn.normals[able], drawn.told[np.ix_(able, columns)]
        left = np.column_stack([np.ones(normals.shape[0]), normals])
        # The normals are nearly independent, so the normal equations are as good as any way.
        found = np.linalg.solve(left.T @ left + 1e-6 * np.eye(left.shape[1]), left.T @ told)
        rest[columns] = (told - left @ found).std(axis=0)
        level[columns] = found[0]
        error = rest[columns] / np.sqrt(normals.shape[0])
        slope[:, columns] = np.where(np.abs(found[1:]) > SURE * error, found[1:], 0.0)
    return Linear(level=level, slope=slope, rest=rest)


@dataclass(frozen=True, kw_only=True, slots=True)
class Evidence:
    """m observations on the scale they are compared on."""

    value: Grid
    """(m,)."""
    noise: Grid
    """Covariance of what readings and model miss (m, m)."""
    bounds: tuple[int, ...] = ()
    """Which of them only bound what they speak of, from above."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Forecast:
    """What was expected of one observation before it was made."""

    middle: float
    """On the scale it is compared on."""
    spread: float
    """Standard deviation, reading error and discrepancy included."""
    probability: float
    """Chance of a departure as large, either way; of a bound: that it holds."""


def foretold(line: Linear, evidence: Evidence, known: Flags) -> tuple[Grid, Grid]:
    """Return middle and standard deviation (m,) of all observations, given the known ones (m,)."""
    rows = np.flatnonzero(known)
    joint = line.slope.T @ line.slope + evidence.noise + np.diag(line.rest**2)
    off: Grid = evidence.value - line.level
    gain = np.asarray(np.linalg.solve(joint[np.ix_(rows, rows)], joint[rows]).T, np.float64)
    variance: Grid = np.diag(joint) - np.einsum("mk,mk->m", gain, joint[:, rows])
    return line.level + gain @ off[rows], np.sqrt(np.maximum(variance, 1e-18))


def as_readings(line: Linear, evidence: Evidence, used: Flags) -> tuple[Evidence, Flags]:
    """Return the evidence with each bound that counts as the plain reading that teaches as much.

    Bounds are taken in their order, each after all that was observed before it; one that cuts
    nothing off counts no more. It is for forecasts and proposals; weights take bounds as they are.
    """
    value, noise, counts = evidence.value.copy(), evidence.noise.copy(), used.copy()
    plain = Evidence(value=value, noise=noise)
    for row in evidence.bounds:
        if used[row]:
            before = counts & (np.arange(value.size) < row)
            middle, spread = foretold(line, plain, before)
            like = reading_like(float(middle[row]), float(spread[row]), float(value[row]))
            counts[row] = like is not None
            if like is not None:
                value[row] = like[0]
                noise[row, row] += like[1]
    return plain, counts


def forecasts(line: Linear, evidence: Evidence, used: Flags, upto: int) -> list[Forecast]:
    """Return what the used observations before `upto` foretell of all others, joint normal.

    `used` (m,) are the observations that count; those from `upto` on are not looked at.
    """
    plain, known = as_readings(line, evidence, used & (np.arange(used.size) < upto))
    middle, spread = foretold(line, plain, known)
    away = (evidence.value - middle) / spread
    from scipy.special import ndtr  # noqa: PLC0415 - slow to import, only needed here

    chances = 2.0 * ndtr(-np.abs(away))
    rows = list(evidence.bounds)
    chances[rows] = ndtr(away[rows])
    return [
        Forecast(middle=float(a), spread=float(b), probability=float(p))
        for a, b, p in zip(middle, spread, chances, strict=True)
    ]


def log_likelihood(told: Samples, evidence: Evidence, used: Flags) -> Samples:
    """Return how well samples (n, m) foretell the observations that count (n,), a logarithm.

    Of a plain reading it is how near they come; of a bound the chance that it holds, given what
    the plain readings miss.
    """
    counts = np.flatnonzero(used)
    if counts.size == 0:
        return np.zeros(told.shape[0])
    off = evidence.value[counts] - told[:, counts]
    able: Flags = np.all(np.isfinite(off), axis=1)
    off = np.where(able[:, None], off, 0.0)
    bound = np.isin(counts, evidence.bounds)
    noise = evidence.noise[np.ix_(counts, counts)]
    read, both = noise[np.ix_(~bound, ~bound)], noise[np.ix_(bound, ~bound)]
    gain = np.linalg.solve(read, np.column_stack([off[:, ~bound].T, both.T]))
    weighed = gain[:, : told.shape[0]]
    found: Samples = -0.5 * np.einsum("ni,in->n", off[:, ~bound], weighed)
    if bound.any():
        left = noise[np.ix_(bound, bound)] - both @ gain[:, told.shape[0] :]
        found = found + log_chance_below(off[:, bound] - (both @ weighed).T, left)
    return np.where(able, found, IMPOSSIBLE)


def proposal(drawn: Drawn, line: Linear, evidence: Evidence, used: Flags) -> Knowledge | None:
    """Return the joint normal of the inputs that the straight line and the observations give.

    None where nothing is taught.
    """
    evidence, used = as_readings(line, evidence, used)
    rows = np.flatnonzero(used)
    slope = line.slope[:, rows]
    joint = slope.T @ slope + evidence.noise[np.ix_(rows, rows)] + np.diag(line.rest[rows] ** 2)
    gain = np.linalg.solve(joint, slope.T).T
    mean = gain @ (evidence.value - line.level)[rows]
    gone = np.einsum("km,km->k", gain, slope)
    order = np.argsort(-(gone + mean**2))[:MOST_KEYS]
    taught = np.sort(order[(gone + mean**2)[order] > LEAST_TAUGHT])
    if taught.size == 0:
        return None
    covariance = np.eye(taught.size) - gain[taught] @ slope[taught].T
    return Knowledge(
        keys=tuple(drawn.keys[n] for n in taught),
        labels=tuple(drawn.labels[n] for n in taught),
        mean=mean[taught],
        factor=np.linalg.cholesky(covariance + 1e-9 * np.eye(taught.size)),
    )


def log_normal_density(points: Samples, knowledge: Knowledge) -> Samples:
    """Return the log density of a joint normal at points (n, k), but for the usual constant."""
    from scipy.linalg import solve_triangular  # noqa: PLC0415 - slow to import

    away = solve_triangular(knowledge.factor, (points - knowledge.mean).T, lower=True)
    root = float(np.sum(np.log(np.diag(knowledge.factor))))
    found: Samples = np.asarray(-0.5 * np.sum(away**2, axis=0) - root, np.float64)
    return found


@dataclass(frozen=True, kw_only=True, slots=True)
class Pool:
    """All samples drawn, and how much more often each was drawn than what was known before asks."""

    drawn: Drawn
    """Both sets."""
    log_prior: Samples
    """Logarithm of the density before over the density drawn from (n,)."""

    def weights(self, evidence: Evidence, used: Flags) -> Samples:
        """Return the weights (n,) after the observations that count; they add up to 1."""
        logs = self.log_prior + log_likelihood(self.drawn.told, evidence, used)
        found: Samples = np.exp(logs - logs.max())
        found /= found.sum()
        return found


def effective(weights: Samples) -> float:
    """Return how many equal samples the weights are worth (Kish)."""
    return float(1.0 / np.sum(weights**2))


def pooled(first: Drawn, wider: Knowledge, second: Drawn) -> Pool:
    """Return two sets as one: the first from what was known before, the second from a proposal."""
    columns = [first.keys.index(key) for key in wider.keys]
    normals = np.vstack([first.normals, second.normals])
    points = normals[:, columns]
    before = -0.5 * np.sum(points**2, axis=1)
    share = first.normals.shape[0] / normals.shape[0]
    drawn_from = np.logaddexp(
        np.log(share) + before, np.log1p(-share) + log_normal_density(points, wider)
    )
    both = Drawn(
        keys=first.keys,
        labels=first.labels,
        normals=normals,
        told=np.vstack([first.told, second.told]),
        others=np.vstack([first.others, second.others]),
    )
    return Pool(drawn=both, log_prior=before - drawn_from)


def pool_for(draw: Draw, first: Drawn, line: Linear, *, evidence: Evidence, used: Flags) -> Pool:
    """Return enough samples where the observations put the weight."""
    alone = Pool(drawn=first, log_prior=np.zeros(first.normals.shape[0]))
    near = proposal(first, line, evidence, used) if used.any() else None
    if near is None or effective(alone.weights(evidence, used)) >= FEWEST:
        return alone
    wider = Knowledge(
        keys=near.keys, labels=near.labels, mean=near.mean, factor=WIDER * near.factor
    )
    return pooled(first, wider, draw(wider))


def summary(pool: Pool, weights: Samples, near: Knowledge) -> Knowledge:
    """Return the joint normal of the learned inputs that the weighted samples give."""
    columns = [pool.drawn.keys.index(key) for key in near.keys]
    points = pool.drawn.normals[:, columns]
    mean = weights @ points
    away = points - mean
    covariance = (away * weights[:, None]).T @ away
    factor: Grid = np.asarray(
        np.linalg.cholesky(covariance + 1e-9 * np.eye(len(near.keys))), np.float64
    )
    return Knowledge(keys=near.keys, labels=near.labels, mean=mean, factor=factor)


def quantiles(values: Samples, weights: Samples, shares: tuple[float, ...]) -> tuple[float, ...]:
    """Return the points of weighted samples (n,) below which some shares lie.

    Not numbers where no sample has a value.
    """
    finite = np.isfinite(values)
    if not finite.any():
        return tuple(float("nan") for _ in shares)
    order = np.argsort(values[finite])
    sorted_values, sorted_weights = values[finite][order], weights[finite][order]
    upto = np.cumsum(sorted_weights) - 0.5 * sorted_weights
    upto /= sorted_weights.sum()
    return tuple(float(np.interp(share, upto, sorted_values)) for share in shares)

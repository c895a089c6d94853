"""Weighing explanations of a reading: how well the samples of each foretell what was read.

Each explanation foretells about a normal, a joint one where several things were read at once. How
often each happens is common practice, no source.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.model.evidence import OBSERVABLE, Observation
from foamwright.model.reading_error import compared, noise
from foamwright.model.suspects import Suspect
from foamwright.physics.arrays import Grid, Samples
from foamwright.physics.numerics.normal import TENTH

AS_OFTEN = 0.90
"""How often a reading is as planned, before it is read; common practice, no source."""

FITS = 2.33
"""Standard deviations from which a reading hardly fits an explanation: once in fifty times."""

UNREAD = 0.3
"""Share of its spread below which a reading shows nothing."""

REACH, STEPS = 12.0, 2401
"""How many deviations of a log-normal quantity are looked through, and at how many places."""

WORTH_RULING_OUT = 0.004
"""How often a thing happens for it to be worth telling that it is ruled out."""

FAR = 3.0
"""Spreads from which a needed change is told as beyond what was written."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Explanation:
    """One thing that may be behind a reading."""

    name: str
    """In the builder's words."""
    often: float
    """How often it happens before anything was read, relative to the others."""
    told: Grid
    """What would be read with it, on the scale it is compared on (n, m)."""
    check: str = ""
    """The one cheap step that finds it out."""
    speaks_for: str = ""
    """What speaks for it."""
    speaks_against: str = ""
    """What speaks against it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Seen:
    """What was read, on the scale it is compared on."""

    names: tuple[str, ...]
    """The JSON names of the m readings."""
    value: Samples
    """(m,)."""
    noise: Grid
    """Covariance of what readings and model miss (m, m)."""
    logs: tuple[bool, ...]
    """Which are logarithms."""
    even: float | None = None
    """Spread [SI] of one reading that errs by as much whatever it shows, down to nothing, of what
    is compared by its logarithm; then `value` is the reading itself and `noise` is not looked at.
    None elsewhere."""


def seen_of(seen: Sequence[Observation]) -> Seen:
    """Return observations as what was read."""
    return Seen(
        names=tuple(one.name for one in seen),
        value=np.array([float(compared(np.array([one.value]), one)[0]) for one in seen]),
        noise=noise(tuple(seen)),
        logs=tuple(OBSERVABLE[one.name].relative for one in seen),
    )


def foretold(told: Grid, seen: Seen) -> tuple[Samples, Grid]:
    """Return middle (m,) and covariance (m, m) of what would be read with an explanation."""
    finite = told[np.isfinite(told).all(axis=1)]
    count = len(seen.names)
    if len(finite) < 2:  # hardly any such plane can do it: it foretells nothing
        return np.full(count, np.nan), seen.noise
    return finite.mean(axis=0), np.cov(finite, rowvar=False).reshape(count, count) + seen.noise


def log_chance(told: Grid, seen: Seen) -> float:
    """Return the log-likelihood of what was read; minus infinity where nothing is foretold."""
    middle, spread = foretold(told, seen)
    if not np.isfinite(middle).all():
        return -np.inf
    if seen.even is not None:
        return evenly(float(middle[0]), float(np.sqrt(spread[0, 0])), seen)
    away = seen.value - middle
    return float(-0.5 * (np.linalg.slogdet(spread)[1] + away @ np.linalg.solve(spread, away)))


def evenly(middle: float, deviation: float, seen: Seen) -> float:
    """Return the log-likelihood of a reading with an even error of a log-normal quantity.

    The sum over its true values: near nothing, an even error is no share of what is read.
    """
    spread = seen.even or 1.0
    ways = np.linspace(-REACH, REACH, STEPS)
    if deviation <= 0.0:
        ways = np.zeros(1)
    away = (float(seen.value[0]) - np.exp(middle + deviation * ways)) / spread
    logs = -0.5 * (away**2 + ways**2) - np.log(spread)
    top = float(logs.max())
    return top + float(np.log(np.sum(np.exp(logs - top)) / np.sum(np.exp(-0.5 * ways**2))))


def misfit(told: Grid, seen: Seen) -> tuple[str, tuple[float, float] | None]:
    """Return the reading that fits worst, and where eight in ten of it would lie; if any does."""
    middle, spread = foretold(told, seen)
    deviation = np.sqrt(np.diag(spread))
    value = seen.value if seen.even is None else np.log(np.maximum(seen.value, UNREAD * seen.even))
    away = np.abs(value - middle) / deviation
    worst = int(np.argmax(away))
    if not away[worst] > FITS:
        return "", None
    low, high = (float(middle[worst] + side * TENTH * deviation[worst]) for side in (-1.0, 1.0))
    if seen.logs[worst]:
        low, high = float(np.exp(low)), float(np.exp(high))
    return seen.names[worst], (low, high)


def ranked(explanations: Iterable[Explanation], seen: Seen) -> tuple[Suspect, ...]:
    """Return the explanations with their chances after the reading, likeliest first.

    The chances sum to one: where nothing that can be read fits, the least unlikely takes all.
    """
    known = [one for one in explanations if one.often > 0.0]
    logs = np.array([np.log(one.often) + log_chance(one.told, seen) for one in known])
    chances = np.exp(logs - logs.max())
    chances /= chances.sum()
    found = []
    for one, chance in zip(known, chances, strict=True):
        against, expected = misfit(one.told, seen) if one.often >= WORTH_RULING_OUT else ("", None)
        found.append(
            Suspect(
                name=one.name,
                probability=float(chance),
                check=one.check,
                against=against,
                expected=expected,
                speaks_for=one.speaks_for,
                speaks_against=one.speaks_against,
            )
        )
    return tuple(sorted(found, key=lambda suspect: -suspect.probability))


def times(needed: float, spread: float) -> float:
    """Return how many spreads a needed change is."""
    return abs(needed) / max(spread, 1e-12)

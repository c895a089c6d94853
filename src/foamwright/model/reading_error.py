"""How far a reading may be off: its own error, and what the model misses in all of its kind."""

import numpy as np

from foamwright.model.evidence import OBSERVABLE, Observation
from foamwright.physics.arrays import Samples


def compared(values: Samples, seen: Observation) -> Samples:
    """Return values on the scale they are compared on: logarithms of what is positive."""
    if not OBSERVABLE[seen.name].relative:
        return values
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.log(np.where(values > 0.0, values, np.nan))


def reading_error(seen: Observation) -> float:
    """Return the reading's own standard deviation on the scale it is compared on."""
    return seen.spread / seen.value if OBSERVABLE[seen.name].relative else seen.spread


def noise(seen: tuple[Observation, ...]) -> np.ndarray:
    """Return the covariance (m, m) of what readings and model miss.

    A reading's error is its own; what the model misses in one kind of observation it misses in
    every such one, so that a hundred flights do not prove a wrong model right.
    """
    found: np.ndarray = np.diag([reading_error(one) ** 2 for one in seen])
    for row, one in enumerate(seen):
        for column, other in enumerate(seen):
            if misses(one) == misses(other):
                found[row, column] += OBSERVABLE[one.name].discrepancy ** 2
    return found


def misses(seen: Observation) -> str:
    """Return the kind of observations that share what the model misses."""
    return OBSERVABLE[seen.name].misses or seen.name


def bounds_in(seen: tuple[Observation, ...]) -> tuple[int, ...]:
    """Return which observations are no more than upper bounds."""
    return tuple(n for n, one in enumerate(seen) if OBSERVABLE[one.name].bound)


def odd_words(one: Observation, probability: float) -> str:
    """Return why a reading that is so unlikely teaches nothing."""
    share = max(probability, 0.001)
    least = "less than " if probability < share else ""
    of_them = "fly level so slowly" if OBSERVABLE[one.name].bound else "are as far off"
    return (
        f"it fits nothing the model knows ({least}{share:.1%} of such planes {of_them}), "
        "so read it again first"
    )

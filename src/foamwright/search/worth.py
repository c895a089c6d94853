"""What a test is worth: how much better the best decision gets once its result is known.

A builder chooses between the plane as it is and some changes, and for each question whether to go
on or to hold: going on is worth one where the question stands and costs one where it does not,
holding is worth nothing. The chance of a question, given a result not known yet, is a regression of
the samples' own outcomes on the result they would have given (Strong, Oakley, Brennan 2014); what
luck alone would make of it is taken off by shuffling the results.
"""

import numpy as np

from foamwright.physics.arrays import Grid, Samples

KNOTS, STEEP = (-1.2, -0.6, 0.0, 0.6, 1.2), 0.25
"""Where the regression may bend, and how sharply: a question often stands or falls at one value."""

SHUFFLES = 8
"""How often the results are shuffled to see what luck alone gives."""

MOST_INPUTS = 4
"""Inputs of a test that enter the regression: those that matter most."""

SEED = 7
"""Of the noise of results that nobody has read yet."""


def results(normals: Samples, leaves: float, dice: np.random.Generator) -> Samples:
    """Return what a test would read in each sample (n, k).

    `normals` are the standard normal draws of its inputs (n, k); the noise is such that the spread
    left after the test is `leaves` times what it was.
    """
    noise = leaves / np.sqrt(max(1.0 - leaves**2, 1e-9))
    found: Samples = normals + noise * dice.standard_normal(normals.shape)
    return found


def chances_after(read: Samples, stands: Samples) -> Samples:
    """Return the chance of each question under each choice, given a result (n, c, q).

    `read` are the results (n, k), `stands` whether a question stands (n, c, q), 0 to 1.
    """
    columns = [np.ones(len(read)), *read.T, *(read.T**2)]
    columns += [np.tanh((one - knot) / STEEP) for one in read.T for knot in KNOTS]
    columns += [
        read[:, i] * read[:, j] for i in range(read.shape[1]) for j in range(i + 1, read.shape[1])
    ]
    ground = np.stack(columns, axis=1)
    fit, *_ = np.linalg.lstsq(ground, stands.reshape(len(stands), -1), rcond=None)
    found: Samples = np.clip(ground @ fit, 0.0, 1.0).reshape(stands.shape)
    return found


def decided(chances: Samples) -> Samples:
    """Return what choices are worth with chances (..., q): each question gone on with or held."""
    found: Samples = np.maximum(2.0 * chances - 1.0, 0.0).sum(axis=-1)
    return found


def gained(read: Samples, stands: Samples) -> float:
    """Return how much the best decision gains from a result, before luck is taken off."""
    after = decided(chances_after(read, stands)).max(axis=1).mean()
    return float(after - decided(stands.mean(axis=0)).max())


def chosen_inputs(normals: Samples, stands: Samples) -> list[int]:
    """Return the columns that have most to do with any question, few of them."""
    if normals.shape[1] <= MOST_INPUTS:
        return list(range(normals.shape[1]))
    outcomes = stands.reshape(len(stands), -1)
    centred = normals - normals.mean(axis=0)
    spread = outcomes - outcomes.mean(axis=0)
    sizes = np.linalg.norm(centred, axis=0)[:, None] * np.linalg.norm(spread, axis=0)[None]
    shared: Grid = np.abs(centred.T @ spread) / np.maximum(sizes, 1e-12)
    return [int(i) for i in np.argsort(-shared.max(axis=1))[:MOST_INPUTS]]


def read_of(normals: Samples, leaves: float, stands: Samples) -> Samples:
    """Return what a test would read of the inputs that matter (n, k)."""
    kept = normals[:, chosen_inputs(normals, stands)]
    return results(kept, leaves, np.random.default_rng(SEED))


def value_of_test(normals: Samples, leaves: float, stands: Samples) -> float:
    """Return how many questions more are decided rightly once a test is read.

    Parameters are the draws of the inputs that it settles (n, k), the spread it leaves, and whether
    each question stands under each choice (n, c, q), the plane as it is first.
    """
    if not normals.shape[1]:
        return 0.0
    read = read_of(normals, leaves, stands)
    dice = np.random.default_rng(SEED + 1)
    luck = [gained(dice.permutation(read, axis=0), stands) for _ in range(SHUFFLES)]
    # Going on wrongly costs one and holding nothing, so a right decision is worth half of both.
    return max(0.0, gained(read, stands) - float(np.mean(luck))) / 2.0

"""The weighing of samples against a reference sampler, closed forms, and its own promises."""

from collections.abc import Callable

import emcee
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import multivariate_normal, norm

from foamwright.model.ensemble import Draws, Knowledge
from foamwright.model.importance import (
    FEWEST,
    IMPOSSIBLE,
    Draw,
    Drawn,
    Evidence,
    Linear,
    Pool,
    as_readings,
    effective,
    forecasts,
    linear,
    log_likelihood,
    log_normal_density,
    pool_for,
    proposal,
    quantiles,
    summary,
)
from foamwright.physics.arrays import Samples

KEYS = ("a", "b", "c", "d")
Model = Callable[[Samples], Samples]


def bent(normals: Samples) -> Samples:
    """Return two readings that hang on three of four inputs, not in a straight line."""
    a, b, c = normals[:, 0], normals[:, 1], normals[:, 2]
    return np.stack([0.2 * a + 0.12 * b + 0.04 * a * b, 0.15 * b - 0.1 * c + 0.03 * c**2], axis=1)


def straight(normals: Samples) -> Samples:
    """Return two readings in a straight line."""
    found: Samples = 1.0 + normals @ np.array([[0.3, 0.0], [0.1, 0.2], [0.0, 0.1], [0.0, 0.0]])
    return found


def drawing(model: Model, samples: int = 4096) -> Draw:
    """Return what draws sets of a model."""

    def draw(known: Knowledge | None) -> Drawn:
        draws = Draws(samples, 5 if known is None else 6).knowing(known)
        normals = np.stack([draws.normal(key, key) for key in KEYS], axis=1)
        return Drawn(
            keys=KEYS,
            labels=KEYS,
            normals=normals,
            told=model(normals),
            others=model(normals)[:, :1],
        )

    return draw


def learned(model: Model, evidence: Evidence) -> tuple[Pool, Samples, Knowledge]:
    """Return the pool, its weights and what was learned."""
    draw, used = drawing(model), np.ones(evidence.value.size, dtype=bool)
    first = draw(None)
    line = linear(first)
    pool = pool_for(draw, first, line, evidence=evidence, used=used)
    near = proposal(first, line, evidence, used)
    assert near is not None
    weights = pool.weights(evidence, used)
    return pool, weights, summary(pool, weights, near)


def test_it_agrees_with_a_reference_sampler() -> None:
    """Means within 0.05 and standard deviations within 6 % of emcee's (Foreman-Mackey 2013).

    The chain: 32 walkers, 1500 steps after 300, about 40 steps to forget, so its own standard
    error of a mean is about 0.03.
    """
    evidence = Evidence(value=np.array([0.35, -0.2]), noise=np.diag([0.05**2, 0.06**2]))

    def log_density(points: Samples) -> Samples:
        likely = log_likelihood(bent(points), evidence, np.ones(2, dtype=bool))
        found: Samples = -0.5 * np.sum(points**2, axis=1) + likely
        return found

    start = np.random.default_rng(1).normal(size=(32, 4))
    sampler = emcee.EnsembleSampler(32, 4, log_density, vectorize=True)
    sampler.random_state = np.random.RandomState(2).get_state()
    sampler.run_mcmc(start, 1800)
    chain = sampler.get_chain(discard=300, flat=True)
    _, weights, known = learned(bent, evidence)
    assert effective(weights) > FEWEST
    columns = [KEYS.index(key) for key in known.keys]
    assert known.mean == pytest.approx(chain.mean(axis=0)[columns], abs=0.05)
    deviation = np.sqrt(np.diag(known.factor @ known.factor.T))
    assert deviation == pytest.approx(chain.std(axis=0)[columns], rel=0.06)


BOUNDED = Evidence(
    value=np.array([0.30, 0.05, 0.12]),
    noise=np.diag([0.05**2, 0.06**2, 0.03**2]) + np.array([[0, 0, 0], [0, 1, 1], [0, 1, 1]]) * 4e-4,
    bounds=(1, 2),
)
"""A plain reading, and two bounds that share what the model misses."""


def told_twice(normals: Samples) -> Samples:
    """Return the two readings, the second once more."""
    return bent(normals)[:, [0, 1, 1]]


def test_bounds_agree_with_a_reference_sampler() -> None:
    """Means within 0.05 and standard deviations within 6 % of emcee's, bounds written out anew.

    There what the model misses is a dimension of the chain, and given it each bound holds apart.
    """

    def log_density(points: Samples) -> Samples:
        told, missed = bent(points[:, :4]), 0.02 * points[:, 4]
        read = -0.5 * ((0.30 - told[:, 0]) / 0.05) ** 2
        holds = norm.logcdf((0.05 - told[:, 1] - missed) / 0.06)
        holds += norm.logcdf((0.12 - told[:, 1] - missed) / 0.03)
        found: Samples = read + holds - 0.5 * np.sum(points**2, axis=1)
        return found

    start = np.random.default_rng(1).normal(size=(32, 5))
    sampler = emcee.EnsembleSampler(32, 5, log_density, vectorize=True)
    sampler.random_state = np.random.RandomState(2).get_state()
    sampler.run_mcmc(start, 3000)
    chain = sampler.get_chain(discard=500, flat=True)
    _, weights, known = learned(told_twice, BOUNDED)
    assert effective(weights) > FEWEST
    assert {"b", "c"} <= set(known.keys)
    columns = [KEYS.index(key) for key in known.keys]
    assert known.mean == pytest.approx(chain.mean(axis=0)[columns], abs=0.05)
    deviation = np.sqrt(np.diag(known.factor @ known.factor.T))
    assert deviation == pytest.approx(chain.std(axis=0)[columns], rel=0.06)


@given(
    st.lists(st.floats(1.5, 2.6), min_size=2, max_size=40),
    st.floats(1.6, 2.4),
    st.floats(0.01, 0.2),
    st.integers(1, 4),
)
def test_weights_never_increase_with_the_stall_speed(
    stalls: list[float], flown: float, spread: float, flights: int
) -> None:
    """Slower is never less likely, far slower neither favoured nor punished; logarithms."""
    told = np.sort(np.array(stalls))[:, None] * np.ones(flights)
    noise = spread**2 * np.eye(flights) + 0.03**2
    bound = Evidence(value=np.full(flights, flown), noise=noise, bounds=tuple(range(flights)))
    found = log_likelihood(told, bound, np.ones(flights, dtype=bool))
    assert np.all(np.diff(found) <= 1e-12)
    far = told[:, 0] < flown - 8.0 * np.hypot(spread, 0.03)
    assert found[far] == pytest.approx(0.0, abs=1e-9)


def test_a_bound_knows_what_a_reading_beside_it_missed() -> None:
    """Given that the model was 0.2 too low in a reading, it is so in the bound too: own algebra."""
    noise = np.full((2, 2), 0.03**2) + np.diag([1e-10, 0.04**2])
    evidence = Evidence(value=np.array([0.02, 0.05]), noise=noise, bounds=(1,))
    found = log_likelihood(np.zeros((1, 2)), evidence, np.ones(2, dtype=bool))
    beside = log_likelihood(np.zeros((1, 2)), evidence, np.array([True, False]))
    assert found - beside == pytest.approx(norm.logcdf((0.05 - 0.02) / 0.04), abs=1e-4)


def test_a_forecast_after_a_bound_is_that_of_the_cut_normal() -> None:
    """Middle and spread of the same reading once more, against a plain simulation."""
    line = linear(drawing(lambda normals: straight(normals)[:, [1, 1, 1]])(None))
    noise = np.diag([0.05**2] * 3)
    evidence = Evidence(value=np.array([0.9, 1.0, 1.0]), noise=noise, bounds=(0,))
    before, after = (
        forecasts(line, evidence, np.array([on, False, False]), 1)[1] for on in (False, True)
    )
    assert (before.middle, before.probability) == pytest.approx((1.0, 1.0), abs=0.01)
    random = np.random.default_rng(3)
    truth = 1.0 + np.hypot(0.2, 0.1) * random.normal(size=400_000)
    kept = truth[truth + 0.05 * random.normal(size=truth.size) <= 0.9]
    assert after.middle == pytest.approx(kept.mean(), abs=0.005)
    assert after.spread == pytest.approx(np.hypot(kept.std(), 0.05), rel=0.01)


def test_a_bound_is_unlikely_only_from_below() -> None:
    """Far above all samples it fits; below them all it does not."""
    line = linear(drawing(straight)(None))
    for value, chance in ((9.0, 1.0), (-1.0, 0.0), (1.0, 0.5)):
        evidence = Evidence(value=np.array([1.0, value]), noise=1e-4 * np.eye(2), bounds=(1,))
        found = forecasts(line, evidence, np.zeros(2, dtype=bool), 0)
        assert found[1].probability == pytest.approx(chance, abs=0.01)


def test_a_bound_that_cuts_nothing_off_teaches_nothing() -> None:
    """No second set, no lesson, and weights that are all the same."""
    evidence = Evidence(value=np.array([1.0, 5.0]), noise=1e-4 * np.eye(2), bounds=(1,))
    used = np.array([False, True])
    first = drawing(straight)(None)
    line = linear(first)
    assert not as_readings(line, evidence, used)[1].any()
    assert proposal(first, line, evidence, used) is None
    pool = pool_for(drawing(straight), first, line, evidence=evidence, used=used)
    assert pool.weights(evidence, used) == pytest.approx(np.full(4096, 1.0 / 4096))


def test_a_straight_model_gives_the_closed_form() -> None:
    """The joint normal of a linear model, from any textbook; own derivation."""
    slope = np.array([[0.3, 0.0], [0.1, 0.2], [0.0, 0.1], [0.0, 0.0]])
    noise = np.array([[0.02, 0.005], [0.005, 0.03]])
    evidence = Evidence(value=np.array([1.4, 0.8]), noise=noise)
    gain = slope @ np.linalg.inv(slope.T @ slope + noise)
    mean, covariance = gain @ (evidence.value - 1.0), np.eye(4) - gain @ slope.T
    _, _, known = learned(straight, evidence)
    assert known.keys == ("a", "b", "c")
    assert known.mean == pytest.approx(mean[:3], abs=0.03)
    assert known.factor @ known.factor.T == pytest.approx(covariance[:3, :3], abs=0.04)


def test_sharp_readings_draw_a_second_set_that_finds_them() -> None:
    """Prior samples alone would leave a handful; the pool has hundreds."""
    evidence = Evidence(value=np.array([1.9, 1.5]), noise=np.diag([0.01**2, 0.01**2]))
    draw, used = drawing(straight), np.ones(2, dtype=bool)
    first = draw(None)
    alone = Pool(drawn=first, log_prior=np.zeros(first.normals.shape[0]))
    assert effective(alone.weights(evidence, used)) < 50
    pool, weights, _ = learned(straight, evidence)
    assert pool.drawn.normals.shape[0] == 2 * first.normals.shape[0]
    assert effective(weights) > 500
    assert weights @ pool.drawn.told == pytest.approx(evidence.value, abs=0.01)


def test_a_pool_of_two_sets_still_knows_what_was_known_before() -> None:
    """Without observations its weights give back the standard normal."""
    evidence = Evidence(value=np.array([1.9, 1.5]), noise=np.diag([0.01**2, 0.01**2]))
    pool, _, _ = learned(straight, evidence)
    before = pool.weights(evidence, np.zeros(2, dtype=bool))
    assert before @ pool.drawn.normals == pytest.approx(np.zeros(4), abs=0.03)
    assert before @ pool.drawn.normals**2 == pytest.approx(np.ones(4), abs=0.06)


def test_vague_readings_need_one_set() -> None:
    """Nothing is drawn twice without need."""
    evidence = Evidence(value=np.array([1.1, 1.0]), noise=np.diag([1.0, 1.0]))
    pool, _, _ = learned(straight, evidence)
    assert pool.drawn.normals.shape[0] == 4096


def test_what_nothing_hangs_on_is_not_learned() -> None:
    """The fourth input has no say."""
    first = drawing(bent)(None)
    assert linear(first).slope[3] == pytest.approx([0.0, 0.0])
    flat = Linear(level=np.zeros(1), slope=np.zeros((4, 1)), rest=np.ones(1))
    evidence = Evidence(value=np.zeros(1), noise=np.eye(1))
    one = Drawn(
        keys=KEYS, labels=KEYS, normals=first.normals, told=first.told[:, :1], others=first.others
    )
    assert proposal(one, flat, evidence, np.ones(1, dtype=bool)) is None


def test_a_forecast_is_the_marginal_and_then_the_conditional() -> None:
    """Closed form of a straight model: the first reading alone, then the second after it."""
    line = linear(drawing(straight)(None))
    evidence = Evidence(value=np.array([1.6, 1.0]), noise=np.diag([0.01, 0.01]))
    none = forecasts(line, evidence, np.zeros(2, dtype=bool), 0)
    assert none[0].spread == pytest.approx(np.sqrt(0.3**2 + 0.1**2 + 0.01), rel=1e-3)
    assert none[0].probability == pytest.approx(0.0704, abs=2e-3)  # 2 Phi(-1.810)
    after = forecasts(line, evidence, np.array([True, False]), 1)
    gain = 0.1 * 0.2 / (0.3**2 + 0.1**2 + 0.01)
    assert after[1].middle == pytest.approx(1.0 + 0.6 * gain, abs=2e-3)
    assert after[1].spread < none[1].spread


def test_a_sample_that_cannot_do_it_has_no_weight() -> None:
    """Not a number is no likelihood, and not the end of the others."""
    told = np.array([[1.0], [np.nan]])
    evidence = Evidence(value=np.ones(1), noise=np.eye(1))
    assert log_likelihood(told, evidence, np.ones(1, dtype=bool)) == pytest.approx([0, IMPOSSIBLE])
    assert log_likelihood(told, evidence, np.zeros(1, dtype=bool)) == pytest.approx([0, 0])


def test_what_hardly_any_plane_can_do_has_no_line() -> None:
    """More than half without a value: nothing is fitted through the few."""
    first = drawing(straight)(None)
    told = first.told.copy()
    told[: int(0.6 * told.shape[0]), 0] = np.nan
    few = Drawn(keys=KEYS, labels=KEYS, normals=first.normals, told=told, others=first.others)
    line = linear(few)
    assert np.isnan(line.level[0])
    assert np.isfinite(line.level[1])


def test_the_density_is_that_of_a_joint_normal() -> None:
    """Against scipy's, up to the constant of two dimensions."""
    covariance = np.array([[0.5, 0.2], [0.2, 0.3]])
    known = Knowledge(
        keys=("a", "b"),
        labels=("a", "b"),
        mean=np.array([0.3, -0.4]),
        factor=np.linalg.cholesky(covariance),
    )
    points = np.random.default_rng(3).normal(size=(50, 2))
    theirs = multivariate_normal(known.mean, covariance).logpdf(points) + np.log(2.0 * np.pi)
    assert log_normal_density(points, known) == pytest.approx(theirs)


def test_weighted_quantiles_of_equal_weights_are_plain_ones() -> None:
    """Against numpy's, for many samples; samples without a value are left out."""
    values = np.random.default_rng(4).normal(size=4001)
    with_gaps = np.concatenate([values, [np.nan]])
    weights = np.full(4002, 1.0 / 4002)
    assert quantiles(with_gaps, weights, (0.1, 0.5, 0.9)) == pytest.approx(
        tuple(np.quantile(values, [0.1, 0.5, 0.9])), abs=2e-3
    )
    assert quantiles(np.array([1.0, 5.0]), np.array([0.0, 1.0]), (0.5,)) == (5.0,)
    assert np.isnan(quantiles(np.array([np.nan]), np.array([1.0]), (0.5,))[0])


@pytest.mark.slow
def test_eight_in_ten_of_what_happens_lies_in_a_band_of_eight_in_ten() -> None:
    """200 invented truths, two readings each: the band of a third quantity holds 70 to 90 %.

    The truths are drawn from what is known before, so this checks the weighing, not the model.
    """
    generator = np.random.default_rng(7)
    first = drawing(bent, 8192)(None)
    noise = np.diag([0.05**2, 0.06**2])
    target = first.normals[:, 0] + 0.5 * first.normals[:, 1] ** 2
    pool = Pool(drawn=first, log_prior=np.zeros(first.normals.shape[0]))
    inside = 0
    for truth in generator.normal(size=(200, 4)):
        read = bent(truth[None])[0] + generator.multivariate_normal(np.zeros(2), noise)
        evidence = Evidence(value=read, noise=noise)
        weights = pool.weights(evidence, np.ones(2, dtype=bool))
        low, high = quantiles(target, weights, (0.1, 0.9))
        inside += low <= truth[0] + 0.5 * truth[1] ** 2 <= high
    assert 140 <= inside <= 180

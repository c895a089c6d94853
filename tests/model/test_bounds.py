"""Chances that bounds hold, against scipy's; plain readings in their place against integrals."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import multivariate_normal, norm, truncnorm

from foamwright.model.bounds import log_chance_below, reading_like


def shared(own: list[float], common: float) -> np.ndarray:
    """Return a covariance of errors that share one of so many sigma."""
    found: np.ndarray = np.diag(np.square(own)) + common**2
    return found


def test_one_bound_is_the_cumulative_normal() -> None:
    """Against scipy's, far into both tails."""
    room = np.array([[-0.6], [-0.05], [0.0], [0.05], [0.6]])
    found = log_chance_below(room, np.array([[0.04**2]]))
    assert found == pytest.approx(norm.logcdf(room[:, 0] / 0.04))


@pytest.mark.parametrize("own", [[0.05, 0.05], [0.04, 0.08, 0.06], [0.03] * 5])
def test_several_bounds_share_what_the_model_misses(own: list[float]) -> None:
    """Against scipy's joint normal, which integrates by a lattice: within 0.002 of a chance."""
    covariance = shared(own, 0.03)
    rooms = np.random.default_rng(1).normal(0.0, 0.07, size=(12, len(own)))
    found = np.exp(log_chance_below(rooms, covariance))
    theirs = [multivariate_normal(np.zeros(len(own)), covariance).cdf(room) for room in rooms]
    assert found == pytest.approx(theirs, abs=2e-3)


def test_a_hundred_bounds_are_not_a_hundred_proofs() -> None:
    """At the bound itself, half of one remains; a hundred apart would leave nothing at all."""
    many = log_chance_below(np.zeros((1, 100)), shared([0.001] * 100, 0.03))
    assert np.exp(many[0]) > 0.3
    assert 100.0 * np.log(0.5) < -69.0


@given(
    st.lists(st.floats(-0.5, 0.5), min_size=1, max_size=4),
    st.floats(0.0, 0.3),
    st.floats(0.0, 0.1),
)
def test_more_room_is_never_less_likely(room: list[float], more: float, common: float) -> None:
    """A sample that stalls slower is never punished for a plane that was flown slowly."""
    covariance = shared([0.05] * len(room), common)
    rooms = np.array([room, [one + more for one in room]])
    tight, wide = log_chance_below(rooms, covariance)
    assert wide >= tight - 1e-12
    assert wide <= 1e-12


@pytest.mark.parametrize("bound", [-2.0, 0.1, 0.9, 2.5])
def test_a_reading_in_the_place_of_a_bound_leaves_the_same_moments(bound: float) -> None:
    """Mean and variance of a normal cut off, against scipy's truncated normal."""
    middle, spread = 0.4, 0.8
    like = reading_like(middle, spread, bound)
    assert like is not None
    value, variance = like
    share = spread**2 / (spread**2 + variance)
    cut = truncnorm(-np.inf, (bound - middle) / spread, loc=middle, scale=spread)
    assert middle + share * (value - middle) == pytest.approx(cut.mean(), abs=1e-9)
    assert spread**2 * (1.0 - share) == pytest.approx(cut.var(), rel=1e-6)
    whole = quad(lambda x: x * norm.pdf(x, middle, spread), -12.0, bound)[0]
    assert cut.mean() == pytest.approx(whole / norm.cdf(bound, middle, spread), abs=1e-6)


def test_a_bound_far_above_stands_for_nothing() -> None:
    """It cuts nothing off."""
    assert reading_like(2.0, 0.1, 4.0) is None

"""Explanations weighed by Bayes' rule."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from foamwright.model.evidence import Observation
from foamwright.model.explanations import (
    Explanation,
    Seen,
    evenly,
    foretold,
    log_chance,
    misfit,
    ranked,
    seen_of,
    times,
)
from foamwright.physics.arrays import Grid

DRAWS = np.random.default_rng(7).standard_normal(4_000)


def told(middle: float, spread: float) -> Grid:
    """Return what an explanation foretells."""
    return (middle + spread * DRAWS)[:, None]


def seen(value: float, spread: float = 0.1) -> Seen:
    """Return one reading on an even scale."""
    return Seen(
        names=("place",),
        value=np.array([value]),
        noise=np.array([[spread**2]]),
        logs=(False,),
    )


def one(name: str, often: float, told: Grid) -> Explanation:
    """Return an explanation."""
    return Explanation(name=name, often=often, told=told, check="look")


def test_the_likelihood_is_that_of_a_normal() -> None:
    """Against the general-purpose statistics library, up to its constant."""
    found = [log_chance(told(1.0, 0.5), seen(value)) for value in (0.0, 1.0, 3.0)]
    wanted = stats.norm(1.0, math.hypot(0.5, 0.1)).logpdf([0.0, 1.0, 3.0])
    assert np.diff(found) == pytest.approx(np.diff(wanted), rel=0.05)


def test_two_readings_at_once_are_a_joint_normal() -> None:
    """Against the same library: what runs together in the samples does so in the likelihood."""
    table = np.stack([DRAWS, 0.8 * DRAWS + 0.6 * np.roll(DRAWS, 1)], axis=1)
    noise = np.diag([0.01, 0.04])

    def joint(value: tuple[float, float]) -> Seen:
        return Seen(names=("a", "b"), value=np.array(value), noise=noise, logs=(False, False))

    normal = stats.multivariate_normal(table.mean(axis=0), np.cov(table, rowvar=False) + noise)
    places = ((0.0, 0.0), (1.0, 1.0), (1.0, -1.0))
    found = np.array([log_chance(table, joint(place)) for place in places])
    wanted = np.array([normal.logpdf(place) for place in places])
    assert np.diff(found) == pytest.approx(np.diff(wanted), rel=1e-6)
    assert found[1] > found[2]


def test_chances_follow_bayes_rule_and_sum_to_one() -> None:
    """Half way between two alike: how often each happens decides."""
    found = ranked([one("a", 0.9, told(-1.0, 0.3)), one("b", 0.1, told(1.0, 0.3))], seen(0.0))
    assert [suspect.name for suspect in found] == ["a", "b"]
    assert sum(suspect.probability for suspect in found) == pytest.approx(1.0)
    assert found[1].probability == pytest.approx(0.1, abs=0.02)


@given(
    value=st.floats(-1e6, 1e6),
    often=st.lists(st.floats(1e-6, 1.0), min_size=1, max_size=8),
)
def test_chances_always_sum_to_one(value: float, often: list[float]) -> None:
    """However far from all of them the reading lies."""
    known = [one(str(i), share, told(float(i), 0.5)) for i, share in enumerate(often)]
    found = ranked(known, seen(value))
    assert sum(suspect.probability for suspect in found) == pytest.approx(1.0)
    chances = [suspect.probability for suspect in found]
    assert chances == sorted(chances, reverse=True)


def test_what_cannot_be_at_all_gets_no_chance() -> None:
    """Samples that hardly exist foretell nothing; what never happens is left out."""
    nothing = np.full((100, 1), np.nan)
    middle, _ = foretold(nothing, seen(0.0))
    assert np.isnan(middle).all()
    found = ranked(
        [one("a", 0.5, told(0.0, 1.0)), one("b", 0.5, nothing), one("c", 0.0, told(0.0, 1.0))],
        seen(0.0),
    )
    assert [(suspect.name, suspect.probability) for suspect in found] == [("a", 1.0), ("b", 0.0)]


def test_a_misfit_tells_what_would_be_read() -> None:
    """Eight in ten about the middle: 1.2816 deviations to either side (any table of the normal)."""
    name, band = misfit(told(10.0, 1.0), seen(20.0, 0.0))
    assert name == "place"
    assert band == pytest.approx((10.0 - 1.2816, 10.0 + 1.2816), abs=0.03)
    assert misfit(told(10.0, 1.0), seen(11.0)) == ("", None)


def test_a_rare_thing_is_not_told_as_ruled_out() -> None:
    """Thirty parts that did not move are no news."""
    found = ranked(
        [one("usual", 0.9, told(0.0, 0.1)), one("rare", 1e-3, told(9.0, 0.1))], seen(9.0)
    )
    assert {suspect.name: suspect.against for suspect in found} == {"usual": "place", "rare": ""}


@pytest.mark.parametrize("value", [-0.2, 0.02, 0.5, 2.0, 6.0])
def test_an_even_error_of_a_log_normal_quantity(value: float) -> None:
    """Against plain counting of a million draws: a reading near nothing is no share of itself."""
    middle, deviation, spread = math.log(2.0), 0.5, 0.3
    even = Seen(
        names=("twist",),
        value=np.array([value]),
        noise=np.zeros((1, 1)),
        logs=(True,),
        even=spread,
    )
    truth = np.exp(middle + deviation * np.random.default_rng(3).standard_normal(1_000_000))
    counted = np.mean(np.exp(-0.5 * ((value - truth) / spread) ** 2)) / spread
    assert evenly(middle, deviation, even) == pytest.approx(math.log(counted), abs=0.05)
    assert log_chance(told(middle, deviation), even) == pytest.approx(math.log(counted), abs=0.1)


def test_an_even_error_without_a_spread_is_a_normal() -> None:
    """Nothing to sum over."""
    even = Seen(names=("twist",), value=np.ones(1), noise=np.zeros((1, 1)), logs=(True,), even=0.5)
    assert evenly(math.log(2.0), 0.0, even) == pytest.approx(-0.5 * 4.0 - math.log(0.5))


def test_observations_come_on_the_scale_they_are_compared_on() -> None:
    """Masses by their logarithm, places as they are; what the model misses is added."""
    found = seen_of(
        (
            Observation(name="balance_place", value=0.25, spread=2e-3),
            Observation(name="all_up_mass", value=0.25, spread=1e-3),
        )
    )
    assert found.value == pytest.approx([0.25, math.log(0.25)])
    assert found.logs == (False, True)
    assert math.sqrt(found.noise[0, 0]) == pytest.approx(math.hypot(2e-3, 1e-3))


def test_a_change_is_told_in_spreads() -> None:
    """Either way."""
    assert times(-6.0, 2.0) == 3.0
    assert times(1.0, 0.0) > 1e6


def test_chances_hold_what_they_say() -> None:
    """Of all explanations given about so much chance, about so many were the true one.

    Readings made by explanations drawn as often as they happen, two of which foretell
    nothing like a normal.
    """
    rng = np.random.default_rng(11)
    size = 400
    known = [
        one("as planned", 0.60, 0.4 * rng.standard_normal((size, 1))),
        one("heavier", 0.20, np.abs(rng.standard_normal((size, 1))) * 1.5),
        one("anywhere", 0.12, rng.uniform(-3.0, 3.0, (size, 1))),
        one("moved", 0.08, 1.5 + 0.3 * rng.standard_normal((size, 1))),
    ]
    said, true = [], []
    for _ in range(1500):
        which = int(rng.choice(len(known), p=[entry.often for entry in known]))
        made = known[which].told[int(rng.integers(len(known[which].told))), 0]
        for suspect in ranked(known, seen(float(made + 0.1 * rng.standard_normal()))):
            said.append(suspect.probability)
            true.append(suspect.name == known[which].name)
    chances, held = np.array(said), np.array(true)
    for low, high in ((0.0, 0.1), (0.1, 0.3), (0.3, 0.6), (0.6, 0.85), (0.85, 1.01)):
        here = (chances >= low) & (chances < high)
        assert np.count_nonzero(here) > 80
        assert held[here].mean() == pytest.approx(chances[here].mean(), abs=0.08), (low, high)

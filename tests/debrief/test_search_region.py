"""Areas, their edges, and the way to walk them."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.debrief.search_region import (
    Density,
    densest,
    density_of,
    level_of,
    ordered,
    region_of,
    walk,
)


def cloud(sigma: float = 30.0, count: int = 4000, seed: int = 1) -> tuple[np.ndarray, np.ndarray]:
    """Return places that scatter as a normal does around 100 m north, 50 m west."""
    draw = np.random.default_rng(seed)
    return 100.0 + sigma * draw.normal(size=count), -50.0 + sigma * draw.normal(size=count)


def test_the_areas_of_a_normal_are_those_of_its_circles() -> None:
    """The smallest area that holds a share p of a round normal is 2 pi sigma^2 ln(1 / (1 - p)):
    analytic, own derivation; smoothing widens it a little."""
    north, east = cloud()
    density = density_of(north, east)
    for share in (0.5, 0.9):
        region = region_of(density, level_of(density, north, east, share), share)
        exact = 2.0 * np.pi * 30.0**2 * np.log(1.0 / (1.0 - share))
        assert region.size == pytest.approx(exact, rel=0.1)
        assert len(region.shape.geoms) == 1
    assert densest(density) == pytest.approx((100.0, -50.0), abs=12.0)


def test_the_areas_hold_their_share_of_new_places() -> None:
    """Of places the density has not seen."""
    north, east = cloud()
    density = density_of(north, east)
    fresh = cloud(seed=2)
    for share in (0.5, 0.9):
        region = region_of(density, level_of(density, north, east, share), share)
        held = np.mean([region.holds(n, e) for n, e in zip(*fresh, strict=True)])
        assert held == pytest.approx(share, abs=0.03)


@settings(deadline=None, max_examples=15)
@given(seed=st.integers(0, 10_000), stretch=st.floats(0.2, 5.0))
def test_the_density_is_a_share_of_everything(seed: int, stretch: float) -> None:
    """It sums to nearly one, is never negative, and the half lies in the nine tenths."""
    north, east = cloud(count=800, seed=seed)
    east = east * stretch
    density = density_of(north, east)
    cell = (density.north[1] - density.north[0]) * (density.east[1] - density.east[0])
    assert 0.9 < float(density.value.sum()) * cell < 1.02
    assert density.value.min() >= 0.0
    inner, outer = (
        region_of(density, level_of(density, north, east, share), share) for share in (0.5, 0.9)
    )
    assert inner.size < outer.size
    assert outer.shape.buffer(2.0).covers(inner.shape)


def test_two_heaps_are_two_areas_and_a_ring_has_a_hole() -> None:
    """Boundaries are those of the places, not their hull."""
    draw = np.random.default_rng(3)
    side = np.where(draw.random(4000) < 0.5, -200.0, 200.0)
    heaps = draw.normal(size=4000) * 10.0, side + draw.normal(size=4000) * 10.0
    density = density_of(*heaps)
    region = region_of(density, level_of(density, *heaps, 0.9), 0.9)
    assert len(region.shape.geoms) == 2
    angle = draw.uniform(0.0, 2.0 * np.pi, 4000)
    away = 150.0 + 8.0 * draw.normal(size=4000)
    ring = away * np.cos(angle), away * np.sin(angle)
    density = density_of(*ring)
    region = region_of(density, level_of(density, *ring, 0.9), 0.9)
    assert sum(len(part.interiors) for part in region.shape.geoms) >= 1
    assert not region.holds(0.0, 0.0)


def test_a_saddle_is_cut_as_its_middle_says() -> None:
    """Two high corners across a cell hang together where the middle is high."""
    axis = np.arange(4.0)
    value = np.zeros((4, 4))
    value[1, 1] = value[2, 2] = 1.0
    apart, joined = (
        region_of(Density(north=axis, east=axis, value=value), level, 0.5) for level in (0.6, 0.4)
    )
    assert len(apart.shape.geoms) == 2
    assert len(joined.shape.geoms) == 1


def test_the_density_between_nodes_is_linear_and_nothing_beyond() -> None:
    """Half way is the mean."""
    axis = np.arange(3.0)
    density = Density(north=axis, east=axis, value=np.outer([0.0, 1.0, 2.0], np.ones(3)))
    found = density.at(np.array([0.5, 1.25, 9.0]), np.array([1.0, 0.3, 1.0]))
    assert found == pytest.approx([0.5, 1.25, 0.0])


def test_the_walk_begins_at_the_likely_place_and_ends_outside() -> None:
    """Every stop once, the inner area first, none outside the areas."""
    north, east = cloud(sigma=60.0)
    density = density_of(north, east)
    inner, outer = (
        region_of(density, level_of(density, north, east, share), share) for share in (0.5, 0.9)
    )
    stops = walk(density, densest(density), inner, outer)
    assert stops[0] == densest(density)
    assert len(set(stops)) == len(stops)
    assert 20 < len(stops) < 70
    held = [inner.holds(*stop) for stop in stops]
    assert held == sorted(held, reverse=True)
    assert all(outer.holds(*stop) for stop in stops)


def test_the_nearer_of_two_equal_places_is_first() -> None:
    """And of two equally near ones the likelier."""
    axis = np.linspace(-50.0, 50.0, 11)
    flat = Density(north=axis, east=axis, value=np.ones((11, 11)))
    assert ordered(flat, (0.0, 0.0), [(40.0, 0.0), (10.0, 0.0)])[0] == (10.0, 0.0)
    likelier = Density(
        north=axis, east=axis, value=np.outer(np.linspace(0.0, 1.0, 11), np.ones(11))
    )
    assert ordered(likelier, (0.0, 0.0), [(-20.0, 0.0), (20.0, 0.0)])[0] == (20.0, 0.0)
    assert ordered(flat, (0.0, 0.0), []) == []

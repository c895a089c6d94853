"""The solver's placing."""

import itertools

import numpy as np
import pytest

from foamwright.search.exact_placing import available, exact
from foamwright.search.placing import (
    Movable,
    Option,
    PlacingProblem,
    Tie,
    collisions,
    cost_of,
    is_free,
)


def problem(seed: int, *, crowded: bool = False) -> PlacingProblem:
    """Return a random problem of four parts with six places each."""
    dice = np.random.default_rng(seed)
    parts = []
    for index in range(4):
        places = [0.1] if crowded else sorted(dice.uniform(0.0, 0.4, 6))
        parts.append(
            Movable(
                name=f"part {index}",
                kind="other",
                mass=float(dice.uniform(0.005, 0.04)),
                options=tuple(
                    Option(
                        keys={},
                        x=float(x),
                        words="",
                        low=np.array([[x - 0.015, -0.01, -0.01]]),
                        high=np.array([[x + 0.015, 0.01, 0.01]]),
                        moved=abs(float(x) - float(places[0])),
                    )
                    for x in places
                ),
            )
        )
    rows = [
        np.array([a, i, b, j])
        for a, b in itertools.combinations(range(4), 2)
        for i, j in np.argwhere(collisions(parts[a], parts[b]))
    ]
    return PlacingProblem(
        parts=tuple(parts),
        fixed_moment=0.03,
        all_up=0.25,
        aim=0.2,
        nose=0.0,
        tail=0.5,
        forbidden=np.array(rows, dtype=int).reshape(-1, 4),
        unkept=np.array([[0, 0, 1, 1], [2, 1, 3, 2]] if not crowded else [[0, 0, 1, 0]]),
        alone=tuple(dice.integers(0, 2, len(p.options)).astype(float) for p in parts),
        ties=(Tie(first=0, second=1, place=0.0), Tie(first=2, second=None, place=0.2)),
    )


@pytest.mark.parametrize("seed", range(6))
def test_it_finds_the_best_of_all_choices(seed: int) -> None:
    """Against trying every one of them; costs are counted in tenths."""
    asked = problem(seed)
    ranges = [range(len(p.options)) for p in asked.parts]
    costs = [cost_of(asked, c).total for c in itertools.product(*ranges) if is_free(asked, c)]
    found = exact(asked, seconds=20.0)
    assert found.proven
    assert found.choice is not None
    assert is_free(asked, found.choice)
    assert cost_of(asked, found.choice).total == pytest.approx(min(costs), abs=0.6)


def test_a_crowd_has_no_placing() -> None:
    """Proven, not just not found."""
    found = exact(problem(1, crowded=True), seconds=20.0)
    assert found.choice is None
    assert found.proven


def test_the_solver_is_there_for_tests() -> None:
    """The extra is part of what tests install."""
    assert available()

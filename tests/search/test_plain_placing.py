"""The plain search."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.search.placing import (
    Movable,
    Option,
    PlacingProblem,
    Tie,
    collisions,
    cost_of,
    is_free,
)
from foamwright.search.plain_placing import first_free, plain


def part(index: int, places: list[float], mass: float) -> Movable:
    """Return a part 20 mm long that can sit at some places along a line."""
    return Movable(
        name=f"part {index}",
        kind="other",
        mass=mass,
        options=tuple(
            Option(
                keys={},
                x=x,
                words="",
                low=np.array([[x - 0.01, -0.01, -0.01]]),
                high=np.array([[x + 0.01, 0.01, 0.01]]),
                moved=abs(x - places[0]),
            )
            for x in places
        ),
    )


@st.composite
def problems(draw: st.DrawFn) -> PlacingProblem:
    """Return problems of two to four parts with up to five places each."""
    count = draw(st.integers(2, 4))
    places = st.lists(st.floats(0.0, 0.4), min_size=1, max_size=5, unique=True)
    parts = tuple(part(i, draw(places), draw(st.floats(0.002, 0.05))) for i in range(count))
    rows = [
        np.array([a, i, b, j])
        for a, b in itertools.combinations(range(count), 2)
        for i, j in np.argwhere(collisions(parts[a], parts[b]))
    ]
    return PlacingProblem(
        parts=parts,
        fixed_moment=0.02,
        all_up=0.25,
        aim=draw(st.floats(0.1, 0.3)),
        nose=0.0,
        tail=0.5,
        forbidden=np.array(rows, dtype=int).reshape(-1, 4),
        unkept=np.array([[0, 0, 1, 0]]),
        alone=tuple(np.zeros(len(p.options)) for p in parts),
        ties=(Tie(first=0, second=1, place=0.0), Tie(first=1, second=None, place=0.2)),
    )


def all_choices(problem: PlacingProblem) -> list[tuple[int, ...]]:
    """Return every free choice."""
    ranges = [range(len(p.options)) for p in problem.parts]
    return [choice for choice in itertools.product(*ranges) if is_free(problem, choice)]


@settings(deadline=None)
@given(problems())
def test_what_it_returns_is_free_and_good(problem: PlacingProblem) -> None:
    """No two parts overlap; moving any one part, or any two, makes it no cheaper."""
    free = all_choices(problem)
    found = plain(problem)
    assert (found is None) == (not free)
    if found is None:
        return
    assert is_free(problem, found)
    cost = cost_of(problem, found).total
    for other in free:
        changed = sum(a != b for a, b in zip(found, other, strict=True))
        if changed <= 2:
            assert cost_of(problem, other).total >= cost - 1e-6


@settings(deadline=None)
@given(problems())
def test_the_first_free_choice_is_found_where_there_is_one(problem: PlacingProblem) -> None:
    """Backtracking misses nothing."""
    found = first_free(problem)
    assert (found is None) == (not all_choices(problem))
    assert found is None or is_free(problem, found)


def test_the_same_problem_gives_the_same_answer() -> None:
    """Nothing random is in it."""
    parts = tuple(part(i, [0.05 * i, 0.3, 0.35], 0.02) for i in range(4))
    problem = PlacingProblem(
        parts=parts,
        fixed_moment=0.02,
        all_up=0.2,
        aim=0.2,
        nose=0.0,
        tail=0.5,
        forbidden=np.zeros((0, 4), dtype=int),
        unkept=np.zeros((0, 4), dtype=int),
        alone=tuple(np.zeros(3) for _ in parts),
        ties=(),
    )
    assert plain(problem) == plain(problem)
    assert cost_of(problem, plain(problem) or ()).centre == pytest.approx(0.2, abs=0.02)

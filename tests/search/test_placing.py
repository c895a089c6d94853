"""What a placing costs."""

import numpy as np
import pytest

from foamwright.search.placing import (
    Movable,
    Option,
    PlacingProblem,
    Tie,
    ballast_for,
    collisions,
    cost_of,
    is_free,
)

NONE = np.zeros((0, 4), dtype=int)


def part(name: str, places: list[float], mass: float = 0.02, wide: float = 0.02) -> Movable:
    """Return a part that can sit at some places along a line; the first is the drawn one."""
    return Movable(
        name=name,
        kind="other",
        mass=mass,
        options=tuple(
            Option(
                keys={f"items.{name}.at.x": f"{x} m"},
                x=x,
                words=f"to {x}",
                low=np.array([[x - wide / 2, -0.01, -0.01]]),
                high=np.array([[x + wide / 2, 0.01, 0.01]]),
                moved=abs(x - places[0]),
            )
            for x in places
        ),
    )


def problem(*parts: Movable, ties: tuple[Tie, ...] = (), aim: float = 0.2) -> PlacingProblem:
    """Return a problem of parts on a plane of 100 g that otherwise balances at 200 mm."""
    rows = [
        np.array([a, i, b, j])
        for a in range(len(parts))
        for b in range(a + 1, len(parts))
        for i, j in np.argwhere(collisions(parts[a], parts[b]))
    ]
    others = 0.1 - sum(p.mass for p in parts)
    return PlacingProblem(
        parts=parts,
        fixed_moment=others * 0.2,
        all_up=0.1,
        aim=aim,
        nose=0.0,
        tail=0.5,
        forbidden=np.array(rows, dtype=int).reshape(-1, 4),
        unkept=NONE,
        alone=tuple(np.zeros(len(p.options)) for p in parts),
        ties=ties,
    )


def test_the_centre_follows_the_parts() -> None:
    """20 g of 100 moved by 50 mm shift it by 10."""
    found = problem(part("pack", [0.2, 0.15]))
    assert cost_of(found, (0,)).centre == pytest.approx(0.2)
    assert cost_of(found, (1,)).centre == pytest.approx(0.19)
    assert cost_of(found, (1,)).moved == pytest.approx(0.05)


def test_ballast_sits_at_the_end_that_helps() -> None:
    """1 g m too far aft is 5 g at the nose; as much too far forward 3.3 g at the tail."""
    found = problem(part("pack", [0.2]))
    assert ballast_for(found, 0.21) == pytest.approx(0.1 * 0.01 / 0.2)
    assert ballast_for(found, 0.19) == pytest.approx(0.1 * 0.01 / 0.3)


def test_overlapping_options_are_forbidden() -> None:
    """Two parts 20 mm long need 20 mm between their middles."""
    found = problem(part("a", [0.1, 0.2]), part("b", [0.115, 0.13]))
    assert not is_free(found, (0, 0))
    assert is_free(found, (0, 1))
    assert is_free(found, (1, 0))


def test_wire_is_the_way_along_the_plane() -> None:
    """Between two parts, and to a place that stays."""
    ties = (Tie(first=0, second=1, place=0.0), Tie(first=1, second=None, place=0.35))
    found = problem(part("a", [0.1]), part("b", [0.3]), ties=ties)
    assert cost_of(found, (0, 0)).wire == pytest.approx(0.25)


def test_thin_skin_costs() -> None:
    """A place with skin to spare is preferred to one that only just has it."""
    option = part("a", [0.1]).options[0]
    thin = Option(
        keys=option.keys,
        x=option.x,
        words=option.words,
        low=option.low,
        high=option.high,
        moved=0.0,
        thin=1e-3,
    )
    assert thin.own_cost > option.own_cost

"""Places for the gear: the problem as plain numbers, and what a placing costs.

Each movable part has options, every one of which keeps its own skin; pairs of options that would
put two parts into each other are forbidden. What is left is a choice of one option a part that
costs least: ballast first, then balance off the aim, spacing rules not kept, wire, moves.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Grid

BALLAST, OFF_AIM, SPACING, THIN, WIRE, MOVED = 60.0, 12.0, 40.0, 30.0, 0.3, 0.1
"""What a gram of ballast costs, a millimetre of balance off the aim, a spacing rule not kept, a
millimetre of skin less than is comfortable, a millimetre of wire and one of moving: our own
weights, so that ballast is the last resort.
"""


@dataclass(frozen=True, kw_only=True, slots=True)
class Option:
    """One place for one part."""

    keys: Mapping[str, object]
    """The keys of the plane file that put it there."""
    x: float
    """Of its middle [m]."""
    words: str
    """The place in words."""
    low: Grid
    """Least x, y, z of what it takes up, a row a piece (k, 3) [m]."""
    high: Grid
    """Greatest x, y, z (k, 3) [m]."""
    moved: float
    """How far from where it is drawn [m]."""
    thin: float = 0.0
    """What its skin lacks to be comfortable: the least, and room for the knife to slip [m]."""

    @property
    def own_cost(self) -> float:
        """What it costs whatever the others do."""
        return MOVED * self.moved * 1e3 + THIN * self.thin * 1e3


@dataclass(frozen=True, kw_only=True, slots=True)
class Movable:
    """A part that may be placed."""

    name: str
    """The item."""
    kind: str
    """What it is."""
    mass: float
    """All its pieces [kg]."""
    options: tuple[Option, ...]
    """Places that keep its skin; the drawn one first, if it does."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Tie:
    """Two parts joined by a wire, or one part and a fixed place."""

    first: int
    """Index of a movable part."""
    second: int | None
    """Index of another; none where that end is fixed."""
    place: float
    """x of the fixed end [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlacingProblem:
    """What is to be decided."""

    parts: tuple[Movable, ...]
    """What may move."""
    fixed_moment: float
    """Mass times x of everything else [kg m]."""
    all_up: float
    """Mass of the whole plane [kg]."""
    aim: float
    """Balance wanted [m]."""
    nose: float
    """Where ballast can sit ahead [m]."""
    tail: float
    """Where ballast can sit behind [m]."""
    forbidden: Grid
    """Pairs of options that cannot both be, as rows (part, option, part, option) (f, 4)."""
    unkept: Grid
    """Pairs of options that break a spacing rule, likewise (u, 4)."""
    alone: tuple[Grid, ...]
    """How many spacing rules against fixed parts each option breaks, an array a part."""
    ties: tuple[Tie, ...]
    """Wires."""


Choice = tuple[int, ...]
"""Which option each part takes."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PlacingCost:
    """What a placing costs."""

    centre: float
    """Centre of gravity [m]."""
    ballast: float
    """Ballast that brings it to the aim [kg]."""
    wire: float
    """Wire along the plane [m]."""
    unkept: int
    """Spacing rules not kept."""
    moved: float
    """How far the parts were moved, all together [m]."""
    total: float
    """The sum that is made small."""


def ballast_for(problem: PlacingProblem, centre: float) -> float:
    """Return the mass at nose or tail that brings a centre to the aim [kg]."""
    end = problem.nose if centre > problem.aim else problem.tail
    return problem.all_up * abs(centre - problem.aim) / max(abs(problem.aim - end), 1e-3)


def cost_of(problem: PlacingProblem, choice: Choice) -> PlacingCost:
    """Return what a placing costs."""
    chosen = [part.options[index] for part, index in zip(problem.parts, choice, strict=True)]
    moment = problem.fixed_moment + sum(
        part.mass * option.x for part, option in zip(problem.parts, chosen, strict=True)
    )
    centre = moment / problem.all_up
    wire = sum(
        abs(chosen[t.first].x - (t.place if t.second is None else chosen[t.second].x))
        for t in problem.ties
    )
    unkept = pairs_held(problem.unkept, choice)
    unkept += int(sum(alone[index] for alone, index in zip(problem.alone, choice, strict=True)))
    moved = sum(option.moved for option in chosen)
    ballast = ballast_for(problem, centre)
    total = (
        BALLAST * ballast * 1e3
        + OFF_AIM * abs(centre - problem.aim) * 1e3
        + SPACING * unkept
        + WIRE * wire * 1e3
        + sum(option.own_cost for option in chosen)
    )
    return PlacingCost(
        centre=centre, ballast=ballast, wire=wire, unkept=unkept, moved=moved, total=total
    )


def pairs_held(pairs: Grid, choice: Choice) -> int:
    """Return how many of some pairs of options a choice holds."""
    if not len(pairs):
        return 0
    taken = np.array(choice)
    held = (taken[pairs[:, 0]] == pairs[:, 1]) & (taken[pairs[:, 2]] == pairs[:, 3])
    return int(held.sum())


def is_free(problem: PlacingProblem, choice: Choice) -> bool:
    """Return whether no two parts are in each other's place."""
    return pairs_held(problem.forbidden, choice) == 0


def collisions(first: Movable, second: Movable) -> Grid:
    """Return which options of two parts overlap (a, b), as flags."""
    lows = [np.stack([o.low for o in part.options]) for part in (first, second)]
    highs = [np.stack([o.high for o in part.options]) for part in (first, second)]
    apart = np.maximum(
        lows[0][:, None, :, None] - highs[1][None, :, None, :],
        lows[1][None, :, None, :] - highs[0][:, None, :, None],
    )
    found: Grid = (apart.max(axis=-1) < 0.0).any(axis=(2, 3))
    return found

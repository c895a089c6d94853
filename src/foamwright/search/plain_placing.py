"""Placing without a solver: a plain search, the same every time, that proves nothing.

From the first free placing, parts are moved one by one and then two at a time, each to where it
costs least while the others stay, until nothing gets better.
"""

from itertools import combinations

import numpy as np

from foamwright.physics.arrays import Flags, Grid
from foamwright.search.placing import (
    BALLAST,
    OFF_AIM,
    SPACING,
    WIRE,
    Choice,
    PlacingProblem,
    cost_of,
    is_free,
)

ROUNDS = 8
"""Most rounds of moving parts one by one, and in pairs."""


def tables(pairs: Grid, problem: PlacingProblem) -> dict[tuple[int, int], Flags]:
    """Return pairs of options as a flag for each option of two parts, both ways round."""
    found: dict[tuple[int, int], Flags] = {}
    for a, i, b, j in pairs.tolist():
        for one, first, other, second in ((a, i, b, j), (b, j, a, i)):
            shape = (len(problem.parts[one].options), len(problem.parts[other].options))
            found.setdefault((one, other), np.zeros(shape, dtype=bool))[first, second] = True
    return found


class _Search:
    """The problem as arrays, so that all options of one or two parts are tried at once."""

    def __init__(self, problem: PlacingProblem) -> None:
        """Lay out places, costs and pairs."""
        self.problem = problem
        self.x = [np.array([o.x for o in part.options]) for part in problem.parts]
        self.own = [
            np.array([o.own_cost for o in part.options]) + SPACING * alone
            for part, alone in zip(problem.parts, problem.alone, strict=True)
        ]
        self.clash = tables(problem.forbidden, problem)
        self.unkept = tables(problem.unkept, problem)

    def costs(self, choice: Choice, movers: tuple[int, ...]) -> Grid:
        """Return the cost of each option of one or two movers, infinite where it is taken.

        The costs that no mover changes are left out.
        """
        problem, shape = self.problem, tuple(len(self.x[m]) for m in movers)
        along = [
            np.expand_dims(self.x[m], tuple(k for k in range(len(movers)) if k != axis))
            for axis, m in enumerate(movers)
        ]
        stays = {i: o for i, o in enumerate(choice) if i not in movers}
        moment = problem.fixed_moment + sum(
            problem.parts[i].mass * self.x[i][o] for i, o in stays.items()
        )
        whole = np.zeros(shape) + moment
        total = np.zeros(shape)
        for axis, mover in enumerate(movers):
            whole = whole + problem.parts[mover].mass * along[axis]
            own = self.own[mover] + self.against(mover, stays)
            total = total + np.expand_dims(own, tuple(k for k in range(len(movers)) if k != axis))
        if len(movers) == 2:
            total = total + self.between(movers[0], movers[1], shape)
        off = whole / problem.all_up - problem.aim
        lever = np.where(
            off > 0.0, abs(problem.aim - problem.nose), abs(problem.aim - problem.tail)
        )
        ballast = problem.all_up * np.abs(off) / np.maximum(lever, 1e-3)
        total = total + BALLAST * 1e3 * ballast + OFF_AIM * 1e3 * np.abs(off)
        found: Grid = total + self.wires(movers, along, stays)
        return found

    def against(self, mover: int, stays: dict[int, int]) -> Grid:
        """Return what each option of a mover costs against the parts that stay."""
        cost = np.zeros(len(self.x[mover]))
        for other, option in stays.items():
            if (mover, other) in self.clash:
                cost = np.where(self.clash[mover, other][:, option], np.inf, cost)
            if (mover, other) in self.unkept:
                cost = cost + SPACING * self.unkept[mover, other][:, option]
        return cost

    def between(self, first: int, second: int, shape: tuple[int, ...]) -> Grid:
        """Return what each pair of options of two movers costs."""
        cost = np.zeros(shape)
        if (first, second) in self.clash:
            cost = np.where(self.clash[first, second], np.inf, cost)
        if (first, second) in self.unkept:
            cost = cost + SPACING * self.unkept[first, second]
        return cost

    def wires(self, movers: tuple[int, ...], along: list[Grid], stays: dict[int, int]) -> Grid:
        """Return what the wires at the movers cost."""
        cost = np.zeros(())
        for tie in self.problem.ties:
            ends = [
                along[movers.index(end)] if end in movers else self.x[end][stays[end]]
                for end in (tie.first, tie.second)
                if end is not None
            ]
            if tie.first in movers or tie.second in movers:
                far = ends[1] if len(ends) == 2 else tie.place
                cost = cost + WIRE * 1e3 * np.abs(ends[0] - far)
        return cost

    def moved(self, choice: Choice, movers: tuple[int, ...]) -> Choice:
        """Return a choice with one or two parts where they cost least."""
        costs = self.costs(choice, movers)
        best = np.unravel_index(int(np.argmin(costs)), costs.shape)
        if costs[best] >= costs[tuple(choice[m] for m in movers)] - 1e-9:
            return choice
        found = list(choice)
        for mover, option in zip(movers, best, strict=True):
            found[mover] = int(option)
        return tuple(found)


def first_free(problem: PlacingProblem) -> Choice | None:
    """Return the first choice in which no two parts overlap, fewest options first."""
    order = sorted(range(len(problem.parts)), key=lambda i: len(problem.parts[i].options))
    clash = tables(problem.forbidden, problem)

    def placed(taken: dict[int, int]) -> dict[int, int] | None:
        if len(taken) == len(order):
            return taken
        part = order[len(taken)]
        free = np.ones(len(problem.parts[part].options), dtype=bool)
        for other, option in taken.items():
            if (part, other) in clash:
                free &= ~clash[part, other][:, option]
        for option in np.flatnonzero(free).tolist():
            found = placed({**taken, part: option})
            if found is not None:
                return found
        return None

    found = placed({})
    return None if found is None else tuple(found[i] for i in range(len(problem.parts)))


def plain(problem: PlacingProblem) -> Choice | None:
    """Return a good placing by moving parts one by one and in pairs; none where none is free."""
    drawn: Choice = tuple(0 for _ in problem.parts)
    choice = drawn if is_free(problem, drawn) else first_free(problem)
    if choice is None:
        return None
    search = _Search(problem)
    movers = [(i,) for i in range(len(problem.parts))]
    pairs = list(combinations(range(len(problem.parts)), 2))
    for _ in range(ROUNDS):
        before = cost_of(problem, choice).total
        for mover in movers:
            choice = search.moved(choice, mover)
        for pair in pairs:
            choice = search.moved(choice, pair)
        if cost_of(problem, choice).total >= before - 1e-9:
            break
    return choice

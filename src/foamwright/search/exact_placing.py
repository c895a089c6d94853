"""Placing by a constraint solver: the best there is, or how far from it."""

import importlib.util
from dataclasses import dataclass
from typing import Any

from foamwright.search.placing import (
    BALLAST,
    OFF_AIM,
    SPACING,
    WIRE,
    Choice,
    PlacingProblem,
    Tie,
)

TENTHS = 10_000
"""Lengths are whole tenths of a millimetre, since solvers count; moments go by milligrams."""

FARTHEST = 4 * TENTHS
"""No plane is longer than four metres."""

SCALE = 10
"""Costs are whole tenths: finer ones take the solver longer and no builder would see them."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Solved:
    """What the solver found."""

    choice: Choice | None
    """Which option each part takes; none where no placing is free."""
    proven: bool
    """Whether none is better."""


def available() -> bool:
    """Return whether the extra `placing` is installed."""
    return importlib.util.find_spec("ortools") is not None


class _Model:
    """The problem in the solver's words."""

    def __init__(self, problem: PlacingProblem) -> None:
        """Choose one option a part; forbid pairs."""
        from ortools.sat.python import cp_model  # noqa: PLC0415 - 1.4 s to import, an extra

        self.problem = problem
        self.model: Any = cp_model.CpModel()
        self.taken = [
            [self.model.new_bool_var(f"{i}.{j}") for j in range(len(part.options))]
            for i, part in enumerate(problem.parts)
        ]
        for options in self.taken:
            self.model.add_exactly_one(options)
        for a, i, b, j in problem.forbidden.tolist():
            self.model.add_bool_or([self.taken[a][i].negated(), self.taken[b][j].negated()])
        self.terms: list[Any] = []

    def place(self, part: int) -> Any:  # noqa: ANN401 - the solver's own expression
        """Return the place of a part [0.1 mm]."""
        options = self.problem.parts[part].options
        return sum(
            round(option.x * TENTHS) * taken
            for option, taken in zip(options, self.taken[part], strict=True)
        )

    def size(self, value: Any, most: int) -> Any:  # noqa: ANN401 - the solver's own expression
        """Return a variable for the size of a value, whatever its sign."""
        size = self.model.new_int_var(0, most, "")
        self.model.add_abs_equality(size, value)
        return size

    def balance(self) -> None:
        """Add what ballast and balance off the aim cost."""
        problem = self.problem
        weights = [round(part.mass * 1e6) for part in problem.parts]  # mg
        fixed = round((problem.fixed_moment - problem.all_up * problem.aim) * 1e6 * TENTHS)
        off = fixed + sum(
            weight * self.place(part) for part, weight in enumerate(weights) if weight
        )
        whole = round(problem.all_up * 1e6)
        most = whole * FARTHEST
        ahead = self.model.new_int_var(0, most, "")  # moment too far aft
        behind = self.model.new_int_var(0, most, "")
        self.model.add(ahead - behind == off)
        per_off = OFF_AIM * 1e3 / problem.all_up
        for moment, end in ((ahead, problem.nose), (behind, problem.tail)):
            lever = max(abs(problem.aim - end), 1e-3)
            per = BALLAST * 1e3 / lever + per_off  # cost for each kg m
            self.add(moment, per / (1e6 * TENTHS), most)

    def wires(self) -> None:
        """Add what wire costs."""
        for tie in self.problem.ties:
            self.add(self.length(tie), WIRE * 1e3 / TENTHS, FARTHEST)

    def length(self, tie: Tie) -> Any:  # noqa: ANN401 - the solver's own expression
        """Return the length of a wire [0.1 mm]."""
        other = round(tie.place * TENTHS) if tie.second is None else self.place(tie.second)
        return self.size(self.place(tie.first) - other, FARTHEST)

    def habits(self) -> None:
        """Add what broken spacing rules and moves cost."""
        for part, (movable, alone) in enumerate(
            zip(self.problem.parts, self.problem.alone, strict=True)
        ):
            for index, option in enumerate(movable.options):
                cost = SPACING * float(alone[index]) + option.own_cost
                if cost > 0.0:
                    self.add(self.taken[part][index], cost, 1)
        for a, i, b, j in self.problem.unkept.tolist():
            both = self.model.new_bool_var("")
            first, second = self.taken[a][i], self.taken[b][j]
            self.model.add_bool_or([first.negated(), second.negated(), both])
            self.add(both, SPACING, 1)

    def add(self, variable: Any, cost: float, most: int) -> None:  # noqa: ANN401 - its own
        """Add a cost for each unit of a variable that is `most` at most."""
        worth = cost * SCALE
        if worth >= 1.0:
            self.terms.append(round(worth) * variable)
            return
        # So small a cost for each unit is counted by the thousand, or by the million.
        step = round(1.0 / worth)
        coarse = self.model.new_int_var(0, most // step + 1, "")
        self.model.add(coarse * step >= variable)
        self.terms.append(coarse)

    def goal(self) -> None:
        """Make the sum of all costs small."""
        self.model.minimize(sum(self.terms))


def exact(problem: PlacingProblem, *, seconds: float = 2.0, hint: Choice | None = None) -> Solved:
    """Return the placing that costs least, as far as the solver comes in some seconds."""
    from ortools.sat.python import cp_model  # noqa: PLC0415 - 1.4 s to import, an extra

    built = _Model(problem)
    built.balance()
    built.wires()
    built.habits()
    built.goal()
    if hint is not None:
        for options, index in zip(built.taken, hint, strict=True):
            for option, taken in enumerate(options):
                built.model.add_hint(taken, int(option == index))
    solver: Any = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.random_seed = 1
    solver.parameters.num_workers = 1  # more workers race, and races end differently
    solver.parameters.cp_model_probing_level = 0  # it would take all the time there is
    solver.parameters.symmetry_level = 0
    status = solver.solve(built.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return Solved(choice=None, proven=status == cp_model.INFEASIBLE)
    choice = tuple(
        next(i for i, taken in enumerate(options) if solver.value(taken)) for options in built.taken
    )
    return Solved(choice=choice, proven=status == cp_model.OPTIMAL)

"""Parts that may move, placed for balance, skin, wire and least ballast."""

import time
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from foamwright.jobs.ask import Settings, opened
from foamwright.plane.document import LoadedPlane, save
from foamwright.problems import CallProblem
from foamwright.questions import balance, fit
from foamwright.questions.case import Case
from foamwright.search.exact_placing import available, exact
from foamwright.search.places import crowd, problem_of
from foamwright.search.placing import PlacingCost, PlacingProblem, cost_of, is_free
from foamwright.search.plain_placing import plain

SCHEMA = 1
"""Version of the JSON that `place` prints."""

How = Literal["proven best", "best found", "plain search"]
"""What stands behind a placing: a proof, a solver that ran out of time, or a plain search."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Move:
    """What happens to one part."""

    item: str
    """The part."""
    words: str
    """Where it goes, or that it stays."""
    moved: float
    """How far [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Chances:
    """How balance and fit stand."""

    balance: float | None
    """The chance of balance with the pack where it is drawn or in its reach."""
    fit: float | None
    """The chance that the gear fits."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Placed:
    """What was found."""

    plane: str
    variant: str | None
    how: How
    moves: tuple[Move, ...]
    keys: dict[str, object]
    """Keys of the plane file that make it so."""
    before: PlacingCost | None
    """As drawn; none where two parts overlap as drawn."""
    after: PlacingCost
    """As placed."""
    aim: float
    """Balance wanted [m]."""
    chance_before: Chances
    chance_after: Chances
    kept: str | None
    """The variant it was kept as."""
    seconds: float


def chances(case: Case) -> Chances:
    """Return how balance and fit stand."""
    return Chances(balance=balance.measure(case).probability, fit=fit.measure(case).probability)


def solved(problem: PlacingProblem, seconds: float, *, solver: bool) -> tuple[tuple[int, ...], How]:
    """Return the best placing found, and what stands behind it."""
    simple = plain(problem)
    if simple is None:
        names = " and ".join(crowd(problem))
        raise CallProblem(
            f"no placing is free: {names} cannot all have room",
            expected="widen a reach, turn a part on edge, or take one out",
        )
    if not solver:
        return simple, "plain search"
    found = exact(problem, seconds=seconds, hint=simple)
    if found.choice is None:
        return simple, "plain search"
    better = min((simple, found.choice), key=lambda choice: cost_of(problem, choice).total)
    return better, "proven best" if found.proven else "best found"


def drawn(problem: PlacingProblem) -> PlacingCost | None:
    """Return what the plane as drawn costs; none where it is no free placing."""
    choice = tuple(0 for _ in problem.parts)
    stays = all(part.options[0].moved == 0.0 for part in problem.parts)
    return cost_of(problem, choice) if stays and is_free(problem, choice) else None


def place(
    path: Path,
    settings: Settings,
    *,
    free: tuple[str, ...] = (),
    seconds: float = 2.0,
    keep: str | None = None,
) -> Placed:
    """Place what may move; with `keep`, write the result into the plane file as a variant.

    Raises CallProblem where nothing may move or no placing is free, with the rule that binds.
    """
    start = time.perf_counter()
    loaded, case = opened(path, settings)
    if keep is not None and keep in loaded.variants:
        raise CallProblem(f"there is a variant '{keep}' already", expected="another name")
    problem, refused = problem_of(case, free)
    if problem is None:
        told = "; ".join(f"{one.name} has no place: {one.why}" for one in refused)
        raise CallProblem(told, expected="widen its reach, turn it, or choose a smaller one")
    choice, how = solved(problem, seconds, solver=available())
    chosen = [part.options[i] for part, i in zip(problem.parts, choice, strict=True)]
    keys: dict[str, object] = {}
    for option in chosen:
        if option.moved > 0.0 or not option.words.startswith("stays"):
            keys |= option.keys
    if keep is not None:
        kept(loaded, keep, keys)
    return Placed(
        plane=case.plane.name,
        variant=settings.variant,
        how=how,
        moves=tuple(
            Move(item=part.name, words=option.words, moved=option.moved)
            for part, option in zip(problem.parts, chosen, strict=True)
        ),
        keys=keys,
        before=drawn(problem),
        after=cost_of(problem, choice),
        aim=problem.aim,
        chance_before=chances(case),
        chance_after=chances(case.changed(keys)) if keys else chances(case),
        kept=keep,
        seconds=round(time.perf_counter() - start, 3),
    )


def kept(loaded: LoadedPlane, name: str, keys: dict[str, object]) -> None:
    """Write keys into the plane file as a variant."""
    if not keys:
        raise CallProblem("everything stays where it is", expected="no variant is needed")
    if not name.strip() or "." in name:
        raise CallProblem(f"'{name}' names no variant", expected="a name without a dot")
    save(loaded, {f"variants.{name}": keys})


def cost_json(cost: PlacingCost | None) -> dict[str, object] | None:
    """Return a cost as JSON writes it [SI]."""
    if cost is None:
        return None
    return {
        "cg_x": cost.centre,
        "ballast_mass": cost.ballast,
        "wire": cost.wire,
        "rules_unkept": cost.unkept,
        "moved": cost.moved,
    }


def as_json(found: Placed) -> dict[str, object]:
    """Return what was found as one JSON object."""
    return {
        "schema": SCHEMA,
        "plane": found.plane,
        "variant": found.variant,
        "seconds": found.seconds,
        "how": found.how,
        "cg_wanted": found.aim,
        "moves": [{"item": m.item, "do": m.words, "moved": m.moved} for m in found.moves],
        "keys": found.keys,
        "before": cost_json(found.before),
        "after": cost_json(found.after),
        "effect": [
            {"question": name, "from": before, "to": after}
            for name, before, after in (
                ("balance", found.chance_before.balance, found.chance_after.balance),
                ("fit", found.chance_before.fit, found.chance_after.fit),
            )
        ],
        "kept": found.kept,
    }

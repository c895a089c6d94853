"""The places a plane's movable parts could take, as a problem to be solved."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from foamwright.model import gaps
from foamwright.model.pockets import Pocket, pocket_of
from foamwright.physics.arrays import Grid
from foamwright.plane.boxes import Box, boxes_of
from foamwright.plane.gear import AnyItem
from foamwright.plane.placement import Place
from foamwright.problems import CallProblem
from foamwright.quantity import Quantity, show
from foamwright.questions import balance
from foamwright.questions.case import Case
from foamwright.questions.fit_checks import hatch_room, sunk
from foamwright.questions.fit_rules import Spacing, fit_rules
from foamwright.search.placing import Movable, Option, PlacingProblem, Tie, collisions
from foamwright.search.plain_placing import first_free

COMFORT = 2.0e-3
"""Skin beyond the least at which a slipping knife no longer matters [m]."""

STEP = 2.5e-3
"""Step of the places within a range [m]."""

FREE_STEP = 5.0e-3
"""The same for a part that may go anywhere [m]."""

FIXED_KINDS = ("motor", "propeller", "mount", "rod", "glue", "tape", "wire", "allowance", "linkage")
"""Kinds that go where the airframe wants them."""

WIRED = (
    ("esc", "motor"),
    ("esc", "pack"),
    ("receiver", "flight controller"),
    ("video transmitter", "flight controller"),
    ("gps", "flight controller"),
    ("camera", "video transmitter"),
)
"""Kinds that are joined by a wire."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Refused:
    """A part that has no place at all, and why."""

    name: str
    """The item."""
    why: str
    """The rule that binds, and what comes nearest."""


def millimetres(place: float) -> str:
    """Return a place as it is written."""
    return f"{round(place * 1e3, 1):g} mm"


def quantity(place: float) -> Quantity:
    """Return a place as a written one."""
    return Quantity(value=place, spread=None, dimension="length", text=millimetres(place))


def spots(case: Case, item: AnyItem, *, free: bool) -> Iterator[tuple[Place, str]]:
    """Yield the places a part could take, the drawn one first, with their words."""
    if item.at is None:
        return
    yield item.at, f"stays at {show(item.at.x.value, 'length')}"
    low, high = item.at.x.value, item.at.x.value
    if item.reach is not None:
        low, high = item.reach.foremost.value, item.reach.rearmost.value
    elif free:
        low, high = case.computed.solid.extent()
    count = max(0, round((high - low) / (FREE_STEP if free else STEP)))
    for x in np.linspace(low, high, count + 1) if count else ():
        place = round(float(x), 4)
        if abs(place - item.at.x.value) > 1e-4:
            found = item.at.model_copy(update={"x": quantity(place)})
            yield found, f"to {show(place, 'length')}"
    for other in item.places:
        sideways = "" if other.y is None else f", y {show(other.y.value, 'length')}"
        yield other, f"to {show(other.x.value, 'length')}{sideways}"


def keys_of(item: AnyItem, place: Place) -> Mapping[str, object]:
    """Return the keys of the plane file that put an item at a place."""
    if item.at is not None and place.y == item.at.y and place.z == item.at.z:
        return {f"items.{item.name}.at.x": place.x.text}
    told = {
        axis: value.text
        for axis, value in (("x", place.x), ("y", place.y), ("z", place.z))
        if value is not None
    }
    return {f"items.{item.name}.at": told}


def pockets_at(case: Case, item: AnyItem, place: Place) -> list[Pocket | Box]:
    """Return the pockets of all pieces of an item put at a place; a box where it has none."""
    moved = item.model_copy(update={"at": place})
    cuts, airframe = case.computed.cuts, case.plane.airframe
    return [
        box if box.side == "none" else pocket_of(box, moved, cuts, airframe)
        for box in boxes_of(moved)
    ]


def lacking(case: Case, found: list[Pocket | Box]) -> tuple[float, str, float]:
    """Return by how much pieces break a rule of their own [m], and which; nothing where none.

    The third is how much skin they lack to be comfortable [m].
    """
    least = fit_rules().skin[case.plane.airframe.foam].least
    worst, why, thin = 0.0, "", 0.0
    for pocket in found:
        if not isinstance(pocket, Pocket):
            deep = sunk(pocket, case.computed.cuts)
            worst, why = max((worst, why), (deep, "sunk into foam it should sit on"))
            continue
        if pocket.side != "front":
            thin = max(thin, least + COMFORT - pocket.skin)
        short = least - pocket.skin if pocket.side != "front" else 0.0
        if short > worst:
            worst, why = short, f"{show(max(pocket.skin, 0.0), 'length')} of skin"
        room = hatch_room(pocket, case.plane)
        if room is not None and fit_rules().rules["hatch"].least - room > worst:
            worst = fit_rules().rules["hatch"].least - room
            why = "no way through the hatch"
    return worst, why, thin


def ends_of(found: list[Pocket | Box]) -> tuple[Grid, Grid]:
    """Return what the pieces take up, a row a piece (k, 3) [m]."""
    boxes = [piece.box if isinstance(piece, Pocket) else piece for piece in found]
    ends = [gaps.ends_of(box) for box in boxes]
    return np.array([low for low, _ in ends]), np.array([high for _, high in ends])


def options_of(
    case: Case, item: AnyItem, fixed: tuple[Grid, Grid], *, free: bool
) -> tuple[tuple[Option, ...], str]:
    """Return the places that keep a part's own rules and clear the fixed parts, and what binds.

    `fixed` are the ends of everything that stays, a row a piece (k, 3) [m].
    """
    found = []
    nearest, why = np.inf, "no place"
    for place, words in spots(case, item, free=free):
        pieces = pockets_at(case, item, place)
        short, rule, thin = lacking(case, pieces)
        low, high = ends_of(pieces)
        if not short and hits(low, high, fixed):
            short, rule = 1e-3, "in the place of a part that stays"
        if short:
            if short < nearest:
                nearest, why = short, f"at best {rule}, {words}"
            continue
        here = item.at.x.value if item.at is not None else 0.0
        found.append(
            Option(
                keys=keys_of(item, place),
                x=place.x.value,
                words=words,
                low=low,
                high=high,
                moved=abs(place.x.value - here),
                thin=thin,
            )
        )
    return tuple(found), why


def hits(low: Grid, high: Grid, fixed: tuple[Grid, Grid]) -> bool:
    """Return whether any piece overlaps any fixed one."""
    if not len(fixed[0]) or not len(low):
        return False
    apart = np.maximum(low[:, None] - fixed[1][None], fixed[0][None] - high[:, None])
    return bool((apart.max(axis=-1) < 0.0).any())


def movable_items(case: Case, free: tuple[str, ...]) -> tuple[AnyItem, ...]:
    """Return the items that may be placed: with a range, with other places, or told to be free."""
    names = {item.name for item in case.plane.items}
    for name in free:
        if name not in names:
            raise CallProblem(f"no item '{name}'", expected=f"one of {', '.join(sorted(names))}")
    found = []
    for item in case.plane.items:
        if item.kind in FIXED_KINDS:
            if item.name in free:
                raise CallProblem(
                    f"{item.name} goes where the airframe wants it", expected="free another part"
                )
            continue
        if item.at is None or item.mass is None or item.size is None:
            continue
        if item.reach is not None or item.places or item.name in free:
            found.append(item)
    if not found:
        raise CallProblem(
            "nothing may be moved",
            expected="give parts a reach or places in the plane file, or name some with --free",
        )
    return tuple(found)


def spacing_pairs(
    parts: tuple[Movable, ...], fixed: tuple[tuple[str, Grid, Grid], ...]
) -> tuple[Grid, tuple[Grid, ...]]:
    """Return the pairs of options that break a spacing rule, and those each breaks alone.

    `fixed` are kind and ends of everything that stays.
    """
    rows: list[Grid] = []
    alone = [np.zeros(len(part.options)) for part in parts]
    for spacing in fit_rules().spacings:
        for index, part in enumerate(parts):
            for kind, low, high in fixed:
                if joined(spacing, part.kind, kind):
                    rooms = [room_of(o.low, o.high, low, high) for o in part.options]
                    alone[index] += np.array(rooms) < spacing.least
        for (a, first), (b, second) in combinations(enumerate(parts), 2):
            if joined(spacing, first.kind, second.kind):
                for i, one in enumerate(first.options):
                    for j, other in enumerate(second.options):
                        if room_of(one.low, one.high, other.low, other.high) < spacing.least:
                            rows.append(np.array([a, i, b, j]))
    return np.array(rows, dtype=int).reshape(-1, 4), tuple(alone)


def joined(spacing: Spacing, first: str, second: str) -> bool:
    """Return whether a spacing rule is about two kinds."""
    return (first in spacing.first and second in spacing.second) or (
        second in spacing.first and first in spacing.second
    )


def room_of(low: Grid, high: Grid, other_low: Grid, other_high: Grid) -> float:
    """Return the least room between two sets of boxes [m]."""
    return min(
        gaps.room((a, b), (c, d))
        for a, b in zip(low, high, strict=True)
        for c, d in zip(other_low, other_high, strict=True)
    )


def ties_of(case: Case, parts: tuple[Movable, ...]) -> tuple[Tie, ...]:
    """Return the wires between movable parts, and from them to what stays."""
    at = {part.name: index for index, part in enumerate(parts)}
    found = []
    for one, other in WIRED:
        for first in (item for item in case.plane.items if item.kind == one and item.at):
            for second in (item for item in case.plane.items if item.kind == other and item.at):
                a, b = at.get(first.name), at.get(second.name)
                far = first if a is None else second
                if far.at is not None and (a is not None or b is not None):
                    mover, other_end = (b, None) if a is None else (a, b)
                    found.append(Tie(first=mover or 0, second=other_end, place=far.at.x.value))
    return tuple(found)


def problem_of(
    case: Case, free: tuple[str, ...] = ()
) -> tuple[PlacingProblem | None, tuple[Refused, ...]]:
    """Return the placing problem of a plane; none with the parts that have no place at all."""
    items = movable_items(case, free)
    names = {item.name for item in items}
    stays = tuple(
        (box.kind, *gaps.ends_of(box))
        for _, box in case.computed.fit.boxes()
        if box.item not in names
    )
    ends = (np.array([low for _, low, _ in stays]), np.array([high for _, _, high in stays]))
    parts, refused = [], []
    for item in items:
        options, why = options_of(case, item, ends, free=item.name in free)
        if not options:
            refused.append(Refused(name=item.name, why=why))
            continue
        mass = case.computed.masses.named(item.name).mass
        parts.append(
            Movable(name=item.name, kind=item.kind, mass=float(np.median(mass)), options=options)
        )
    if refused:
        return None, tuple(refused)
    return assembled(case, tuple(parts), stays), ()


def assembled(
    case: Case, parts: tuple[Movable, ...], stays: tuple[tuple[str, Grid, Grid], ...]
) -> PlacingProblem:
    """Return the problem of some parts with their options."""
    computed = case.computed
    all_up = float(np.median(computed.masses.all_up))
    centre = float(np.median(computed.masses.centre[:, 0]))
    drawn = sum(
        part.mass * float(np.median(computed.masses.named(part.name).place[:, 0])) for part in parts
    )
    aim = computed.lift.neutral_point - balance.window(case).aim * computed.lift.mean_chord
    rows = [
        np.array([a, i, b, j])
        for (a, first), (b, second) in combinations(enumerate(parts), 2)
        for i, j in np.argwhere(collisions(first, second))
    ]
    fixed = tuple((kind, low[None], high[None]) for kind, low, high in stays)
    unkept, alone = spacing_pairs(parts, fixed)
    return PlacingProblem(
        parts=parts,
        fixed_moment=all_up * centre - drawn,
        all_up=all_up,
        aim=float(np.median(aim)),
        nose=computed.nose + balance.BALLAST_PLACE,
        tail=computed.tail - balance.BALLAST_PLACE,
        forbidden=np.array(rows, dtype=int).reshape(-1, 4),
        unkept=unkept,
        alone=alone,
        ties=ties_of(case, parts),
    )


def crowd(problem: PlacingProblem) -> tuple[str, ...]:
    """Return a few parts that cannot all have room, the fewest that are found."""
    names = tuple(part.name for part in problem.parts)
    for size in range(2, len(names) + 1):
        for chosen in combinations(range(len(names)), size):
            if first_free(only(problem, chosen)) is None:
                return tuple(names[i] for i in chosen)
    return ()


def only(problem: PlacingProblem, chosen: tuple[int, ...]) -> PlacingProblem:
    """Return the problem of some of its parts; of the rest only the room they leave."""
    new = {old: index for index, old in enumerate(chosen)}
    rows = [
        np.array([new[a], i, new[b], j])
        for a, i, b, j in problem.forbidden.tolist()
        if a in new and b in new
    ]
    return PlacingProblem(
        parts=tuple(problem.parts[i] for i in chosen),
        fixed_moment=problem.fixed_moment,
        all_up=problem.all_up,
        aim=problem.aim,
        nose=problem.nose,
        tail=problem.tail,
        forbidden=np.array(rows, dtype=int).reshape(-1, 4),
        unkept=np.zeros((0, 4), dtype=int),
        alone=tuple(problem.alone[i] for i in chosen),
        ties=(),
    )

"""Why a plane may balance elsewhere than planned: each part moved or heavier, or the reading.

How often each happens, and how far parts end up elsewhere, is common practice, no source.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.model.causes import uniform
from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.model.evidence import OBSERVABLE, Observation
from foamwright.model.explanations import (
    AS_OFTEN,
    FAR,
    Explanation,
    ranked,
    seen_of,
    times,
)
from foamwright.model.masses import Masses, MassPoint
from foamwright.model.spreads import PLACE_X, SCALE
from foamwright.model.suspects import AS_PLANNED, Suspect
from foamwright.physics.arrays import Grid, Samples
from foamwright.plane.bench_records import BARE_FOAM
from foamwright.plane.checks import extent
from foamwright.plane.gear import Pack
from foamwright.plane.placement import Reach
from foamwright.plane.plane import Plane
from foamwright.quantity import Quantity, show, show_band

PLACES, MASSES, ABOARD, READ, ZERO = 0.045, 0.030, 0.010, 0.010, 0.005
"""How often a part sits elsewhere than in the file, weighs otherwise, something else is aboard, the
balance is read badly, or measured from another point than the nose."""

WEIGHED = 0.045
"""How often the scale has shown already why."""

MOVED = 15e-3
"""How far a part built elsewhere than in the file ends up [m], one deviation."""

LOOSE = 3.0
"""How much more often than any other part the pack is elsewhere: it is put in anew each time."""

NEVER_WEIGHED = 3.0
"""How much more often than a weighed part one that was not weighs otherwise."""

OTHER_MASS = 4.0
"""How many of its spreads a part that weighs otherwise is off."""

MORE_ABOARD = 0.04
"""Mass of what was not listed over the mass of all."""

FUMBLED = 4.0
"""How much worse a bad balance is read than a good one."""

OTHER_ZERO = 30e-3
"""How far from the nose other zeros lie, such as a spinner or the wing's edge [m]."""

Now = Mapping[str, float]
"""What all pieces of a thing weigh by the scale, by name [kg]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Balanced:
    """A balance beside its plan."""

    planned: ComputablePlane
    """Before anything was weighed."""
    seen: tuple[Observation, ...]
    """Where it balances, and what it weighs where two scales told."""
    away: float
    """How far aft of the plan it balances [m]."""
    more: float | None
    """What two scales showed more than planned in all [kg]; none without them."""
    draws: Draws
    """Its own luck."""
    units: str
    """The user's."""

    @property
    def masses(self) -> Masses:
        """The mass list as planned."""
        return self.planned.masses

    def told(self, place: Samples, mass: Samples) -> Grid:
        """Return balance and mass as what would be read (n, m), on the scales compared on."""
        known = {"balance_place": place, "all_up_mass": np.log(np.maximum(mass, 1e-6))}
        return np.stack([known[one.name] for one in self.seen], axis=1)

    def with_more(self, mass: Samples, place: Samples) -> Grid:
        """Return what would be read with some mass more, or less, at a place."""
        whole = self.masses.all_up + mass
        centre = (self.masses.all_up * self.masses.centre[:, 0] + mass * place) / whole
        return self.told(centre, whole)

    def length(self, value: float) -> str:
        """Return a length in the user's units."""
        return show(value, "length", self.units)

    def mass(self, value: float) -> str:
        """Return a mass in the user's units."""
        return show(value, "mass", self.units)


def weighed_now(planned: Plane, now: Plane | None) -> Now:
    """Return what was weighed otherwise than planned, all pieces of each together [kg]."""
    if now is None:
        return {}
    found = {}
    before = {item.name: item for item in planned.items}
    for item in now.items:
        known = before.get(item.name)
        if known is not None and changed(known.mass, item.mass) and item.mass is not None:
            found[item.name] = item.mass.value * item.count
    foam = now.airframe.bare_mass
    if foam is not None and changed(planned.airframe.bare_mass, foam):
        found[BARE_FOAM] = foam.value
    return found


def changed(before: Quantity | None, after: Quantity | None) -> bool:
    """Return whether the scale put another mass in the place of the planned one."""
    return after is not None and (before is None or before.text != after.text)


def balance_suspects(
    planned: ComputablePlane, seen: Sequence[Observation], now: Plane | None
) -> tuple[Suspect, ...]:
    """Return what may be behind a balance, likeliest first.

    `seen` are the balance and, where two scales told, the mass of all; `now` is the plane with
    what was weighed since, in the user's units.
    """
    place = next(one for one in seen if one.name == "balance_place")
    total = next((one for one in seen if one.name == "all_up_mass"), None)
    middle = float(np.median(planned.masses.centre[:, 0]))
    case = Balanced(
        planned=planned,
        seen=tuple(seen),
        away=place.value - middle,
        more=None if total is None else total.value - float(np.median(planned.masses.all_up)),
        draws=planned.draws.branched(),
        units=(now or planned.plane).units,
    )
    scale = weighed_now(planned.plane, now)
    masses = case.masses
    explanations = [
        Explanation(
            name=AS_PLANNED, often=AS_OFTEN, told=case.told(masses.centre[:, 0], masses.all_up)
        ),
        *moved(case),
        *heavier(case, scale),
        *as_weighed(case, scale),
        aboard(case),
        fumbled(case, place),
        other_zero(case),
    ]
    return ranked(explanations, seen_of(seen))


def moved(case: Balanced) -> Iterator[Explanation]:
    """Yield each part sitting elsewhere than in the file."""
    items = {item.name: item for item in case.planned.plane.items}
    points = [point for point in case.masses.points if float(np.median(point.mass)) > 0.0]
    loose = [p.name for p in points if not p.placed or isinstance(items.get(p.name), Pack)]
    weights = {p.name: LOOSE if p.name in loose else 1.0 for p in points}
    normals = case.draws.normal("cause.balance.place", "place of a part")
    for point in points:
        own = float(np.std(point.place[:, 0]))
        amount = normals * np.hypot(OTHER_MASS * own, MOVED)
        item = items.get(point.name)
        reach = None if item is None else item.reach
        if reach is not None:
            low, high = reach.foremost.value, reach.rearmost.value
            amount = low + (high - low) * uniform(normals) - point.place[:, 0]
        centre = case.masses.centre[:, 0] + point.mass / case.masses.all_up * amount
        stated = own if item is None or item.at is None else item.at.x.spread or PLACE_X
        speaks_for, speaks_against = for_place(case, point, (reach, stated))
        what = "balances" if point.name == BARE_FOAM else "sits"
        yield Explanation(
            name=f"the {plain(point.name)} {what} elsewhere than in the file",
            often=PLACES * weights[point.name] / sum(weights.values()),
            told=case.told(centre, case.masses.all_up),
            check=where_to_look(point, case),
            speaks_for=speaks_for,
            speaks_against=speaks_against,
        )


def plain(name: str) -> str:
    """Return a name that may follow an article."""
    return name.removeprefix("the ")


def where_to_look(point: MassPoint, case: Balanced) -> str:
    """Return how to find out where a part is."""
    if point.name == BARE_FOAM:
        return "balance the bare foam alone, if it is still bare"
    where = float(np.median(point.place[:, 0]))
    return f"measure from the nose to its middle ({case.length(where)} in the file)"


def for_place(
    case: Balanced, point: MassPoint, known: tuple[Reach | None, float]
) -> tuple[str, str]:
    """Return what speaks for and against a part sitting elsewhere.

    `known` are how far it reaches and the spread of its place [m], as the file states them.
    """
    reach, own = known
    mass, whole = float(np.median(point.mass)), float(np.median(case.masses.all_up))
    place = float(np.median(point.place[:, 0]))
    needed = case.away * whole / mass
    way = "aft" if needed > 0.0 else "forward"
    target = place + needed
    share = f"{case.mass(mass)} of {case.mass(whole)}"
    found = f"{share}: {case.length(abs(needed))} further {way} would do it"
    low, high = extent(case.planned.plane)
    if not low <= target <= high:
        return "", f"{found}, and the plane ends before"
    at = f"{found}, at {case.length(target)}"
    if reach is not None:
        ends = (reach.foremost.value, reach.rearmost.value)
        words = show_band(*ends, "length", case.units)
        if ends[0] <= target <= ends[1]:
            return f"{at}, within its reach of {words}", ""
        return "", f"{at}, beyond its reach of {words}"
    if times(needed, own) > FAR:
        return at, f"that is {times(needed, own):.0f} times the ± {case.length(own)} of its place"
    return f"{at}, within {FAR:.0f} times the ± {case.length(own)} of its place", ""


def heavier(case: Balanced, scale: Now) -> Iterator[Explanation]:
    """Yield each part that nobody weighed since weighing otherwise than in the file."""
    points = [
        point
        for point in case.masses.points
        if point.name not in scale and float(np.median(point.mass)) > 0.0
    ]
    guessed = case.masses.estimated
    weights = {p.name: NEVER_WEIGHED if p.name in guessed else 1.0 for p in points}
    normals = case.draws.normal("cause.balance.mass", "mass of a part")
    for point in points:
        own = max(float(np.std(point.mass)), SCALE)
        amount = np.maximum(normals * OTHER_MASS * own, -point.mass)
        speaks_for, speaks_against = for_mass(case, point, own)
        yield Explanation(
            name=f"the {plain(point.name)} weighs otherwise than in the file",
            often=MASSES * weights[point.name] / sum(weights.values()),
            told=case.with_more(amount, point.place[:, 0]),
            check=f"put it on the scale ({case.mass(float(np.median(point.mass)))} in the file)",
            speaks_for=speaks_for,
            speaks_against=speaks_against,
        )


def mass_needed(case: Balanced, place: float) -> float:
    """Return the mass at a place that would explain the balance alone [kg]."""
    whole, centre = (
        float(np.median(values)) for values in (case.masses.all_up, case.masses.centre[:, 0])
    )
    lever = place - (centre + case.away)
    return float(np.inf) if lever == 0.0 else whole * case.away / lever


def for_mass(case: Balanced, point: MassPoint, own: float) -> tuple[str, str]:
    """Return what speaks for and against a part weighing otherwise."""
    mass = float(np.median(point.mass))
    needed = mass_needed(case, float(np.median(point.place[:, 0])))
    whole = float(np.median(case.masses.all_up))
    if mass + needed < 0.0:
        return "", "no mass there would do it: without any it would still balance elsewhere"
    if not needed < whole:
        return "", "it sits too near to the balance for any mass to do it"
    words = f"{case.mass(mass + needed)} instead of {case.mass(mass)} would do it"
    if case.more is not None and times(needed - case.more, SCALE) > FAR:
        return words, in_all(case)
    if times(needed, own) > FAR:
        return words, f"that is {times(needed, own):.0f} times the ± {case.mass(own)} of its mass"
    return f"{words}, within {FAR:.0f} times the ± {case.mass(own)} of its mass", ""


def in_all(case: Balanced) -> str:
    """Return what two scales showed against the planned mass of all; empty without them."""
    if case.more is None:
        return ""
    way = "more" if case.more > 0.0 else "less"
    return f"both scales together show {case.mass(abs(case.more))} {way} than planned"


def as_weighed(case: Balanced, scale: Now) -> Iterator[Explanation]:
    """Yield the weighings since, all together, where there were any."""
    known = [point for point in case.masses.points if point.name in scale]
    if not known:
        return
    mass, moment = case.masses.all_up, case.masses.all_up * case.masses.centre[:, 0]
    for point in known:
        amount = scale[point.name] - point.mass
        mass, moment = mass + amount, moment + amount * point.place[:, 0]
    moves = float(np.median(moment / mass)) - float(np.median(case.masses.centre[:, 0]))
    way = "aft" if moves > 0.0 else "forward"
    words = f"the scale moves the planned balance {case.length(abs(moves))} {way}"
    wanted = f"{case.length(abs(case.away))} {'aft' if case.away > 0.0 else 'forward'} was read"
    helps = moves * case.away > 0.0
    names = ", ".join(point.name for point in known)
    yield Explanation(
        name=f"parts weigh otherwise than planned, as the scale showed ({names})",
        often=WEIGHED,
        told=case.told(moment / mass, mass),
        check="nothing: every answer takes the scale's masses already",
        speaks_for=f"{words}; {wanted}" if helps else "",
        speaks_against="" if helps else f"{words}, and {wanted}",
    )


def aboard(case: Balanced) -> Explanation:
    """Return something being aboard that the file does not list."""
    low, high = extent(case.planned.plane)
    normals = case.draws.normal("cause.balance.place", "place of a part")
    mass = np.abs(case.draws.normal("cause.balance.mass", "mass of a part")) * MORE_ABOARD
    mass = mass * case.masses.all_up
    end = high if case.away > 0.0 else low
    name = "tail's end" if case.away > 0.0 else "nose"
    needed = mass_needed(case, end)
    words = f"{case.mass(needed)} at the {name} would do it"
    share = needed / float(np.median(case.masses.all_up))
    usual = 0.0 <= share <= FAR * MORE_ABOARD
    told = "; ".join(part for part in (words, in_all(case)) if part)
    return Explanation(
        name="something is aboard that the file does not list",
        often=ABOARD,
        told=case.with_more(mass, low + (high - low) * uniform(normals)),
        check="weigh the plane ready to fly (foamwright weigh PLANE all MASS)",
        speaks_for=told if usual else "",
        speaks_against="" if usual else f"it would take {told.replace(' would do it', '')}",
    )


def fumbled(case: Balanced, place: Observation) -> Explanation:
    """Return the balance being read badly: fingertips slip, a scale leans."""
    scales = case.more is not None
    usual = float(np.hypot(place.spread, OBSERVABLE["balance_place"].discrepancy))
    wide = FUMBLED * place.spread * case.draws.normal("cause.balance.read", "reading the balance")
    ratio = abs(case.away) / usual
    words = f"{case.length(abs(case.away))} is {ratio:.0f} times what such a reading misses"
    near = ratio <= FAR
    return Explanation(
        name="a scale or a support was read wrong" if scales else "the fingertips slipped",
        often=READ,
        told=case.told(case.masses.centre[:, 0] + wide, case.masses.all_up),
        check="swap the scales and read again"
        if scales
        else "mark both fingertips' place with a pen, and balance it three times",
        speaks_for=words if near else "",
        speaks_against="" if near else words,
    )


def other_zero(case: Balanced) -> Explanation:
    """Return the place being measured from another point than the nose."""
    shift = OTHER_ZERO * case.draws.normal("cause.balance.zero", "where x is measured from")
    side = "ahead of" if case.away > 0.0 else "behind"
    return Explanation(
        name="it was measured from another point than the file's x = 0",
        often=ZERO,
        told=case.told(case.masses.centre[:, 0] + shift, case.masses.all_up),
        check="measure from the same point to the wing's leading edge and compare with the file",
        speaks_for=f"a zero {case.length(abs(case.away))} {side} the file's would do it",
    )

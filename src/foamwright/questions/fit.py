"""Does the gear fit in the foam?"""

import numpy as np

from foamwright.physics.arrays import Samples
from foamwright.problems import InputProblem
from foamwright.quantity import show
from foamwright.questions.answer import Answer, Figure, Remedy
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import COUNT, LENGTH, MASS, SHARE, chance, figure, verdict
from foamwright.questions.fit_changes import changes, least_skin
from foamwright.questions.fit_checks import Check, checks
from foamwright.questions.remedies import LEAST_GAIN, MOST, Change, effect

ID = "fit"
ASKS = "Does the gear fit in the foam?"

MOST_TOLD = 3
"""Broken rules that the reason names."""

EDGE_RODS = "1.5 mm"
"""Rods laid along the edges of a weakened body."""


def smallest(found: tuple[Check, ...], samples: int) -> Samples:
    """Return the smallest margin of the rules that must hold (n,) [m]."""
    margins = [np.broadcast_to(c.margin, samples) for c in found if c.told.must]
    return np.min(margins, axis=0) if margins else np.full(samples, np.inf)


def measure(case: Case) -> Measured:
    """Return the thinnest skin, the overlaps, and the chance that all rules hold."""
    fit = case.computed.fit
    found = checks(case)
    margin = smallest(found, case.computed.samples)
    lacking = missing(case)
    return Measured(
        figures=figures(case, found),
        probability=None if lacking or not fit.pockets else chance(margin >= 0.0),
        holds=None if lacking or not fit.pockets else margin >= 0.0,
        deciding=margin,
        decides="margin",
        assumed=assumed(case),
        missing=lacking,
    )


def figures(case: Case, found: tuple[Check, ...]) -> tuple[Figure, ...]:
    """Return the figures of fit."""
    fit, computed = case.computed.fit, case.computed
    samples = computed.samples
    skins = [np.broadcast_to(c.margin, samples) + c.told.least for c in found if is_skin(c)]
    nothing = np.full(samples, np.nan)
    skin = np.min(skins, axis=0) if skins else nothing
    over = [np.broadcast_to(c.margin, samples) < 0.0 for c in found if c.told.rule == "overlap"]
    count = np.sum(over, axis=0) if over else np.zeros(samples)
    hard = np.sum(
        [np.broadcast_to(c.margin, samples) < 0.0 for c in found if c.told.must], axis=0
    ) + np.zeros(samples)
    foam = sum(pocket.volume for pocket in fit.pockets)
    density, _ = computed.foam_density
    margin = smallest(found, samples)
    told = [
        figure("skin_min", "thinnest skin", skin, LENGTH, limits=(least_skin(case), None)),
        figure("overlaps", "parts in each other's place", count, COUNT, limits=(None, 0.0)),
        figure("foam_removed_mass", "foam that comes out", np.full(samples, foam * density), MASS),
        figure("rules_broken", "rules broken that must hold", hard, COUNT, limits=(None, 0.0)),
        figure("margin", "room to spare where it is tightest", margin, LENGTH, limits=(0.0, None)),
    ]
    if fit.left is not None and fit.pockets:
        for name, words, shares in (
            ("stiffness_kept", "stiffness the body keeps", fit.left.stiffness_kept),
            ("edge_strength_kept", "edge strength the body keeps", fit.left.edge_kept),
        ):
            kept = np.full(samples, fit.left.worst(shares)[0])
            told.append(figure(name, words, kept, SHARE))
    return tuple(told)


def is_skin(found: Check) -> bool:
    """Return whether a check is one of skin that must hold."""
    return found.told.rule == "skin" and found.told.must


def missing(case: Case) -> tuple[str, ...]:
    """Return what has to be told before fit can be answered."""
    fit = case.computed.fit
    lacking = [f"items.{name}.at" for name in fit.unplaced]
    lacking += [f"items.{name}.size" for name in fit.unsized]
    if not fit.pockets and not lacking:
        lacking.append("items: nothing sits in the foam yet")
    return tuple(lacking)


def assumed(case: Case) -> tuple[str, ...]:
    """Return what was assumed of pockets and hatches."""
    fit = case.computed.fit
    told = list(fit.assumed)
    open_ones = [p for p in fit.pockets if not p.declared]
    if open_ones:
        told.append(
            "pockets not written in the plane file are proposals: their foam is not taken off the "
            'mass yet (pocket = "top" on the item does that)'
        )
    if not any(body.hatches for body in case.plane.airframe.bodies):
        told.append("no hatch written: the pack goes in and out through its open pocket")
    told.append("skin and clearances as cut by hand, within 0.7 mm of the line")
    return tuple(told)


def weakened(case: Case) -> str:
    """Return what rods along both top edges would make of a body that pockets weaken."""
    fit = case.computed.fit
    if fit.left is None or not fit.pockets:
        return ""
    stiff, at = fit.left.worst(fit.left.stiffness_kept)
    edge, _ = fit.left.worst(fit.left.edge_kept)
    if stiff >= 0.6 and edge >= 0.5:
        return ""
    words = (
        f"the pockets leave {stiff:.0%} of the body's stiffness and {edge:.0%} of its edge "
        f"strength at x = {show(at, 'length', case.plane.units)}: lay two {EDGE_RODS} carbon rods "
        "or glass tape along both top edges, past both ends of the pocket"
    )
    kept = with_rods(case, at)
    if kept is not None:
        words += f" (with the rods it is {kept:.1f} times as stiff as the bare foam)"
    return words


def with_rods(case: Case, at: float) -> float | None:
    """Return the stiffness kept with two rods under the top edges, at the weakest place."""
    cuts = case.computed.cuts
    spans = cuts.solid.body_section(round(at * 1e3)).bounds
    y, z = spans[2] - 4e-3, spans[3] - 4e-3
    foremost, rearmost = cuts.solid.extent()
    front, rear = max(at - 0.06, foremost), min(at + 0.06, rearmost)
    ends = [
        {"x": f"{x * 1e3:.0f} mm", "y": f"{y * 1e3:.1f} mm", "z": f"{z * 1e3:.1f} mm"}
        for x in (front, rear)
    ]
    rod = {
        "kind": "rod",
        "mass": "0.4 g",
        "count": 2,
        "diameter": EDGE_RODS,
        "at": {"x": f"{at * 1e3:.0f} mm", "y": ends[0]["y"]},
        "starts": ends[0],
        "ends": ends[1],
    }
    left = case.changed({"items.edge rods": rod}).computed.fit.left
    return None if left is None else float(np.interp(at, left.x, left.stiffness_kept))


def because(case: Case, found: tuple[Check, ...]) -> str:
    """Return which rules bind, the hard ones first."""
    hard = [c.told.says for c in found if c.told.must and not c.told.holds]
    soft = sum(1 for c in found if not c.told.must and not c.told.holds)
    parts = hard[:MOST_TOLD]
    if len(hard) > MOST_TOLD:
        parts.append(f"and {len(hard) - MOST_TOLD} more")
    if not hard:
        tight = min(
            (c for c in found if is_skin(c)), key=lambda c: float(np.median(c.margin)), default=None
        )
        if tight is not None:
            parts.append(f"tightest: {tight.told.says}")
    weak = weakened(case)
    if weak:
        parts.append(weak)
    if soft:
        parts.append(f"{soft} rule{'s' if soft > 1 else ''} worth keeping not kept")
    return "; ".join(parts) + "." if parts else "Nothing to place."


def remedies(case: Case, before: Measured, offered: list[Change]) -> tuple[Remedy, ...]:
    """Return the changes that give room, each recomputed with the same luck, best first.

    Where several parts do not fit, mending one of them leaves the chance at nothing: what counts
    then is the room it gives and the overlaps it clears.
    """
    found = []
    for change in offered:
        try:
            after = measure(case.changed(change.keys))
        except InputProblem:
            continue
        gain = tuple(
            (after_value or 0.0) - (before_value or 0.0)
            for before_value, after_value in (
                (before.probability, after.probability),
                (-broken_count(before), -broken_count(after)),
                (before.named("margin").value, after.named("margin").value),
            )
        )
        if gain[0] >= LEAST_GAIN or gain[1] > 0.0:
            effects = effect(before, after, ("rules_broken", "skin_min", "overlaps"))
            found.append((gain, Remedy(do=change.do, effect=effects, keys=change.keys)))
    found.sort(key=lambda entry: entry[0], reverse=True)
    return tuple(remedy for _, remedy in found[:MOST])


def broken_count(measured: Measured) -> float:
    """Return how many rules that must hold are broken."""
    return measured.named("rules_broken").value or 0.0


def answer(case: Case) -> Answer:
    """Return the answer."""
    measured = measure(case)
    found = checks(case)
    broken = tuple(c for c in found if c.told.must and float(np.min(c.margin)) < 0.0)
    word = verdict(measured.probability)
    return Answer(
        question=ID,
        asks=ASKS,
        verdict=word,
        probability=measured.probability,
        figures=measured.figures,
        because=because(case, found),
        missing=measured.missing,
        assumed=measured.assumed,
        carried_by=carried_by(case, measured),
        remedies=remedies(case, measured, changes(case, broken)),
        cautions=(
            "Foam cannot be uncut: ask balance and fit again before the knife.",
            "Round every corner of a pocket to 3 mm; a square one starts the crack.",
        ),
        rules=tuple(c.told for c in found),
    )

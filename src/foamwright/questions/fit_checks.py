"""The rules of fit held against one plane: what was found, and by how much it holds."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from foamwright.model import gaps
from foamwright.model.cuts import UP, Cuts
from foamwright.model.fit import Fit, FitErrors
from foamwright.model.pockets import Pocket
from foamwright.physics.arrays import Samples
from foamwright.plane.boxes import Box
from foamwright.plane.gear import AnyItem, Rod, SpeedController
from foamwright.plane.plane import Plane
from foamwright.quantity import Units, show
from foamwright.questions.answer import RuleCheck
from foamwright.questions.case import Case
from foamwright.questions.fit_rules import Rule, fit_rules

DRIVE = ("motor", "mount", "propeller")
"""Kinds that are bolted to each other."""

CONDUCTING = ("pack", "esc", "video transmitter", "motor", "flight controller", "regulator")
"""Kinds a GPS cannot look through."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Check:
    """One rule held against one thing."""

    told: RuleCheck
    """As the answer tells it."""
    items: tuple[str, ...]
    """Which items it is about."""
    margin: Samples
    """By how much it holds (n,) [SI]; negative where it does not."""


def check(
    rule: Rule,
    found: tuple[str, float],
    items: tuple[str, ...],
    errors: Samples,
    *,
    dimension: str = "length",
    units: Units = "metric",
) -> Check:
    """Return a rule held against a value: `found` is what is told, and the value [SI].

    `errors` (n,) [SI] is how much more it comes out in each sample.
    """
    words, value = found
    margin = np.asarray(value + errors - rule.least)
    wanted = "" if rule.id in PLAIN else f", wanted {show(rule.least, dimension, units)}"
    told = RuleCheck(
        rule=rule.id,
        says=f"{words}{wanted}",
        must=rule.must,
        holds=bool(value >= rule.least),
        value=value if np.isfinite(value) else None,
        least=rule.least,
        source=rule.tag,
    )
    return Check(told=told, items=items, margin=margin)


PLAIN = (
    "overlap",
    "on the foam",
    "air",
    "plug in reach",
    "sky above",
    "camera view",
    "hinge line",
    "propeller above ground",
)
"""Rules whose wanted value says nothing to a builder."""


def skins(case: Case, fit: Fit, errors: FitErrors) -> Iterator[Check]:
    """Hold the skin of every pocket against what its foam needs."""
    units = case.plane.units
    rule = fit_rules().skin[case.plane.airframe.foam]
    walls = {b.name: b.wall.value for b in case.plane.airframe.bodies if b.wall is not None}
    for pocket in fit.pockets:
        least = min(rule.least, walls.get(pocket.host, rule.least))
        # The nose a camera looks out of is shaped around it.
        own = Rule(
            id="skin", must=pocket.side != "front", least=least, says=rule.says, tag=rule.tag
        )
        at = show(pocket.skin_at, "length", units)
        if pocket.skin_where == "outside":
            words = f"{pocket.name} lies outside the foam at x = {at}"
        elif pocket.skin < 0.0:
            deep = show(-pocket.skin, "length", units)
            words = f"{pocket.name} breaks {deep} through the {pocket.skin_where} at x = {at}"
        else:
            left = show(pocket.skin, "length", units)
            words = f"{pocket.name} leaves {left} of skin at the {pocket.skin_where}, x = {at}"
        yield check(own, (words, pocket.skin), (pocket.item,), errors.skin(pocket), units=units)


def overlap(fit: Fit, errors: FitErrors, units: Units) -> Iterator[Check]:
    """Object to parts in each other's place."""
    items = dict(fit.boxes())
    for gap in fit.near:
        one, other = items[gap.first], items[gap.second]
        if one.kind in DRIVE and other.kind in DRIVE:
            continue
        rule = fit_rules().rules["overlap"]
        if gap.size < -rule.least:
            deep = show(max(-gap.size, 0.0), "length", units)
            words = f"{gap.first} and {gap.second} overlap by {deep}"
            words = words if gap.size < 0.0 else f"{gap.first} and {gap.second} touch"
            spread = errors.gap(one.item, other.item)
            yield check(rule, (words, gap.size), (one.item, other.item), spread, units=units)
        elif one.side != "none" and other.side != "none":
            rule = fit_rules().rules["between pockets"]
            words = (
                f"{gap.first} and {gap.second} leave {show(gap.size, 'length', units)} between them"
            )
            if 0.003 < gap.size < rule.least:  # nearer ones are cut as one
                yield check(
                    rule, (words, gap.size), (one.item, other.item), np.zeros(1), units=units
                )


def propellers(case: Case, fit: Fit, errors: FitErrors) -> Iterator[Check]:
    """Hold the room around each propeller against what it needs."""
    units = case.plane.units
    rules = fit_rules().rules
    balance = float(np.median(case.computed.masses.centre[:, 0]))
    for near in fit.propellers:
        name = (near.item,)
        if np.isfinite(near.foam):
            words = f"{near.item} passes foam at {show(max(near.foam, 0.0), 'length', units)}"
            if near.foam < 0.0:
                words = (
                    f"{near.item} reaches {show(-near.foam, 'length', units)} into foam beside it"
                )
            yield check(
                rules["propeller beside foam"], (words, near.foam), name, errors.body, units=units
            )
        elif near.ahead < gaps.FAR_ALONG * 1e-3:
            words = f"{near.item} turns {show(near.ahead, 'length', units)} behind foam"
            yield check(
                rules["propeller behind foam"], (words, near.ahead), name, np.zeros(1), units=units
            )
        if near.below > 0.0:
            words = f"{near.item} hangs {show(near.below, 'length', units)} below the belly"
            yield check(
                rules["propeller above ground"],
                (words, -near.below),
                name,
                np.zeros(1),
                units=units,
            )
        item = next(i for i in case.plane.items if i.name == near.item)
        if item.at is not None:
            away = abs(item.at.x.value - balance)
            words = f"{near.item} turns {show(away, 'length', units)} from where the hand holds"
            yield check(
                rules["propeller from fingers"], (words, away), name, np.zeros(1), units=units
            )


def edges(case: Case, fit: Fit) -> Iterator[Check]:
    """Hold pockets against leading edges, hinges and the wing's trailing edge."""
    units = case.plane.units
    rules, cuts = fit_rules().rules, case.computed.cuts
    line = gaps.trailing_edge(cuts)
    for pocket in fit.pockets:
        room = gaps.hinge_room(pocket, case.plane, cuts)
        if room is not None:
            words = f"{pocket.name} leaves {show(room[0], 'length', units)} to the leading edge"
            yield check(
                rules["leading edge"], (words, room[0]), (pocket.item,), np.zeros(1), units=units
            )
            if np.isfinite(room[1]):
                spare = room[1] - 1.5 * pocket.depth
                words = f"{pocket.name}, {show(pocket.depth, 'length', units)} deep, leaves "
                words += f"{show(room[1], 'length', units)} to the hinge"
                yield check(
                    rules["hinge line"], (words, spare), (pocket.item,), np.zeros(1), units=units
                )
        elif line is not None:
            ends = (pocket.low[0], pocket.high[0])
            near = min(abs(end - line) for end in ends)
            words = (
                f"{pocket.name} ends {show(near, 'length', units)} from the wing's trailing edge"
            )
            rule = rules["in line with the trailing edge"]
            yield check(rule, (words, near), (pocket.item,), np.zeros(1), units=units)


def strength(fit: Fit, units: Units) -> Iterator[Check]:
    """Hold what is left of the body against what it should keep."""
    if fit.left is None or not fit.pockets:
        return
    for name, words, shares in (
        ("stiffness kept", "of its stiffness", fit.left.stiffness_kept),
        ("edge strength kept", "of its edge strength", fit.left.edge_kept),
    ):
        value, at = fit.left.worst(shares)
        told = (
            f"the body keeps {show(value, 'fraction')} {words} at x = {show(at, 'length', units)}"
        )
        yield check(
            fit_rules().rules[name],
            (told, value),
            (),
            np.zeros(1),
            dimension="fraction",
            units=units,
        )


def sunk(box: Box, cuts: Cuts) -> float:
    """Return how deep a part that should sit outside lies in the foam [m]."""
    x, y, z = box.middle
    height = 0.0 if z is None else z
    span = cuts.span(x, UP, y, height)
    return 0.0 if span is None else min(height - span[0], span[1] - height)


def outside(case: Case, fit: Fit) -> Iterator[Check]:
    """Object to parts that should sit on the foam and are drawn in it."""
    units = case.plane.units
    rule = fit_rules().rules["on the foam"]
    for name, box in fit.outside:
        item = next(i for i in case.plane.items if i.name == box.item)
        deep = sunk(box, case.computed.cuts)
        if item.pocket == "none" and deep > 0.0:
            words = (
                f"{name} should sit outside, and its middle lies {show(deep, 'length', units)} deep"
            )
            yield check(rule, (words, -deep), (box.item,), np.zeros(1), units=units)


def hatch_room(pocket: Pocket, plane: Plane) -> float | None:
    """Return what a pack has to spare in the best hatch near it [m]; none where none is drawn."""
    hatches = [b.hatches for b in plane.airframe.bodies if b.name == pocket.host and b.hatches]
    if pocket.kind != "pack" or not hatches:
        return None
    length, width = pocket.box.size[0], pocket.box.size[1]
    spare = [
        min(h.rearmost.value - h.foremost.value - length, h.width.value - width)
        for h in hatches[0]
        if h.foremost.value - length <= pocket.box.middle[0] <= h.rearmost.value + length
    ]
    return max(spare, default=-length)


def hatches(case: Case, fit: Fit, errors: FitErrors) -> Iterator[Check]:
    """Hold each pack against the hatch above it, where hatches are drawn."""
    units = case.plane.units
    rule = fit_rules().rules["hatch"]
    for pocket in fit.pockets:
        best = hatch_room(pocket, case.plane)
        if best is None:
            continue
        words = (
            f"{pocket.name} passes its hatch with {show(max(best, 0.0), 'length', units)} to spare"
        )
        if best < 0.0:
            words = (
                f"{pocket.name} is {show(-best, 'length', units)} too large for the hatches near it"
            )
        yield check(rule, (words, best), (pocket.item,), errors.cut[pocket.item], units=units)


def reach(case: Case, fit: Fit) -> Iterator[Check]:
    """Look for what cannot be reached, cooled or seen any more."""
    units = case.plane.units
    rules = fit_rules().rules
    plain = np.zeros(1)
    for pocket in fit.pockets:
        item = next(i for i in case.plane.items if i.name == pocket.item)
        name = (pocket.item,)
        if pocket.kind == "flight controller" and pocket.side == "inside":
            words = f"{pocket.name} is closed in: its USB and boot button are out of reach"
            yield check(rules["plug in reach"], (words, -1.0), name, plain, units=units)
        if hot(item, pocket):
            words = f"{pocket.name} has no air"
            yield check(rules["air"], (words, -1.0), name, plain, units=units)
        if pocket.kind == "gps":
            for other, box in fit.boxes():
                if box.kind in CONDUCTING and above(box.middle, box.size, pocket):
                    words = f"{other} lies above {pocket.name}"
                    yield check(rules["sky above"], (words, -1.0), name, plain, units=units)


def hot(item: AnyItem, pocket: Pocket) -> bool:
    """Return whether a part that gets hot is closed in."""
    if isinstance(item, SpeedController):
        return item.cooling == "buried" or pocket.side == "inside"
    return pocket.kind in ("video transmitter", "regulator") and pocket.side == "inside"


def above(
    middle: tuple[float, float, float | None], size: tuple[float, float, float], pocket: Pocket
) -> bool:
    """Return whether a box lies above a pocket, as seen from the sky."""
    over = all(
        pocket.low[i] < place + size[i] / 2.0 and place - size[i] / 2.0 < pocket.high[i]
        for i, place in enumerate((middle[0], middle[1]))
    )
    return over and (middle[2] or 0.0) - size[2] / 2.0 >= pocket.high[2] - 1e-3


def view(case: Case) -> Iterator[Check]:
    """Look for a propeller in front of a camera."""
    units = case.plane.units
    for camera in gaps.of_kinds(case.plane, ("camera",)):
        for propeller in gaps.of_kinds(case.plane, ("propeller",)):
            if camera.at is None or propeller.at is None:
                continue
            if propeller.at.x.value < camera.at.x.value:
                words = f"{propeller.name} turns in front of {camera.name}"
                items = (camera.name, propeller.name)
                rule = fit_rules().rules["camera view"]
                yield check(rule, (words, -1.0), items, np.zeros(1), units=units)


def spacings(plane: Plane, fit: Fit) -> Iterator[Check]:
    """Hold the distances of what disturbs each other against the rules."""
    units = plane.units
    boxes = fit.boxes()
    for spacing in fit_rules().spacings:
        rule = Rule(
            id=spacing.id, must=False, least=spacing.least, says=spacing.id, tag=spacing.tag
        )
        for name, box in boxes:
            if box.kind not in spacing.first:
                continue
            for other, size in distances(box, spacing.second, plane, fit):
                if size < spacing.least:
                    words = f"{name} lies {show(max(size, 0.0), 'length', units)} from {other}"
                    yield check(rule, (words, size), (box.item,), np.zeros(1), units=units)


def distances(
    box: Box, kinds: tuple[str, ...], plane: Plane, fit: Fit
) -> Iterator[tuple[str, float]]:
    """Yield how far parts of some kinds lie from a box [m]."""
    ends = gaps.ends_of(box)
    for name, other in fit.boxes():
        if other.kind in kinds and other.item != box.item:
            yield name, gaps.room(ends, gaps.ends_of(other))
    if "rod" in kinds:
        for item in plane.items:
            if isinstance(item, Rod) and item.starts is not None and item.ends is not None:
                yield item.name, gaps.rod_gap(box, item)


def checks(case: Case) -> tuple[Check, ...]:
    """Return every rule held against the plane, broken ones first."""
    fit, errors = case.computed.fit, case.computed.fit_errors
    found = [
        *skins(case, fit, errors),
        *overlap(fit, errors, case.plane.units),
        *propellers(case, fit, errors),
        *hatches(case, fit, errors),
        *outside(case, fit),
        *edges(case, fit),
        *strength(fit, case.plane.units),
        *reach(case, fit),
        *view(case),
        *spacings(case.plane, fit),
    ]
    return tuple(
        sorted(found, key=lambda c: (c.told.holds, not c.told.must, float(np.median(c.margin))))
    )

"""Does it balance with the pack where I can reach it?"""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.plane.airframe import Layout
from foamwright.quantity import show
from foamwright.questions import exchange
from foamwright.questions.answer import Answer, Figure
from foamwright.questions.balance_changes import longer_bay, motor_changes
from foamwright.questions.balance_words import canard_rule, rule_of_thumb
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import LENGTH, MASS, SHARE, chance, figure, verdict
from foamwright.questions.remedies import Change, from_to, tried, whole

ID = "balance"
ASKS = "Does it balance with the pack where I can reach it?"

WANTED: dict[Layout, tuple[float, float, float]] = {
    "tail aft": (0.05, 0.15, 0.10),
    "V-tail": (0.05, 0.15, 0.10),
    "T-tail": (0.05, 0.15, 0.10),
    "plank": (0.05, 0.15, 0.08),
    "swept wing": (0.06, 0.15, 0.08),
    "delta": (0.08, 0.18, 0.10),
    "canard": (0.10, 0.20, 0.14),
    "twin-tail jet": (0.05, 0.15, 0.10),
}
"""Static margin wanted by layout: least, most, aim. With a tail 5-15 % is the usual model range and
10 % the start; without one, the range of first flights; common practice, no source."""

BALLAST_PLACE = 0.010
"""Ballast sits this far behind the nose [m]."""

LATERAL_SLACK = 0.01
"""Lateral balance worth a word, as a share of the half span; common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Window:
    """The static margin wanted."""

    least: float
    most: float
    aim: float


def window(case: Case) -> Window:
    """Return the static margin wanted: the builder's own, or the layout's."""
    least, most, aim = WANTED[case.plane.layout]
    targets = case.plane.targets
    least = targets.margin_low.value if targets.margin_low else least
    most = targets.margin_high.value if targets.margin_high else most
    return Window(least=least, most=most, aim=min(max(aim, least), most))


@dataclass(frozen=True, kw_only=True, slots=True)
class PackReach:
    """What moving the pack can do; all (n,)."""

    margin_foremost: Samples
    """Static margin with the pack foremost [-]."""
    margin_rearmost: Samples
    """Static margin with the pack rearmost [-]."""
    place_for_aim: Samples
    """Pack place that gives the margin aimed at [m]."""
    ballast: Samples
    """Mass at the nose that gives it with the pack at its best stop [kg]."""
    margin_best: Samples
    """Static margin with the pack where the middle plane wants it [-]."""

    def holds_at_best(self, wanted: Window) -> Flags:
        """Return for which samples (n,) one place, the same for all, gives the wanted margin."""
        return (self.margin_best >= wanted.least) & (self.margin_best <= wanted.most)


def pack_reach(case: Case, aim: float) -> PackReach | None:
    """Return what moving the pack can do, or none without a pack that has a place."""
    pack = exchange.first_of(case, "pack")
    if pack is None or pack.at is None:
        return None
    masses, lift = case.computed.masses, case.computed.lift
    point = masses.named(pack.name)
    foremost = rearmost = point.place[:, 0]
    if pack.reach is not None:
        foremost = np.full_like(foremost, pack.reach.foremost.value)
        rearmost = np.full_like(rearmost, pack.reach.rearmost.value)
    others = masses.all_up * masses.centre[:, 0] - point.mass * point.place[:, 0]

    def margin(place: Samples) -> Samples:
        centre = (others + point.mass * place) / masses.all_up
        return (lift.neutral_point - centre) / lift.mean_chord

    wanted = lift.neutral_point - aim * lift.mean_chord
    place = (wanted * masses.all_up - others) / point.mass
    at_stop = others + point.mass * np.clip(place, foremost, rearmost)
    # m (x_wanted - x_ballast) = moment still too far aft
    lack = at_stop - wanted * masses.all_up
    ballast = np.maximum(lack, 0.0) / np.maximum(wanted - case.computed.nose - BALLAST_PLACE, 1e-3)
    return PackReach(
        margin_foremost=margin(foremost),
        margin_rearmost=margin(rearmost),
        place_for_aim=place,
        ballast=ballast,
        margin_best=margin(np.clip(np.full_like(place, np.median(place)), foremost, rearmost)),
    )


def holds(margin: Samples, reach: PackReach | None, wanted: Window) -> Flags:
    """Return for which samples (n,) some place within reach gives the wanted margin."""
    if reach is None:
        return (margin >= wanted.least) & (margin <= wanted.most)
    return (reach.margin_foremost >= wanted.least) & (reach.margin_rearmost <= wanted.most)


def missing(case: Case) -> tuple[str, ...]:
    """Return which keys have to be told before balance can be answered."""
    return tuple(f"items.{name}.at" for name in case.computed.masses.unplaced)


def measure(case: Case) -> Measured:
    """Return the balance figures and the chance that a reachable pack place is right."""
    masses, lift = case.computed.masses, case.computed.lift
    wanted = window(case)
    margin = (lift.neutral_point - masses.centre[:, 0]) / lift.mean_chord
    reach = pack_reach(case, wanted.aim)
    limits = (wanted.least, wanted.most)
    figures = [
        figure("static_margin", "static margin", margin, SHARE, limits=limits),
        figure("cg_x", "centre of gravity from the nose", masses.centre[:, 0], LENGTH),
        figure("neutral_point_x", "neutral point from the nose", lift.neutral_point, LENGTH),
        figure("cg_y", "centre of gravity sideways", masses.centre[:, 1], LENGTH),
        figure(
            "cg_forward_limit",
            "foremost centre of gravity wanted",
            lift.neutral_point - wanted.most * lift.mean_chord,
            LENGTH,
        ),
        figure(
            "cg_rear_limit",
            "rearmost centre of gravity wanted",
            lift.neutral_point - wanted.least * lift.mean_chord,
            LENGTH,
        ),
        figure(
            "chance_unstable",
            "chance of no stability at all",
            np.full(1, chance(margin < 0.0)),
            SHARE,
        ),
    ]
    if reach is not None:
        figures += reach_figures(case, reach, wanted)
    lacking = missing(case)
    return Measured(
        figures=tuple(figures),
        probability=None if lacking else chance(holds(margin, reach, wanted)),
        holds=None if lacking else holds(margin, reach, wanted),
        deciding=margin,
        assumed=(*masses.assumed, *lift.assumed),
        missing=lacking,
    )


def reach_figures(case: Case, reach: PackReach, wanted: Window) -> list[Figure]:
    """Return the figures of what moving the pack can do."""
    pack = exchange.first_of(case, "pack")
    stops: tuple[float | None, float | None] = (None, None)
    if pack is not None and pack.reach is not None:
        stops = (pack.reach.foremost.value, pack.reach.rearmost.value)
    limits = (wanted.least, wanted.most)
    return [
        figure(
            "pack_x_for_target",
            f"pack place for {wanted.aim:.0%} margin",
            reach.place_for_aim,
            LENGTH,
            limits=stops,
        ),
        figure(
            "margin_pack_foremost",
            "margin, pack foremost",
            reach.margin_foremost,
            SHARE,
            limits=limits,
        ),
        figure(
            "margin_pack_rearmost",
            "margin, pack rearmost",
            reach.margin_rearmost,
            SHARE,
            limits=limits,
        ),
        figure("ballast_mass", "ballast needed at the nose", reach.ballast, MASS),
        figure(
            "chance_one_place",
            "chance with the pack at its one best place",
            np.full(1, chance(reach.holds_at_best(wanted))),
            SHARE,
        ),
    ]


def pack_words(case: Case, place: float | None) -> list[str]:
    """Return where the pack would have to sit, and whether it was ever weighed."""
    pack, units = exchange.first_of(case, "pack"), case.plane.units
    if pack is None or pack.at is None or place is None:
        return []
    aim = f"For a margin of {window(case).aim:.0%} the pack would have to sit at "
    aim += show(place, "length", units)
    if pack.reach is None:
        words = [f"{aim}; it is drawn at {show(pack.at.x.value, 'length', units)}"]
    else:
        low, high = pack.reach.foremost.value, pack.reach.rearmost.value
        word = "inside" if low <= place <= high else "outside"
        reach = f"{show(low, 'length', units)} to {show(high, 'length', units)}"
        words = [f"{aim}: {word} its reach of {reach}"]
    if pack.name in case.computed.masses.estimated:
        words.append("its mass is only the label's: weigh it first")
    return words


def named(measured: Measured, name: str) -> float | None:
    """Return the middle of a figure, if there is one of that name."""
    return next((f.value for f in measured.figures if f.name == name), None)


def because(case: Case, measured: Measured) -> str:
    """Return the reason in a sentence or two."""
    units = case.plane.units
    names = {f.name: f.value for f in measured.figures}
    parts = pack_words(case, names.get("pack_x_for_target"))
    unstable = names.get("chance_unstable")
    if unstable is not None and unstable > 0.02:
        parts.append(f"as drawn, {unstable:.0%} of the planes are not stable at all")
    ends = (names.get("cg_forward_limit"), names.get("cg_rear_limit"))
    if ends[0] is not None and ends[1] is not None:
        parts += [words for words in (canard_rule(case, (ends[0], ends[1])),) if words]
    lateral = names.get("cg_y") or 0.0
    if abs(lateral) > LATERAL_SLACK * float(np.mean(case.computed.planform.span)) / 2:
        side = "right" if lateral > 0 else "left"
        parts.append(f"it hangs {show(abs(lateral), 'length', units)} to the {side}")
    thumb = rule_of_thumb(case)
    if thumb:
        parts.append(thumb)
    return "; ".join(parts) + "." if parts else "No pack to move: the margin is as drawn."


def ballast_change(case: Case, measured: Measured) -> list[Change]:
    """Return nose ballast of the computed mass."""
    names = {f.name: f.value for f in measured.figures}
    mass = names.get("ballast_mass") or 0.0
    if mass < 0.5e-3:
        return []
    grams = np.ceil(mass * 1e3)
    place = case.computed.nose + BALLAST_PLACE
    pack = exchange.first_of(case, "pack")
    keys: dict[str, object] = {
        "items.nose ballast": {
            "kind": "ballast",
            "mass": f"{grams:.0f} ± 0.5 g",
            "at": {"x": f"{place * 1e3:.0f} mm"},
            "owned": True,
        }
    }
    if pack is not None and pack.reach is not None:
        keys[f"items.{pack.name}.at.x"] = f"{pack.reach.foremost.value * 1e3:.0f} mm"
    units = case.plane.units
    do = f"Glue {whole(grams * 1e-3, 'mass', units)} of ballast at x = "
    do += whole(place, "length", units)
    if pack is not None and pack.reach is not None:
        do += ", pack at its foremost stop"
    return [Change(do=do, keys=keys)]


def move_changes(case: Case) -> list[Change]:
    """Return single parts moved to where the margin aimed at would be reached."""
    masses, lift = case.computed.masses, case.computed.lift
    wanted = float(np.median(lift.neutral_point - window(case).aim * lift.mean_chord))
    lack = float(np.median(masses.all_up)) * (float(np.median(masses.centre[:, 0])) - wanted)
    changes = []
    for item in case.plane.items:
        if item.kind in ("motor", "propeller", "glue", "tape", "wire", "rod", "mount", "pack"):
            continue
        if item.at is None or item.mass is None or item.mass.value <= 0.0:
            continue  # what weighs nothing moves no balance
        mass = item.mass.value * item.count
        place = item.at.x.value - lack / mass
        if case.computed.nose + 0.01 <= place <= case.computed.tail - 0.01:
            do = f"Move {item.name} from {from_to(item.at.x.value, place, case.plane.units)}"
            changes.append(Change(do=do, keys={f"items.{item.name}.at.x": f"{place * 1e3:.0f} mm"}))
    return changes


def pack_changes(case: Case, measured: Measured) -> list[Change]:
    """Return the pack moved within its reach, another pack, and the weighing of this one."""
    pack = exchange.first_of(case, "pack")
    if pack is None or pack.at is None:
        return []
    changes = exchange.other_packs(case) + exchange.other_packs(case, smaller=True)
    if pack.name in case.computed.masses.estimated and pack.mass is not None:
        grams = pack.mass.value * 1e3
        changes.append(
            Change(
                do=f"Weigh {pack.name} (if the scale shows the "
                f"{whole(pack.mass.value, 'mass', case.plane.units)} assumed)",
                keys={f"items.{pack.name}.mass": f"{grams:.1f} ± 0.7 g"},
                cheap=True,
            )
        )
    place = {f.name: f.value for f in measured.figures}.get("pack_x_for_target")
    if pack.reach is None and place is not None and place > case.computed.nose:
        x = f"{place * 1e3:.0f} mm"
        changes.append(
            Change(
                do=f"Make room for the pack at {whole(place, 'length', case.plane.units)}",
                keys={f"items.{pack.name}.at.x": x},
            )
        )
    return changes


def answer(case: Case) -> Answer:
    """Return the answer."""
    measured = measure(case)
    changes = [
        *ballast_change(case, measured),
        *motor_changes(case, lambda other: ballast_change(other, measure(other))),
        *longer_bay(case, named(measured, "pack_x_for_target")),
        *pack_changes(case, measured),
        *move_changes(case),
    ]
    word = verdict(measured.probability)
    cautions: tuple[str, ...] = ()
    if word in ("unsure", "unlikely", "no", "open"):
        cautions = ("Do not cut pockets yet: foam cannot be uncut.",)
    return Answer(
        question=ID,
        asks=ASKS,
        verdict=word,
        probability=measured.probability,
        figures=measured.figures,
        because=because(case, measured),
        missing=measured.missing,
        assumed=measured.assumed,
        carried_by=carried_by(case, measured),
        remedies=tried(case, changes, measure, ("static_margin", "cg_x")),
        cautions=cautions,
        provisional=bool(case.computed.masses.estimated),
    )

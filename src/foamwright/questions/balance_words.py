"""What builders hear at the field about balance, held against their own plane."""

import numpy as np

from foamwright.quantity import show, show_band
from foamwright.questions import exchange
from foamwright.questions.case import Case

THUMB = 0.30
"""Where a plane with a tail is said to balance, as a share of the mean chord; common practice, no
source."""

THUMB_BAND = (0.25, 0.33)
"""The same as it is told of any wing; common practice, no source."""

TAILED = ("tail aft", "V-tail", "T-tail")
"""Layouts the rule is made for."""


def chord_place(case: Case, share: float) -> float:
    """Return x at a share of the mean chord of the main wing [m]."""
    plan = case.computed.planform
    return float(np.median(plan.mean_edge + share * plan.mean_chord))


def rule_of_thumb(case: Case) -> str:
    """Return where the pack would sit for 30 % of the chord, and what margin that gives.

    Nothing for planes the rule is not made for, or without a pack that can be moved.
    """
    pack, units = exchange.first_of(case, "pack"), case.plane.units
    if case.plane.layout not in TAILED or pack is None or pack.at is None or pack.reach is None:
        return ""
    masses, lift = case.computed.masses, case.computed.lift
    point = masses.named(pack.name)
    there = chord_place(case, THUMB)
    short = (masses.centre[:, 0] - there) * masses.all_up / point.mass
    place = float(np.median(point.place[:, 0] - short))
    margin = float(np.median((lift.neutral_point - there) / lift.mean_chord))
    low, high = pack.reach.foremost.value, pack.reach.rearmost.value
    where = "inside" if low <= place <= high else "outside"
    return (
        f"the rule of thumb, {THUMB:.0%} of the mean chord, would ask for the pack at "
        f"{show(place, 'length', units)}, {where} its reach, and give a margin of {margin:.0%}"
    )


def canard_rule(case: Case, wanted: tuple[float, float]) -> str:
    """Return why the rule of thumb fails for a canard that balances too far aft; else nothing.

    `wanted` are foremost and rearmost centre of gravity [m].
    """
    surfaces, units = case.plane.airframe.surfaces, case.plane.units
    if not any(surface.role == "canard" for surface in surfaces):
        return ""
    centre = float(np.median(case.computed.masses.centre[:, 0]))
    if centre <= wanted[1]:
        return ""
    ends = [chord_place(case, share) for share in THUMB_BAND]
    there = show_band(ends[0], ends[1], "length", units)
    least, most = (f"{share:.0%}" for share in THUMB_BAND)
    return (
        f"a canard balances ahead of where its wing alone would: here at "
        f"{show_band(*wanted, 'length', units)}; {least} to {most} of the wing's chord, right for "
        f"a plane with its tail behind, is {there} and tumbles"
    )

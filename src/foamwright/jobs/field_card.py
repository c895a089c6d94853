"""A card for the flying field: what the answers say that is wanted there, and nothing else."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.jobs.ask import with_lessons
from foamwright.model.landing import wind_of
from foamwright.model.performance import usable_charge
from foamwright.physics.arrays import Samples
from foamwright.questions.answer import Answer, Figure, Verdict
from foamwright.questions.case import Case
from foamwright.questions.chance import figure
from foamwright.questions.register import QUESTIONS

CHARGE = ("A s", "charge")

WANTED: Mapping[str, tuple[str, ...]] = {
    "Balance": ("all_up_mass", "cg_forward_limit", "cg_rear_limit", "cg_x", "pack_x_for_target"),
    "Throws": ("throw_",),
    "Launch": ("launch_throttle", "launch_angle", "launch_probability", "release_over_stall"),
    "In the air": (
        "stall_speed",
        "stall_speed_45",
        "approach_speed",
        "approach_banked",
        "ground_speed_into",
        "ground_speed_with",
        "go_around_throttle",
        "wobble_speed",
    ),
    "Pack": ("turn_back_charge", "landed_charge", "endurance", "cruise_speed"),
}
"""Headings, and the figures under them by their JSON name or how it begins."""

DARING = ("no", "unlikely")
"""Verdicts that are told on the card."""


HINDSIGHT = ("bench", "debrief")
"""Questions of what was measured: their lack keeps nobody from flying."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Heading:
    """One part of the card."""

    title: str
    figures: tuple[Figure, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Doubt:
    """A question that does not stand."""

    asks: str
    verdict: Verdict


@dataclass(frozen=True, kw_only=True, slots=True)
class FieldCard:
    """What is wanted at the field."""

    headings: tuple[Heading, ...]
    """Those under which there is something to tell."""
    doubts: tuple[Doubt, ...]
    """Questions that stand at unlikely or worse."""
    cautions: tuple[str, ...]
    """The usual ones, each once."""
    missing: tuple[str, ...]
    """What would have to be told for the rest of the card."""


def turn_back(charge: Samples, out: Samples, home: Samples) -> Samples:
    """Return the charge used (n,) [A s] at which to turn, flying straight out and straight home.

    The same current both ways; `out` and `home` are speeds over the ground [m s^-1]. It is the
    point of safe return of air navigation: what is flown out is home / (out + home) of it. Who
    makes no way home never gets away: nothing. Not a number for who cannot fly level.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(home <= 0.0, 0.0, home / (out + home))
    return charge * share


def pack_figures(case: Case) -> list[Figure]:
    """Return at what charge to turn back and to be on the ground; none without a drive."""
    if case.computed.drive_missing:
        return []
    charge = usable_charge(case.computed.complete_drive)
    cruise = case.computed.cruise.speed
    wind = wind_of(case.plane, case.computed.draws.branched())
    back = turn_back(charge, cruise + wind, cruise - wind)
    return [
        figure("turn_back_charge", "turn back once this is used, gone straight out", back, CHARGE),
        figure("landed_charge", "be on the ground once this is used", charge, CHARGE),
    ]


def chosen(figures: Iterable[Figure]) -> tuple[Heading, ...]:
    """Return the figures the card wants, under their headings."""
    first = {one.name: one for one in reversed(tuple(figures)) if one.value is not None}
    known = tuple(reversed(first.values()))
    found = []
    for title, names in WANTED.items():
        own = [one for name in names for one in known if fits(one.name, name)]
        if own:
            found.append(Heading(title=title, figures=tuple(own)))
    return tuple(found)


def fits(name: str, wanted: str) -> bool:
    """Return whether a figure is the wanted one, or one of the wanted kind."""
    return name.startswith(wanted) if wanted.endswith("_") else name == wanted


def useful(answer: Answer) -> bool:
    """Return whether an answer has anything for the card."""
    names = [name for group in WANTED.values() for name in group]
    return any(fits(one.name, name) for one in answer.figures for name in names)


def lacks(answer: Answer) -> bool:
    """Return whether an answer has no figure at all for want of something told."""
    return not answer.figures and answer.question not in HINDSIGHT


def card_of(answers: Iterable[Answer], more: Iterable[Figure] = ()) -> FieldCard:
    """Return the card that some answers make."""
    told = tuple(answers)
    figures = [one for answer in told for one in answer.figures]
    used = [answer for answer in told if useful(answer)]
    return FieldCard(
        headings=chosen([*figures, *more]),
        doubts=tuple(Doubt(asks=a.asks, verdict=a.verdict) for a in told if a.verdict in DARING),
        cautions=tuple(dict.fromkeys(words for answer in used for words in answer.cautions)),
        missing=tuple(dict.fromkeys(key for a in told if lacks(a) for key in a.missing)),
    )


def field_card(case: Case) -> FieldCard:
    """Return the card of a plane."""
    answers = [with_lessons(question.answer(case), case) for question in QUESTIONS]
    return card_of(answers, pack_figures(case))

"""Changes worth a look: what could be done to a plane that exists on paper or on the bench."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.plane.gear import Motor, Pack, Propeller, SpeedController
from foamwright.quantity import show
from foamwright.questions import balance, exchange
from foamwright.questions.case import Case
from foamwright.questions.remedies import Change

SWAP, REWIRE, REBUILD, TALK = 5.0, 40.0, 60.0, 1.0
"""Minutes for a part that unscrews or unplugs, one that is soldered, one that is built in, and for
something that is only done otherwise; common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Candidate:
    """One change."""

    do: str
    """What to do, in the imperative."""
    keys: Mapping[str, object]
    """Keys of the plane file."""
    minutes: float
    """How long it takes."""


def from_changes(changes: list[Change], minutes: float) -> Iterator[Candidate]:
    """Yield changes of the questions as candidates."""
    for change in changes:
        yield Candidate(do=change.do, keys=change.keys, minutes=minutes)


def propellers(case: Case) -> Iterator[Candidate]:
    """Yield the neighbours of the propeller."""
    steps = ((0.0, 1.0), (0.0, -1.0), (0.5, 0.0), (-0.5, 0.0), (-0.5, 1.0))
    yield from from_changes(exchange.other_propellers(case, steps), SWAP)


def packs(case: Case) -> Iterator[Candidate]:
    """Yield the neighbours of the pack, and the pack where the balance wants it."""
    found = exchange.other_packs(case) + exchange.other_packs(case, smaller=True)
    yield from from_changes(found + exchange.other_packs(case, cell_more=True), SWAP)
    pack = exchange.first_of(case, "pack")
    if not isinstance(pack, Pack) or pack.at is None or pack.reach is None:
        return
    reach = balance.pack_reach(case, balance.window(case).aim)
    if reach is None:
        return
    place = float(np.median(reach.place_for_aim))
    place = min(max(place, pack.reach.foremost.value), pack.reach.rearmost.value)
    if abs(place - pack.at.x.value) > 2e-3:
        yield Candidate(
            do=f"Strap the pack {show(place, 'length', case.plane.units)} behind the nose",
            keys={f"items.{pack.name}.at.x": f"{place * 1e3:.0f} mm"},
            minutes=TALK,
        )


def lighter(case: Case) -> Iterator[Candidate]:
    """Yield parts that can stay at home."""
    kinds = ("gps", "ballast", "beeper")
    yield from from_changes(exchange.without(case, kinds), SWAP)


def drive(case: Case) -> Iterator[Candidate]:
    """Yield air for the speed controller and the next larger one."""
    for item in case.plane.items:
        if isinstance(item, SpeedController) and item.cooling != "open air":
            yield Candidate(
                do=f"Give {item.name} air: an inlet, and an exit twice as large",
                keys={f"items.{item.name}.cooling": "open air"},
                minutes=15.0,
            )


def surface(case: Case) -> Iterator[Candidate]:
    """Yield a cleaner airframe."""
    airframe = case.plane.airframe
    if airframe.finish != "clean" or airframe.hinge_gaps != "sealed":
        yield Candidate(
            do="Fair and seal every seam, pocket and hinge gap",
            keys={
                "airframe.finish": "clean",
                "airframe.hinge_gaps": "sealed",
                "airframe.open_pockets": None,
            },
            minutes=REBUILD,
        )


def throwing(case: Case) -> Iterator[Candidate]:
    """Yield another way to throw."""
    thrower = case.plane.thrower
    speed = 8.0 if thrower.speed is None else thrower.speed.value
    if not any(isinstance(item, Motor | Propeller) for item in case.plane.items):
        return
    spread = 1.0 if thrower.speed is None else thrower.speed.spread or 1.0
    yield Candidate(
        do="Throw on the run",
        keys={"thrower.speed": f"{speed + 2.5:.1f} ± {spread:.1f} m/s"},
        minutes=TALK,
    )
    if thrower.steers != "stabiliser" and exchange.first_of(case, "flight controller") is not None:
        yield Candidate(
            do="Let the stabiliser hold it from the first moment",
            keys={"thrower.steers": "stabiliser"},
            minutes=SWAP,
        )


def candidates(case: Case) -> tuple[Candidate, ...]:
    """Return every change worth a look, each once."""
    found = [
        *packs(case),
        *propellers(case),
        *lighter(case),
        *drive(case),
        *surface(case),
        *throwing(case),
    ]
    return tuple({candidate.do: candidate for candidate in found}.values())

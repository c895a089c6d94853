"""What do the rules say at this mass and speed?"""

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.questions import exchange
from foamwright.questions.answer import Answer, Figure
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import ENERGY, MASS, SPEED, chance, figure, verdict
from foamwright.questions.remedies import Change, tried
from foamwright.questions.thresholds import Threshold, of_region

ID = "rules"
ASKS = "Does it stay below the lightest thresholds of the rules?"

CAUTION = (
    "No legal advice: check the law in force where you fly, the place's own rules, and ask your "
    "authority or club."
)


def mass_and_speed(case: Case) -> tuple[Samples, Samples]:
    """Return all-up mass and level top speed (n,); an unfinished drive has no speed."""
    mass = case.computed.masses.all_up
    if case.computed.drive_missing:
        return mass, np.full(mass.shape, np.nan)
    return mass, np.nan_to_num(case.computed.full_throttle.top_speed, nan=0.0)


def below(threshold: Threshold, mass: Samples, speed: Samples) -> Flags:
    """Return for which samples (n,) the plane stays below a threshold."""
    return threshold.below(mass, speed, 0.5 * mass * speed**2)


def nearest(found: tuple[Threshold, ...], names: tuple[str, ...]) -> float | None:
    """Return the smallest limit of that kind in the region."""
    values = [getattr(t, name) for t in found for name in names if getattr(t, name) is not None]
    return min(values, default=None)


def share_below(found: Figure, mass: Samples, speed: Samples) -> float:
    """Return the share of samples below a figure's limit; 2 where it has none."""
    values = {"all_up_mass": mass, "top_speed": speed, "kinetic_energy": 0.5 * mass * speed**2}
    if found.limit_high is None:
        return 2.0
    return chance(values[found.name] < found.limit_high)


def measure(case: Case) -> Measured:
    """Return mass, speed and energy against the region's freest class."""
    mass, speed = mass_and_speed(case)
    found = of_region(case.plane.region)
    freest = tuple(t for t in found if t.freest)
    figures: tuple[Figure, ...] = (
        figure(
            "all_up_mass",
            "all-up mass",
            mass,
            MASS,
            limits=(None, nearest(freest, ("mass_below", "mass_up_to"))),
        ),
        figure(
            "top_speed",
            "level top speed",
            speed,
            SPEED,
            limits=(None, nearest(freest, ("speed_below",))),
        ),
        figure(
            "kinetic_energy",
            "energy at top speed",
            0.5 * mass * speed**2,
            ENERGY,
            limits=(None, nearest(found, ("energy_below",))),
        ),
    )
    needs_speed = any(t.speed_below is not None for t in freest)
    lacking = case.computed.drive_missing if needs_speed else ()
    # The limit most planes break is told first.
    figures = tuple(sorted(figures, key=lambda f: share_below(f, mass, speed)))
    holds = np.ones(mass.shape, dtype=bool)
    for threshold in freest:
        holds &= below(threshold, mass, speed)
    hangs_on_speed = needs_speed and not lacking
    return Measured(
        figures=figures,
        probability=None if lacking else chance(holds),
        deciding=speed if hangs_on_speed else mass,
        decides="top_speed" if hangs_on_speed else "all_up_mass",
        assumed=(*case.computed.masses.assumed, *case.computed.drive_assumed),
        missing=lacking,
    )


def because(case: Case) -> str:
    """Return every threshold with the chance to stay below it and its citation."""
    mass, speed = mass_and_speed(case)
    parts = []
    for threshold in of_region(case.plane.region):
        share = chance(below(threshold, mass, speed))
        stays = f"{share:.0%} of such planes stay below"
        so = threshold.says if share >= 0.5 else threshold.otherwise
        held = "" if threshold.held == "read" else f", {threshold.held}"
        parts.append(f"{threshold.name}: {stays}, so {so} [{threshold.citation}{held}]")
    return "; ".join(parts) + "."


def changes(case: Case) -> list[Change]:
    """Return what might bring it below."""
    found = exchange.other_packs(case, smaller=True)
    found += exchange.other_propellers(case, ((0.0, -1.0), (-0.5, -1.0)))
    found += exchange.without(case, ("gps", "ballast"))
    return found


def answer(case: Case) -> Answer:
    """Return the answer."""
    measured = measure(case)
    return Answer(
        question=ID,
        asks=ASKS,
        verdict=verdict(measured.probability),
        probability=measured.probability,
        figures=measured.figures,
        because=because(case),
        missing=measured.missing,
        assumed=(f"region {case.plane.region}", *measured.assumed),
        carried_by=carried_by(case, measured),
        remedies=tried(case, changes(case), measure, ("all_up_mass", "top_speed")),
        cautions=(CAUTION,),
        provisional=bool(case.computed.masses.estimated),
    )

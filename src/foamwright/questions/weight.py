"""Is it light enough?"""

from foamwright.quantity import show
from foamwright.questions import exchange
from foamwright.questions.answer import Answer
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import MASS, WING_LOADING, chance, figure, verdict
from foamwright.questions.remedies import Change, tried, whole

ID = "weight"
ASKS = "Is it light enough?"


def measure(case: Case) -> Measured:
    """Return all-up mass and wing loading, and the chance to stay under the mass line."""
    masses, lift = case.computed.masses, case.computed.planform
    line = case.plane.targets.mass_line
    limit = None if line is None else line.value
    figures = (
        figure("all_up_mass", "all-up mass", masses.all_up, MASS, limits=(None, limit)),
        figure("wing_loading", "wing loading", masses.all_up / lift.area, WING_LOADING),
        figure("empty_mass", "without the pack", masses.all_up - case.computed.pack_mass, MASS),
    )
    return Measured(
        figures=figures,
        probability=None if limit is None else chance(masses.all_up <= limit),
        holds=None if limit is None else masses.all_up <= limit,
        deciding=masses.all_up,
        assumed=masses.assumed,
        missing=() if limit is not None else ("targets.mass_line, the mass to stay under",),
    )


def heaviest_estimate(case: Case) -> list[Change]:
    """Return the weighing that narrows the sum most, as if it confirmed the estimate."""
    estimated = set(case.computed.masses.estimated)
    found = [item for item in case.plane.items if item.name in estimated and item.mass]
    if not found:
        return []
    item = max(found, key=lambda i: (i.mass.value if i.mass else 0.0) * i.count)
    mass = item.mass.value if item.mass else 0.0
    grams, assumed = mass * 1e3, whole(mass, "mass", case.plane.units)
    do = f"Weigh {item.name} (if the scale shows the {assumed} assumed)"
    return [Change(do=do, keys={f"items.{item.name}.mass": f"{grams:.1f} ± 0.7 g"}, cheap=True)]


def answer(case: Case) -> Answer:
    """Return the answer."""
    measured = measure(case)
    changes = [
        *exchange.other_packs(case, smaller=True),
        *exchange.without(case, ("gps", "beeper", "camera", "ballast")),
        *heaviest_estimate(case),
    ]
    heaviest = sorted(case.computed.masses.points, key=lambda p: -float(p.mass.mean()))[:3]
    units = case.plane.units
    parts = ", ".join(f"{p.name} {show(float(p.mass.mean()), 'mass', units)}" for p in heaviest)
    return Answer(
        question=ID,
        asks=ASKS,
        verdict=verdict(measured.probability),
        probability=measured.probability,
        figures=measured.figures,
        because=f"Heaviest are {parts}.",
        missing=measured.missing,
        assumed=measured.assumed,
        carried_by=carried_by(case, measured),
        remedies=tried(case, changes, measure, ("all_up_mass",)),
        provisional=bool(case.computed.masses.estimated),
    )

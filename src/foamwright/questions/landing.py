"""How slow can it go, and at what speed do I land?"""

from foamwright.quantity import show
from foamwright.questions import exchange
from foamwright.questions.answer import Answer
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import NUMBER, SPEED, chance, figure, verdict
from foamwright.questions.remedies import tried

ID = "landing"
ASKS = "How slow can it go, and at what speed do I land?"


def measure(case: Case) -> Measured:
    """Return stall, approach and glide."""
    target = case.plane.targets.stall_speed
    limit = None if target is None else target.value
    slow = case.computed.slow_flight
    figures = (
        figure("stall_speed", "stall speed", slow.stall_speed, SPEED, limits=(None, limit)),
        figure("approach_speed", "approach, 1.3 times stall", slow.approach_speed, SPEED),
        figure("stall_speed_45", "stall speed banked 45 degrees", slow.stall_speed_banked, SPEED),
        figure("glide_ratio", "best glide ratio", slow.glide_ratio, NUMBER),
        figure("glide_speed", "speed of best glide", slow.glide_speed, SPEED),
        figure("sink_rate", "least sink, motor off", slow.sink_rate, SPEED),
        figure("maximum_lift", "largest lift coefficient", slow.maximum_lift, NUMBER),
    )
    return Measured(
        figures=figures,
        probability=None if limit is None else chance(slow.stall_speed <= limit),
        deciding=slow.stall_speed,
        assumed=(*case.computed.masses.assumed, *case.computed.lift.assumed, *slow.assumed),
        missing=()
        if limit is not None
        else ("targets.stall_speed, the slowest flight you can live with",),
    )


def because(case: Case, measured: Measured) -> str:
    """Return the speeds to keep in mind."""
    units = case.plane.units
    approach = measured.named("approach_speed").value or 0.0
    banked = measured.named("stall_speed_45").value or 0.0
    return (
        f"Come in at {show(approach, 'speed', units)} through the air, more in gusts; in a "
        f"45 degree turn it already stalls at {show(banked, 'speed', units)}."
    )


def answer(case: Case) -> Answer:
    """Return the answer."""
    measured = measure(case)
    changes = [
        *exchange.other_packs(case, smaller=True),
        *exchange.without(case, ("gps", "ballast", "camera")),
    ]
    return Answer(
        question=ID,
        asks=ASKS,
        verdict=verdict(measured.probability),
        probability=measured.probability,
        figures=measured.figures,
        because=because(case, measured),
        missing=measured.missing,
        assumed=measured.assumed,
        carried_by=carried_by(case, measured),
        remedies=tried(case, changes, measure, ("stall_speed", "approach_speed")),
        cautions=("Find the true stall at height before the first landing.",),
        provisional=bool(case.computed.masses.estimated),
    )

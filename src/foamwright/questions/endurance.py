"""How long and how far?"""

import numpy as np

from foamwright.questions import exchange
from foamwright.questions.answer import Answer
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import (
    CURRENT,
    ENERGY_PER_DISTANCE,
    LENGTH,
    SHARE,
    SPEED,
    TIME,
    chance,
    figure,
    verdict,
)
from foamwright.questions.remedies import Change, tried

ID = "endurance"
ASKS = "How long and how far?"

CAUTION = (
    "A lithium-polymer pack run flat or hot can burn: land with a fifth left, let it cool, charge "
    "it watched on something that does not burn."
)


def measure(case: Case) -> Measured:
    """Return the cruise, how long and how far it carries."""
    target = case.plane.targets.endurance
    limit = None if target is None else target.value
    lacking = case.computed.drive_missing
    if lacking:
        return Measured(
            figures=(),
            probability=None,
            deciding=np.full(case.computed.samples, np.nan),
            missing=lacking,
        )
    flight = case.computed.cruise
    figures = (
        figure("endurance", "endurance at cruise", flight.endurance, TIME, limits=(limit, None)),
        figure("cruise_speed", "cruise, best range", flight.speed, SPEED),
        figure("cruise_current", "current at cruise", flight.current, CURRENT),
        figure("range", "range in still air", flight.distance, LENGTH),
        figure("energy_per_km", "energy per way", flight.energy_per_way, ENERGY_PER_DISTANCE),
        figure("loiter_speed", "slowest burn at", flight.loiter_speed, SPEED),
        figure("loiter_endurance", "endurance there", flight.loiter_endurance, TIME),
        figure("full_throttle_time", "at full throttle", case.computed.full_throttle.lasts, TIME),
        figure(
            "usable_share", "share of the charge used", case.computed.complete_drive.usable, SHARE
        ),
    )
    lasting = np.nan_to_num(flight.endurance, nan=0.0)
    return Measured(
        figures=figures,
        probability=None if limit is None else chance(lasting >= limit),
        holds=None if limit is None else lasting >= limit,
        deciding=flight.endurance,
        assumed=(
            *case.computed.drive_assumed,
            *case.computed.air.assumed,
            *case.computed.lift.assumed,
            "still air and one speed all the way; mixed flying with full throttle takes far more",
        ),
        missing=() if limit is not None else ("targets.endurance, the time you want",),
    )


def because(case: Case) -> str:
    """Return where the charge goes."""
    flight = case.computed.cruise
    gear = float(np.nanmedian(flight.gear_share))
    overall = float(np.nanmedian(flight.efficiency))
    return (
        f"At cruise {gear:.0%} of the current feeds video, boards and servos, and {overall:.0%} "
        "of what the motor side takes becomes thrust power."
    )


def changes(case: Case) -> list[Change]:
    """Return what might make it last."""
    found = exchange.other_packs(case)
    found += exchange.other_propellers(case, ((0.5, 0.0), (0.5, -0.5), (0.0, 0.5)))
    found += exchange.without(case, ("video transmitter", "camera", "gps"))
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
        because=because(case) if measured.figures else "The drive is not complete.",
        missing=measured.missing,
        assumed=measured.assumed,
        carried_by=carried_by(case, measured),
        remedies=tried(case, changes(case), measure, ("endurance", "range")),
        cautions=(CAUTION,),
        provisional=case.computed.drive_provisional,
    )

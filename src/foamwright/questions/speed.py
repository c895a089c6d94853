"""How fast will it go?"""

import numpy as np

from foamwright.quantity import show
from foamwright.questions import exchange
from foamwright.questions.answer import Answer
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import CURRENT, NUMBER, PULL, ROTATION, SPEED, chance, figure
from foamwright.questions.chance import verdict as word_for
from foamwright.questions.remedies import Change, tried

ID = "speed"
ASKS = "How fast will it go?"

CAUTION = (
    "A fast plane hurts: fly it over empty ground, away from people, where local rules allow it; "
    "keep fingers out of the propeller's plane and take it off for bench work."
)


def measure(case: Case) -> Measured:
    """Return level top speed and what goes with it."""
    target = case.plane.targets.top_speed
    limit = None if target is None else target.value
    lacking = case.computed.drive_missing
    if lacking:
        return Measured(
            figures=(),
            probability=None,
            deciding=np.full(case.computed.samples, np.nan),
            missing=lacking,
        )
    flight = case.computed.full_throttle
    figures = (
        figure("top_speed", "level top speed", flight.top_speed, SPEED, limits=(limit, None)),
        figure("top_speed_current", "current at that speed", flight.top_current, CURRENT),
        figure("static_thrust", "thrust standing still", flight.static_thrust, PULL),
        figure(
            "thrust_to_weight",
            "thrust standing still over weight",
            flight.static_thrust / case.computed.weight,
            NUMBER,
        ),
        figure("climb_rate", "fastest climb", flight.climb_rate, SPEED),
        figure("propeller_rpm", "propeller at top speed", flight.top_revolutions, ROTATION),
        figure("pitch_speed", "pitch speed at that rpm", flight.pitch_speed, SPEED),
    )
    reached = np.nan_to_num(flight.top_speed, nan=0.0)
    return Measured(
        figures=figures,
        probability=None if limit is None else chance(reached >= limit),
        holds=None if limit is None else reached >= limit,
        deciding=flight.top_speed,
        assumed=(*case.computed.drive_assumed, *flight.assumed, *case.computed.lift.assumed),
        missing=() if limit is not None else ("targets.top_speed, the speed you want",),
    )


def because(case: Case) -> str:
    """Return what limits the speed: the propeller's pitch, or power against drag."""
    flight = case.computed.full_throttle
    units = case.plane.units
    flies = float(np.mean(np.isfinite(flight.top_speed)))
    if flies < 0.5:
        return f"Only {flies:.0%} of such planes can hold level flight at full throttle."
    share = float(np.nanmedian(flight.top_speed / flight.pitch_speed))
    drag = float(np.nanmedian(flight.top_drag))
    efficiency = float(np.nanmedian(flight.top_efficiency))
    limit = "the pitch of the propeller" if share > 0.85 else "power against drag"
    return (
        f"It reaches {share:.0%} of its pitch speed, so {limit} sets the end; there "
        f"{show(drag, 'force', units)} of drag meet a propeller of {efficiency:.0%} efficiency."
    )


def changes(case: Case) -> list[Change]:
    """Return what might make it faster."""
    found = exchange.other_propellers(case, ((0.0, 1.0), (-0.5, 1.0), (0.5, 0.5)))
    found += exchange.other_packs(case, cell_more=True)
    if case.plane.airframe.finish != "clean":
        found.append(
            Change(
                do="Fair and seal every seam, pocket and gap",
                keys={
                    "airframe.finish": "clean",
                    "airframe.hinge_gaps": "sealed",
                    "airframe.open_pockets": None,
                },
            )
        )
    return found


def answer(case: Case) -> Answer:
    """Return the answer."""
    measured = measure(case)
    return Answer(
        question=ID,
        asks=ASKS,
        verdict=word_for(measured.probability),
        probability=measured.probability,
        figures=measured.figures,
        because=because(case) if measured.figures else "The drive is not complete.",
        missing=measured.missing,
        assumed=measured.assumed,
        carried_by=carried_by(case, measured),
        remedies=tried(case, changes(case), measure, ("top_speed", "top_speed_current")),
        cautions=(CAUTION,),
        provisional=case.computed.drive_provisional,
    )

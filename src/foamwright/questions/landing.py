"""How slow can it go, and at what speed do I land?"""

from foamwright.model.landing import Landing, go_around_of, landing_of
from foamwright.quantity import show
from foamwright.questions import exchange
from foamwright.questions.answer import Answer, Figure
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import (
    ANGLE,
    DISTANCE,
    NUMBER,
    SHARE,
    SPEED,
    chance,
    figure,
    verdict,
)
from foamwright.questions.remedies import tried

ID = "landing"
ASKS = "How slow can it go, and at what speed do I land?"


def sitting_down(case: Case, found: Landing) -> list[Figure]:
    """Return approach in turn and gusts, elevator, flare, stop and speeds over the ground."""
    figures = [
        figure("approach_banked", "approach banked 30 degrees", found.approach_banked, SPEED),
        figure("elevator_speed", "slowest the elevator holds", found.elevator_speed, SPEED),
        figure(
            "elevator_left",
            "up elevator left at the stall",
            found.elevator_left,
            ANGLE,
            limits=(0.0, None),
        ),
        figure("flare_distance", "float in the flare", found.flare_distance, DISTANCE),
        figure("stop_distance", "slide on grass", found.stop_distance, DISTANCE),
    ]
    if case.plane.site.wind is not None:
        figures += [
            figure("approach_gusts", "approach in gusts", found.approach_gusts, SPEED),
            figure(
                "ground_speed_into",
                "slowest on the screen into the wind",
                found.ground_into,
                SPEED,
            ),
            figure(
                "ground_speed_with",
                "slowest on the screen with the wind",
                found.ground_with,
                SPEED,
            ),
        ]
    return [one for one in figures if one.value is not None]


def going_around(case: Case) -> list[Figure]:
    """Return throttle and climb at approach speed with the pack nearly flown."""
    found = go_around_of(case.computed)
    if found is None:
        return []
    figures = [
        figure(
            "go_around_throttle", "throttle for level flight at approach", found.throttle, SHARE
        ),
        figure(
            "go_around_climb",
            "climb at approach, full throttle, pack nearly flown",
            found.climb,
            SPEED,
        ),
    ]
    return [one for one in figures if one.value is not None]


def measure(case: Case) -> Measured:
    """Return stall, approach and glide."""
    target = case.plane.targets.stall_speed
    limit = None if target is None else target.value
    slow = case.computed.slow_flight
    found = landing_of(case.computed)
    figures = (
        figure("stall_speed", "stall speed", slow.stall_speed, SPEED, limits=(None, limit)),
        figure("approach_speed", "approach, 1.3 times stall", slow.approach_speed, SPEED),
        figure("stall_speed_45", "stall speed banked 45 degrees", slow.stall_speed_banked, SPEED),
        figure("glide_ratio", "best glide ratio", slow.glide_ratio, NUMBER),
        figure("glide_speed", "speed of best glide", slow.glide_speed, SPEED),
        figure("sink_rate", "least sink, motor off", slow.sink_rate, SPEED),
        figure("maximum_lift", "largest lift coefficient", slow.maximum_lift, NUMBER),
        *sitting_down(case, found),
        *going_around(case),
    )
    return Measured(
        figures=figures,
        probability=None if limit is None else chance(slow.stall_speed <= limit),
        deciding=slow.stall_speed,
        assumed=(
            *case.computed.masses.assumed,
            *case.computed.lift.assumed,
            *slow.assumed,
            *found.assumed,
        ),
        missing=()
        if limit is not None
        else ("targets.stall_speed, the slowest flight you can live with",),
    )


def because(case: Case, measured: Measured) -> str:
    """Return the speeds to keep in mind."""
    units = case.plane.units
    approach = measured.named("approach_speed").value or 0.0
    banked = measured.named("stall_speed_45").value or 0.0
    said = (
        f"Come in at {show(approach, 'speed', units)} through the air, more in gusts; in a "
        f"45 degree turn it already stalls at {show(banked, 'speed', units)}."
    )
    told = {one.name: one.value or 0.0 for one in measured.figures}
    if "ground_speed_into" in told:
        into, along = (told[f"ground_speed_{way}"] for way in ("into", "with"))
        said += (
            f" In this wind let the screen show no less than {show(into, 'speed', units)} into it "
            f"and {show(along, 'speed', units)} with it."
        )
    if told.get("elevator_left", 1.0) < 0.0:
        said += " The elevator runs out before the wing stalls: it mushes, and does not flare."
    if told.get("go_around_climb", 1.0) < 0.0:
        said += " At that speed it cannot climb away: keep it faster until the field is made."
    return said


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

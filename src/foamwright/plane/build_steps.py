"""The order of the build as a graph: what comes before what, and what must stand before the knife.

Which steps there are follows from the plane file: a part that sits in the foam has a pocket to cut,
a servo is tested before it is glued. The order itself is common practice, no source.
"""

from collections.abc import Iterator

from foamwright.plane.build_cutting import cutting, planning, table_tests
from foamwright.plane.build_joining import closing, gluing, soldering
from foamwright.plane.build_step import (
    FIELD,
    PEOPLE,
    PROPELLER,
    READY,
    BuildStep,
    controls,
    ids,
    of_kind,
    step,
)
from foamwright.plane.plane import Plane


def checking(plane: Plane) -> Iterator[BuildStep]:
    """Yield the last checks before the first throw."""
    if controls(plane):
        yield step(
            "set-throws",
            "check",
            "Connect the rods, set the throws in millimetres at the trailing edge, centre at rest",
            READY,
            needs=("glue-wing",),
            holds=("control",),
        )
        yield step(
            "check-directions",
            "test",
            "Directions once more: stick right, right trailing edge up; stick back, elevator up; "
            "then tilt the plane by hand and see the stabiliser work against it",
            READY,
            needs=("set-throws",),
            cautions=(PROPELLER,),
        )
    yield step(
        "weigh-all",
        "weigh",
        "Weigh the plane ready to fly and balance it on its marks, pack in, hatch closed",
        READY,
        needs=("glue-wing",),
        holds=("balance", "weight"),
        why="everything planned is checked by these two numbers",
    )


def arming(plane: Plane) -> Iterator[BuildStep]:
    """Yield the checks with the propeller on, and the range check."""
    if of_kind(plane, "propeller"):
        yield step(
            "check-propeller",
            "test",
            "Propeller on: hand and face right (the print faces forward), nut tight, air pushed "
            "backwards; first at a whisper, the plane held down",
            READY,
            needs=("weigh-all", *(["solder-power"] if of_kind(plane, "motor", "esc") else [])),
            why="a propeller on backwards gives half the thrust at nearly the full current",
            cautions=("Eye protection, sleeves tied, nobody in the propeller's plane.",),
        )
        yield step(
            "static-thrust",
            "test",
            "Full throttle for three seconds on a scale: thrust, current, volts, into the bench "
            "notes",
            READY,
            needs=("check-propeller",),
            why="one reading halves the spread of everything the propeller does",
            cautions=("Hold it down so that it cannot leave the scale; pack and ESC hand-warm.",),
        )
    if of_kind(plane, "receiver"):
        yield step(
            "range-check",
            "test",
            "Range check as the radio's maker tells, motor running and video on; then transmitter "
            "off, and the motor stops",
            READY,
            needs=("weigh-all",),
            cautions=(PROPELLER,),
        )


def flying(before: tuple[BuildStep, ...]) -> Iterator[BuildStep]:
    """Yield the first throw and the first fast dive; every check comes before them."""
    tests = ids(before, "test", "check", "weigh")
    yield step(
        "first-throw",
        "fly",
        "First throw: into the wind, level, at the throttle and angle that launch tells, over soft "
        "grass",
        FIELD,
        needs=(*tests, "glue-wing"),
        holds=("balance", "weight", "launch", "control", "landing"),
        irreversible=True,
        cautions=(PEOPLE, "The hand stays clear of the propeller's plane."),
    )
    yield step(
        "find-stall",
        "fly",
        "Trim at half throttle; at height find the stall, clean and in a turn, and land at the "
        "speed that landing tells",
        FIELD,
        needs=("first-throw",),
        cautions=(PEOPLE,),
    )
    yield step(
        "first-fast-dive",
        "fly",
        "First full throttle and the first fast dive, a little faster each time, height to spare",
        FIELD,
        needs=("find-stall",),
        holds=("strength", "control", "electrics", "speed"),
        irreversible=True,
        why="flutter, reversal and a folding wing all wait at speed",
        cautions=(PEOPLE,),
    )


def build_steps(plane: Plane) -> tuple[BuildStep, ...]:
    """Return every step of a plane's build, each after all that it needs."""
    before = (
        *planning(),
        *table_tests(plane),
        *cutting(plane),
        *soldering(plane),
        *gluing(plane),
        *closing(plane),
        *checking(plane),
        *arming(plane),
    )
    return (*before, *flying(before))

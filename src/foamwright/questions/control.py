"""Will it obey without wobbling?"""

from dataclasses import dataclass

import numpy as np

from foamwright.model.control import MIXED, Held, roll_throw, second_left
from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.gear.linkage import BUCKLING_MARGIN
from foamwright.quantity import show
from foamwright.questions import handling
from foamwright.questions.answer import Answer, Figure
from foamwright.questions.case import Case, Measured, carried_by
from foamwright.questions.chance import (
    ANGLE,
    LENGTH,
    NUMBER,
    SHARE,
    SPEED,
    TIME,
    TURN_RATE,
    chance,
    figure,
    verdict,
)
from foamwright.questions.control_changes import changes
from foamwright.questions.remedies import tried
from foamwright.questions.throws import MIXED_PITCH, first_throws, low_rate, said_of

ID = "control"
ASKS = "Will it obey without wobbling?"

ROLL_WINDOW = (float(np.radians(90.0)), float(np.radians(450.0)))
"""Roll rate with full throw at cruise that a hand on two sticks gets along with [rad s^-1]: below
it hardly comes round, above it twitches; common practice, no source."""

LOOSE = 0.001
"""Free play of a trailing edge from which it may flutter [m]; common practice, no source."""

CAUTIONS = (
    "Take the propeller off while you move servos on the bench.",
    "Check that every surface moves the right way, by stick and by stabiliser, before each flight.",
    "Fly faster in small steps, at height, and take the throttle back when anything buzzes.",
)


EFFECTS = ("roll_rate", "servo_torque_margin", "pushrod_margin", "wobble_speed")
"""Figures that a remedy is told by."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Demands:
    """What has to hold, (n,) each."""

    holds: dict[str, Flags]
    """By what it is called."""

    @property
    def together(self) -> Flags:
        """Where all hold (n,)."""
        return np.asarray(np.all(list(self.holds.values()), axis=0))

    @property
    def binding(self) -> str:
        """The one that holds least often."""
        return min(self.holds, key=lambda name: float(np.mean(self.holds[name])))


def window(case: Case) -> tuple[float, float]:
    """Return the roll rates wanted: the builder's own, or the usual ones [rad s^-1]."""
    low, high = case.plane.targets.roll_rate_low, case.plane.targets.roll_rate_high
    return (
        ROLL_WINDOW[0] if low is None else low.value,
        ROLL_WINDOW[1] if high is None else high.value,
    )


def stabilised(case: Case) -> bool:
    """Return whether something turns surfaces by itself."""
    board = any(item.kind == "flight controller" for item in case.plane.items)
    told = (case.plane.tuning.proven_speed, case.plane.tuning.wobble_speed)
    return board or any(known is not None for known in told)


def unseen(case: Case) -> bool:
    """Return whether no flight told of the stabiliser's setting."""
    loop = case.computed.rate_loop
    if loop is None or not stabilised(case):
        return False
    return not any(axis.seen for axis in (loop.roll, loop.pitch) if axis is not None)


def weakest(values: list[Samples]) -> Samples:
    """Return the least of several (n,)."""
    return np.asarray(np.min(values, axis=0))


def demands(case: Case, held: tuple[Held, ...], roll_rate: Samples) -> Demands:
    """Return what has to hold up to top speed."""
    least, most = window(case)
    found = {
        "servo torque": weakest([h.torque_margin for h in held]) >= 1.0,
        "pushrod": weakest([h.rod_margin for h in held]) >= BUCKLING_MARGIN,
    }
    if np.any(np.isfinite(roll_rate)):
        found["roll rate"] = (roll_rate >= least) & (roll_rate <= most)
    loop = case.computed.rate_loop
    if loop is not None and stabilised(case):
        found["wobble"] = loop.wobble_speed > case.computed.steering.top_speed
    return Demands(holds=found)


def servo_figures(held: tuple[Held, ...]) -> list[Figure]:
    """Return what the weakest servo and rod do."""
    return [
        figure(
            "servo_torque_margin",
            "servo torque over what full throw needs at top speed",
            weakest([h.torque_margin for h in held]),
            NUMBER,
            limits=(1.0, None),
        ),
        figure(
            "full_throw_speed",
            "fastest with full throw held",
            weakest([h.fastest for h in held]),
            SPEED,
        ),
        figure(
            "servo_time",
            "slowest servo, neutral to full throw",
            np.max([h.time for h in held], axis=0),
            TIME,
        ),
        figure(
            "slop",
            "free play of the loosest trailing edge",
            np.max([h.slop for h in held], axis=0),
            LENGTH,
            limits=(None, LOOSE),
        ),
        figure(
            "pushrod_margin",
            "pushrod's buckling load over its push",
            weakest([h.rod_margin for h in held]),
            NUMBER,
            limits=(BUCKLING_MARGIN, None),
        ),
    ]


def turn_figures(case: Case, throw: float) -> list[Figure]:
    """Return how fast it turns at cruise."""
    turning = case.computed.steering.turning(throw)
    trim = case.computed.steering.trim_at(turning.speed)
    degree = float(np.radians(1.0))
    found = [
        figure(
            "pitch_rate",
            "pitch rate for each degree of elevator",
            turning.pitch_rate * degree,
            TURN_RATE,
        ),
        figure(
            "yaw_rate",
            "yaw rate for each degree of rudder, wings held level",
            turning.yaw_rate * degree,
            TURN_RATE,
        ),
        figure("adverse_yaw", "sideslip that full roll throw ends in", turning.adverse_yaw, ANGLE),
        figure("trim", "pitch trim at cruise, trailing edge up", -trim, ANGLE),
    ]
    return [one for one in found if one.value is not None]


def mixed_figures(case: Case, held: tuple[Held, ...]) -> list[Figure]:
    """Return what surfaces that take two commands leave to the second while pitch is asked."""
    hinged = tuple(h.hinged for h in held)
    mixed = [h for h in held if h.hinged.role in MIXED]
    if not mixed:
        return []
    trim = -case.computed.steering.trim_at(case.computed.handling.usual_speed)
    pitch = float(np.radians(MIXED_PITCH[mixed[0].hinged.role]))
    left = second_left(hinged, np.where(np.isfinite(trim), trim, 0.0) + pitch)
    second = "roll" if mixed[0].hinged.role == "elevon" else "yaw"
    label = f"{second} left with trim and low-rate up elevator held"
    return [] if left is None else [figure("mixed_left", label, left, SHARE)]


def loop_figures(case: Case) -> list[Figure]:
    """Return what the stabiliser bears."""
    loop = case.computed.rate_loop
    if loop is None or not stabilised(case):
        return []
    top = float(np.median(case.computed.steering.top_speed))
    return [
        figure(
            "wobble_speed",
            "the present setting wobbles from",
            loop.wobble_speed,
            SPEED,
            limits=(top, None),
        ),
        figure(
            "gain_ratio",
            "gain that keeps its margin at top speed, over the present one",
            loop.gain_ratio,
            NUMBER,
        ),
    ]


def measure(case: Case) -> Measured:
    """Return rates, servo margins and the wobble."""
    steering = case.computed.steering
    missing = steering.missing
    if not case.plane.airframe.surfaces or not any(
        surface.controls for surface in case.plane.airframe.surfaces
    ):
        missing = ("airframe.surfaces.controls, the parts that move",)
    if missing:
        return Measured(figures=(), probability=None, deciding=np.zeros(0), missing=missing)
    held = steering.held
    throw = roll_throw(tuple(h.hinged for h in held))
    roll = steering.turning(throw).roll_rate
    needed = demands(case, held, roll)
    limits = window(case)
    figures = [
        figure("roll_rate", "roll rate, full throw at cruise", roll, TURN_RATE, limits=limits),
        *servo_figures(held),
        *turn_figures(case, throw),
        *loop_figures(case),
        *first_throws(case, held),
    ]
    figures += mixed_figures(case, held)
    if not np.any(np.isfinite(roll)):  # nothing rolls it by itself
        figures = figures[1:]
    name, deciding = deciding_of(case, needed.binding, held, roll)
    return Measured(
        figures=tuple(figures),
        probability=chance(needed.together),
        deciding=deciding,
        decides=name,
        assumed=assumed(case),
    )


def deciding_of(
    case: Case, binding: str, held: tuple[Held, ...], roll: Samples
) -> tuple[str, Samples]:
    """Return the figure that binds and its samples (n,)."""
    loop = case.computed.rate_loop
    if binding == "wobble" and loop is not None:
        return "wobble_speed", loop.wobble_speed
    if binding == "roll rate":
        return "roll_rate", roll
    if binding == "pushrod":
        return "pushrod_margin", weakest([h.rod_margin for h in held])
    return "servo_torque_margin", weakest([h.torque_margin for h in held])


def assumed(case: Case) -> tuple[str, ...]:
    """Return what was assumed of all of it."""
    loop = case.computed.rate_loop
    said = [*case.computed.masses.assumed, *case.computed.lift.assumed]
    said += case.computed.steering.assumed
    if loop is not None and stabilised(case):
        said += loop.assumed
    return tuple(dict.fromkeys(said))


WORDS = {
    "servo torque": "the servo's torque at full throw",
    "pushrod": "the pushrod",
    "roll rate": "the roll rate",
    "wobble": "the wobble",
}
"""What binds, in words."""


def because(case: Case, measured: Measured) -> str:
    """Return what binds, the first throws and how it swings."""
    if measured.missing:
        return "Servos and linkages can be judged once they are told."
    steering, units = case.computed.steering, case.plane.units
    held = steering.held
    roll = steering.turning(roll_throw(tuple(h.hinged for h in held))).roll_rate
    needed = demands(case, held, roll)
    name = needed.binding
    share = float(np.mean(needed.holds[name]))
    first = "; ".join(
        f"{h.hinged.name} {show(low_rate(h.hinged, up=True)[1], 'length', units)} "
        f"{said_of(h.hinged.role, 'up')}, {show(low_rate(h.hinged, up=False)[1], 'length', units)} "
        f"{said_of(h.hinged.role, 'down')}"
        for h in held
    )
    said = "; ".join(handling.told(case.computed.modes).values())
    return (
        f"What binds is {WORDS[name]} (holds in {100.0 * share:.0f} % of planes). "
        f"First flight, low rate: {first}. "
        f"{said[:1].upper()}{said[1:]}."
    )


def answer(case: Case) -> Answer:
    """Return the answer."""
    measured = measure(case)
    told = {one.name for one in measured.figures}
    names = tuple(name for name in EFFECTS if name in told)
    remedies = (
        ()
        if measured.missing
        else tried(case, changes(case, window(case), stabilised=stabilised(case)), measure, names)
    )
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
        remedies=remedies,
        cautions=CAUTIONS,
        provisional=bool(case.computed.masses.estimated) or unseen(case),
    )

"""What could make a plane obey: arms, servos, rods, throws and the stabiliser's gain."""

import numpy as np

from foamwright.model.control import Held, roll_throw
from foamwright.model.surfaces import ROLL_ROLES
from foamwright.physics.gear.linkage import BUCKLING_MARGIN
from foamwright.plane.gear import Servo
from foamwright.quantity import read, show
from foamwright.questions.case import Case
from foamwright.questions.exchange import exchanged
from foamwright.questions.remedies import Change

SERVO_CLASSES = ("servo 2 g", "servo 3.7 g", "servo 5 g", "servo 9 g", "servo 9 g metal")
"""Classes of the stock, the smallest first."""

SERVO_NUMBERS = (
    "mass",
    "size",
    "torque",
    "speed",
    "idle_current",
    "moving_current",
    "stall_current",
    "slop",
    "draw",
    "price",
    "link",
)
"""Keys of a servo that belong to the old one when another is taken."""

LONGER, THICKER, SHORTER = 1.3, 1.5, 0.5
"""Horn, rod and free length to try, over the present ones [-]."""

LESS = 0.7
"""Throw to try, over the present one [-]."""

CLOSE = 1.25
"""A throw within this factor of the best one is left alone [-]."""

LEAST_GAIN = 0.01
"""Lowest gain worth trying, over the setting seen [-]."""

MOST_THROW = float(np.radians(30.0))
"""Largest travel worth trying [rad]: beyond it the flow leaves the surface; common practice."""


def stronger_servo(case: Case, held: Held) -> list[Change]:
    """Return the next stronger class of the stock for one surface's servo."""
    name = held.hinged.servo
    item = next(i for i in case.plane.items if i.name == name)
    if not isinstance(item, Servo) or item.torque is None:
        return []
    for wanted in SERVO_CLASSES:
        entry = case.stock.entries.get(wanted)
        if entry is None or read(entry["torque"], "torque").value <= item.torque.value:
            continue
        keys = exchanged(item, wanted, SERVO_NUMBERS)
        return [Change(do=f"Fit a {wanted.removeprefix('servo ')} servo as {name}", keys=keys)]
    return []


def longer_horn(case: Case, held: Held) -> list[Change]:
    """Return a longer horn of one surface: more force, less travel for the same servo."""
    horn = LONGER * float(np.median(held.hinged.linkage.horn_arm))
    return [
        Change(
            do=f"Take a horn of {show(horn, 'length', case.plane.units)} on the {held.hinged.name}",
            keys={f"{held.hinged.key}.horn_arm": f"{1e3 * horn:.1f} mm"},
        )
    ]


def better_rod(case: Case, held: Held) -> list[Change]:
    """Return a thicker rod and a support more for one surface, where its rod may buckle."""
    one, units = held.hinged, case.plane.units
    if float(np.mean(held.rod_margin >= BUCKLING_MARGIN)) > 0.98:  # nothing to gain
        return []
    thick, free = THICKER * one.rod_diameter, SHORTER * one.rod_free
    return [
        Change(
            do=f"Take a {show(thick, 'length', units)} pushrod for the {one.name}",
            keys={f"{one.key}.pushrod_diameter": f"{1e3 * thick:.1f} mm"},
        ),
        Change(
            do=f"Support the pushrod of the {one.name} every {show(free, 'length', units)}",
            keys={f"{one.key}.pushrod_free": f"{1e3 * free:.0f} mm"},
        ),
    ]


def other_throws(held: tuple[Held, ...], words: str, factor: float) -> list[Change]:
    """Return less or more throw of some surfaces together."""
    keys: dict[str, object] = {}
    for entry in held:
        one = entry.hinged
        if factor > 1.0 and factor * max(one.up, one.down) > MOST_THROW:
            return []
        keys[f"{one.key}.throw_up"] = f"{np.degrees(factor * one.up):.1f} deg"
        keys[f"{one.key}.throw_down"] = f"{np.degrees(factor * one.down):.1f} deg"
    names = " and ".join(entry.hinged.name for entry in held)
    share = f"{100.0 * factor:.0f} %"
    return [Change(do=f"{words} throw on the {names}, {share} of the present", keys=keys)]


def fitting_roll(case: Case, held: tuple[Held, ...], window: tuple[float, float]) -> list[Change]:
    """Return the throw that rolls in the middle of a window of rates [rad s^-1], if it is outside.

    Steady roll goes with the throw.
    """
    rolling = tuple(h for h in held if h.hinged.role in ROLL_ROLES)
    if not rolling:
        return []
    throw = roll_throw(tuple(h.hinged for h in rolling))
    rate = float(np.median(case.computed.steering.turning(throw).roll_rate))
    if not np.isfinite(rate):
        return []
    factor = float(np.sqrt(window[0] * window[1])) / rate
    if 1.0 / CLOSE < factor < CLOSE:
        return []
    return other_throws(rolling, "Less" if factor < 1.0 else "More", factor)


def lower_gain(case: Case) -> list[Change]:
    """Return a gain that keeps its margin at top speed, where the present one does not."""
    loop, known = case.computed.rate_loop, case.plane.tuning.gain
    ratio = 1.0 if loop is None else float(np.median(loop.gain_ratio))
    if ratio >= 1.0:
        return []
    whole = max(ratio * (1.0 if known is None else known.value), LEAST_GAIN)
    do = f"Lower the stabiliser's gain to {ratio:.2f} of the present"
    return [Change(do=do, keys={"tuning.gain": f"{100.0 * whole:.1f} %"})]


def together(first: list[Change], second: list[Change]) -> list[Change]:
    """Return two changes made at once: where each alone leaves the other to bind."""
    return [
        Change(do=f"{a.do}; and {b.do[:1].lower()}{b.do[1:]}", keys={**a.keys, **b.keys})
        for a in first
        for b in second
    ]


def changes(case: Case, window: tuple[float, float], *, stabilised: bool) -> list[Change]:
    """Return everything to try, for the surface with the least margin of its kind."""
    held = case.computed.steering.held
    servo = min(held, key=lambda h: float(np.median(h.torque_margin)))
    rod = min(held, key=lambda h: float(np.median(h.rod_margin)))
    roll = fitting_roll(case, held, window)
    gain = lower_gain(case) if stabilised else []
    stronger = stronger_servo(case, servo)
    found = [
        *stronger,
        *longer_horn(case, servo),
        *better_rod(case, rod),
        *other_throws((servo,), "Less", LESS),
        *roll,
        *gain,
        *together(roll, gain),
        *together(stronger, gain),
    ]
    return list({change.do: change for change in found}.values())

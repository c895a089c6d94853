"""What else brings a balance forward than moving and ballast: a lighter motor, a longer bay."""

import dataclasses
from collections.abc import Callable

import numpy as np

from foamwright.plane.gear import Motor
from foamwright.plane.stock import stock
from foamwright.quantity import read, show
from foamwright.questions import exchange
from foamwright.questions.case import Case
from foamwright.questions.remedies import Change, whole

ALIKE = 0.20
"""How near the Kv of a motor has to be for the same propeller and pack."""

LIGHTER = 0.85
"""Most mass of a motor worth changing to, over the mass of the one drawn."""

LONGEST_BAY = 0.08
"""How far a bay is lengthened at most [m]."""

MOTOR_NUMBERS = (
    "mass",
    "size",
    "stator_diameter",
    "stator_height",
    "kv",
    "kv_measured",
    "resistance",
    "no_load_current",
    "no_load_voltage",
    "burst_current",
    "continuous_current",
    "price",
    "link",
)
"""Keys of a motor that belong to the old one when another is taken."""


def lighter_motor(case: Case) -> Change | None:
    """Return the heaviest motor that is clearly lighter and turns like the one drawn, if any.

    Only where the motor sits behind the balance point, and so pulls it aft.
    """
    motor = exchange.first_of(case, "motor")
    if not isinstance(motor, Motor) or motor.at is None or motor.mass is None or motor.kv is None:
        return None
    if motor.at.x.value <= float(np.median(case.computed.masses.centre[:, 0])):
        return None
    found: tuple[float, float, str] = (0.0, 0.0, "")
    for entry in stock().search("motor", ()):
        mass = read(str(entry["mass"]), "mass").value
        turns = read(str(entry["kv"]), "speed constant").value
        away = abs(turns / motor.kv.value - 1.0)
        if away <= ALIKE and mass <= LIGHTER * motor.mass.value:
            found = max(found, (mass, -away, str(entry["name"])))
    if not found[2]:
        return None
    saved = show(motor.mass.value - found[0], "mass", case.plane.units)
    keys = exchange.exchanged(motor, found[2], MOTOR_NUMBERS)
    return Change(do=f"Fit a {found[2]}, {saved} lighter", keys=keys)


def motor_changes(case: Case, ballast: Callable[[Case], list[Change]]) -> list[Change]:
    """Return a lighter motor, with what little ballast is still needed then."""
    change = lighter_motor(case)
    if change is None:
        return []
    return [
        dataclasses.replace(
            change,
            do=f"{change.do}; {more.do[0].lower()}{more.do[1:]}",
            keys={**change.keys, **more.keys},
        )
        for more in ballast(case.changed(change.keys))
    ] or [change]


def longer_bay(case: Case, place: float | None) -> list[Change]:
    """Return the bay lengthened forward to where the pack has to sit [m], if there is a nose."""
    pack, units = exchange.first_of(case, "pack"), case.plane.units
    if pack is None or pack.reach is None or place is None:
        return []
    more = pack.reach.foremost.value - place
    if not 0.0 < more <= LONGEST_BAY or place < case.computed.nose:
        return []
    x = f"{place * 1e3:.0f} mm"
    do = f"Open the bay {show(more, 'length', units)} further forward, pack at "
    do += whole(place, "length", units)
    keys: dict[str, object] = {
        f"items.{pack.name}.reach.foremost": x,
        f"items.{pack.name}.at.x": x,
    }
    return [Change(do=do, keys=keys)]

"""Every bench note against what was planned: where it was to lie, and whether it does."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from foamwright.model import spreads
from foamwright.model.balance_causes import balance_suspects
from foamwright.model.bench_evidence import ALL_UP_SCALE, of_balance, of_charge, of_static
from foamwright.model.causes import static_suspects
from foamwright.model.charge_causes import charge_suspects
from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.model.evidence import OBSERVABLE, Observation, predicted, unpredictable
from foamwright.model.hang_causes import Twisted, hang_suspects
from foamwright.model.hanging import planned_twist
from foamwright.model.inertia import AXES, inertia_of
from foamwright.model.part_causes import (
    Read,
    angle_suspects,
    sweep_suspects,
    throw_suspects,
    weighing_suspects,
)
from foamwright.model.suspects import AS_PLANNED, Suspect
from foamwright.model.swing_causes import swing_suspects
from foamwright.model.swings import swung
from foamwright.physics.arrays import Samples
from foamwright.plane.bench_records import ALL_UP, BARE_FOAM, Bench, ServoSweep, Throw
from foamwright.plane.gear import Servo
from foamwright.plane.plane import Plane
from foamwright.plane.weighed import latest
from foamwright.quantity import Quantity

OFF = 0.10
"""How often a reading is not as planned, before it is read; common practice, no source."""

WIDER = 4.0
"""How much further off it then is."""

BEYOND = 600.0
"""Exponent from which a chance is nothing to any digit."""

SERVO_LN = 0.15
"""Relative spread of a servo's printed speed; common practice, no source."""

FILM = 0.05
"""Relative spread of a speed or angle read off a film; common practice, no source."""

TWIST = float(np.deg2rad(0.3))
"""Of a twist read off two sticks or a phone's level [rad]; common practice, no source."""

QUARTER_TURN = float(np.deg2rad(60.0))
"""Angle that a servo's printed time is for [rad]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Check:
    """One reading against the plan."""

    name: str
    """Its JSON name."""
    label: str
    """The words for it."""
    dimension: str
    """Which dimension of `quantity` it has."""
    value: float
    """As read [SI]."""
    spread: float
    """One standard deviation of the reading [SI]."""
    planned: Samples
    """What was planned (n,) [SI]."""
    chance: float
    """Chance that it is as planned."""
    day: dt.date
    """When it was read."""
    suspects: tuple[Suspect, ...] = ()
    """What may be behind it, likeliest first; the same for all readings of a test."""


def as_planned(value: float, spread: float, planned: Samples) -> float:
    """Return the chance that a reading is as planned rather than from something else.

    What else it may be lies about the plan as well, four times as wide (Bayes' rule for two
    normals).
    """
    finite = planned[np.isfinite(planned)]
    wide = float(np.hypot(np.std(finite), spread)) if finite.size else 0.0
    if wide == 0.0:
        return 1.0 - OFF
    far = (value - float(np.median(finite))) / wide
    odds = OFF / WIDER / (1.0 - OFF)  # of something else, where the reading meets the plan
    grown = 0.5 * far**2 * (1.0 - 1.0 / WIDER**2)
    return float(1.0 / (1.0 + odds * np.exp(min(grown, BEYOND))))


def simple(
    name: str, label: str, read: tuple[Quantity, float], *, planned: Samples, day: dt.date
) -> Check:
    """Return a reading, a quantity and its usual spread, against the plan."""
    quantity, usual = read
    spread = usual if quantity.spread is None else quantity.spread
    return Check(
        name=name,
        label=label,
        dimension=quantity.dimension,
        value=quantity.value,
        spread=spread,
        planned=planned,
        chance=as_planned(quantity.value, spread, planned),
        day=day,
    )


def slug(name: str) -> str:
    """Return a name as a part of a JSON name."""
    return "_".join("".join(c if c.isalnum() else " " for c in name.lower()).split())


def read_of(check: Check, draws: Draws, units: str) -> Read:
    """Return a reading for what may be behind it; `draws` are those of its plan."""
    return Read(
        name=check.name,
        value=check.value,
        spread=check.spread,
        planned=check.planned,
        draws=draws,
        units=units,
    )


def weighings(bench: Bench, planned: ComputablePlane, units: str) -> Iterator[Check]:
    """Yield the last weighing of each thing, one piece of it."""
    items = {item.name: item for item in planned.plane.items}
    for name, weighing in latest(bench).items():
        if name == ALL_UP:
            mass, scale = planned.masses.all_up, ALL_UP_SCALE
        elif name == BARE_FOAM:
            mass, scale = planned.masses.points[0].mass, spreads.SCALE
        elif name in items:
            mass, scale = planned.masses.named(name).mass / items[name].count, spreads.SCALE
        else:
            continue
        pieces = weighing.pieces
        each = Quantity(
            value=weighing.mass.value / pieces,
            spread=None if weighing.mass.spread is None else weighing.mass.spread / pieces,
            dimension="mass",
            text=weighing.mass.text,
        )
        label = "mass of all, ready to fly" if name == ALL_UP else f"mass of {name}"
        read = (each, scale / pieces)
        check = simple(f"mass_of_{slug(name)}", label, read, planned=mass, day=weighing.date)
        told = read_of(check, planned.draws.branched(), units)
        yield explained(check, weighing_suspects(planned, weighing, told))


def observed(one: Observation, planned: ComputablePlane, day: dt.date) -> Check | None:
    """Return an observation against the plan; none where the model can say nothing to it."""
    if unpredictable(planned, one):
        return None
    kind, values = OBSERVABLE[one.name], predicted(planned, one)
    if np.mean(np.isfinite(values)) < 0.5:  # hardly any such plane can do it
        return None
    missed = kind.discrepancy * (one.value if kind.relative else 1.0)
    return Check(
        name=one.name,
        label=kind.label,
        dimension=kind.dimension,
        value=one.value,
        spread=float(np.hypot(one.spread, missed)),
        planned=values,
        chance=as_planned(one.value, float(np.hypot(one.spread, missed)), values),
        day=day,
    )


def statics(bench: Bench, planned: ComputablePlane) -> Iterator[Check]:
    """Yield the readings of the last static test, all with the causes that all of them tell of."""
    if not bench.static:
        return
    record = max(bench.static, key=lambda entry: entry.date)
    seen = [one for one in of_static(record).observations if not unpredictable(planned, one)]
    if not seen:
        return
    suspects = static_suspects(planned, seen)
    good = sum(s.probability for s in suspects if s.name == AS_PLANNED)
    for one in seen:
        check = observed(one, planned, record.date)
        if check is not None:
            yield replace(check, chance=good, suspects=suspects)


def explained(check: Check, suspects: tuple[Suspect, ...]) -> Check:
    """Return a reading with what may be behind it; it is as planned as they leave it to be."""
    good = sum(suspect.probability for suspect in suspects if suspect.name == AS_PLANNED)
    return replace(check, chance=good, suspects=suspects) if suspects else check


def balances(bench: Bench, planned: ComputablePlane, now: Plane | None) -> Iterator[Check]:
    """Yield the last balance with the pack where it was planned."""
    records = [record for record in bench.balances if record.pack_at is None]
    if not records:
        return
    source = of_balance(max(records, key=lambda record: record.date))
    suspects = balance_suspects(planned, source.observations, now)
    for one in source.observations:
        check = observed(one, planned, source.day)
        if check is not None:
            yield explained(check, suspects)


def charges(bench: Bench, planned: ComputablePlane, units: str) -> Iterator[Check]:
    """Yield the last charge put back."""
    if not bench.charges:
        return
    source = of_charge(max(bench.charges, key=lambda record: record.date))
    for one in source.observations:
        check = observed(one, planned, source.day)
        if check is not None:
            yield explained(check, charge_suspects(planned, one, check.planned, units))


def swings(bench: Bench, planned: ComputablePlane) -> Iterator[Check]:
    """Yield the last swing about each axis against the mass list."""
    found = {record.axis: record for record in sorted(bench.swings, key=lambda one: one.date)}
    if not found:
        return
    draws = planned.draws.branched()
    tensor = inertia_of(planned.plane, planned.masses, draws)
    mass = float(np.median(planned.masses.all_up))
    for axis, record in found.items():
        reading = swung(record, mass)
        suspects = swing_suspects(tensor, draws, record, reading)
        yield Check(
            name=f"inertia_{axis}",
            label=f"inertia in {axis}, swung",
            dimension="inertia",
            value=reading[0],
            spread=reading[1],
            planned=tensor[:, AXES[axis], AXES[axis]],
            chance=sum(s.probability for s in suspects if s.name == AS_PLANNED),
            day=record.date,
            suspects=suspects,
        )


def throws(bench: Bench, planned: ComputablePlane, units: str) -> Iterator[Check]:
    """Yield the last throw against what the plane file says of the thrower."""
    record: Throw | None = max(bench.throws, key=lambda entry: entry.date, default=None)
    thrower = planned.plane.thrower
    if record is None:
        return
    for name, read, plan in (
        ("throw_speed", record.speed, thrower.speed),
        ("throw_angle", record.angle, thrower.angle),
    ):
        if plan is None:
            continue
        centre, spread = plan.value, plan.spread or 0.1 * abs(plan.value)
        draws = planned.draws.branched()
        values = draws.around(centre, spread, key=f"bench.{name}", label=name)
        label = "speed of the throw" if name == "throw_speed" else "angle of the throw"
        usual = FILM * abs(read.value)
        check = simple(name, label, (read, usual), planned=values, day=record.date)
        behind = throw_suspects if name == "throw_speed" else angle_suspects
        yield explained(check, behind(read_of(check, draws, units)))


def servos(bench: Bench, planned: ComputablePlane, units: str) -> Iterator[Check]:
    """Yield the last sweep of each servo against its printed time."""
    found: dict[str, ServoSweep] = {}
    for record in sorted(bench.servo_sweeps, key=lambda entry: entry.date):
        found[record.servo] = record
    for item in planned.plane.items:
        if isinstance(item, Servo) and item.name in found and item.speed is not None:
            record = found[item.name]
            usual = item.speed.value * abs(record.angle.value) / QUARTER_TURN
            key = f"bench.sweep.{item.name}"
            draws = planned.draws.branched()
            values = draws.factor(SERVO_LN, key=key, label=key) * usual
            read = (record.time, FILM * record.time.value)
            name, label = f"sweep_of_{slug(item.name)}", f"sweep of {item.name}"
            check = simple(name, label, read, planned=values, day=record.date)
            yield explained(check, sweep_suspects(record, read_of(check, draws, units)))


def hangs(bench: Bench, planned: ComputablePlane, units: str) -> Iterator[Check]:
    """Yield the last weight hung on each surface against the foam's own stiffness."""
    found = {record.surface: record for record in sorted(bench.hang, key=lambda one: one.date)}
    for surface, record in found.items():
        draws = planned.draws.branched()
        values = planned_twist(planned, record, draws)
        if values is None:
            continue
        name, label = f"twist_of_{slug(surface)}", f"twist of {surface} under the weight"
        check = simple(name, label, (record.twist, TWIST), planned=values, day=record.date)
        read = Twisted(name=name, spread=check.spread, planned=values, draws=draws)
        yield explained(check, hang_suspects(planned, record, read, units))


def checks_of(
    bench: Bench, planned: ComputablePlane, now: Plane | None = None
) -> tuple[Check, ...]:
    """Return every reading that can be held against the plan.

    `planned` is the plane before anything was noted: no weighing, no belief. `now` is the plane
    with what was weighed since, in the user's units.
    """
    units = (now or planned.plane).units
    return (
        *statics(bench, planned),
        *swings(bench, planned),
        *weighings(bench, planned, units),
        *balances(bench, planned, now),
        *charges(bench, planned, units),
        *throws(bench, planned, units),
        *servos(bench, planned, units),
        *hangs(bench, planned, units),
    )

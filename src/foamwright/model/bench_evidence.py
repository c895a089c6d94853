"""Bench notes as observations: what each test says of the plane."""

import numpy as np

from foamwright.model import spreads
from foamwright.model.evidence import FULL_STICK, Observation, Source
from foamwright.physics.frame.mass import two_scale_balance
from foamwright.plane.bench_records import ALL_UP, Balance, Bench, ChargeBack, Static, Weighing
from foamwright.plane.weighed import latest
from foamwright.quantity import Quantity

READING: dict[str, float] = {
    "static_thrust": 0.03,
    "static_current": 0.03,
    "static_voltage": 0.005,
    "static_rotation_speed": 0.01,
    "charge_used": 0.03,
}
"""Relative spread of a reading that states none: kitchen scale with a lever, watt meter, optical
tachometer, charger; common practice, no source."""

ALL_UP_SCALE = 1.0e-3
"""A kitchen scale under a whole plane [kg]; common practice, no source."""

FINGERTIPS, SUPPORTS = 2.0e-3, 1.0e-3
"""Spread of a balance on fingertips, and of the place of a support [m]; common practice."""


def seen(name: str, quantity: Quantity | None, **more: float | None) -> tuple[Observation, ...]:
    """Return a reading as an observation, none where nothing was read."""
    if quantity is None or quantity.value <= 0.0:
        return ()
    spread = quantity.spread or READING[name] * quantity.value
    return (Observation(name=name, value=quantity.value, spread=spread, **more),)  # type: ignore[arg-type]


def of_static(record: Static) -> Source:
    """Return a static test as observations."""
    throttle = 1.0 if record.throttle is None else record.throttle.value
    names = {
        "static_thrust": record.thrust,
        "static_current": record.current,
        "static_voltage": record.voltage,
        "static_rotation_speed": record.rotation_speed,
    }
    found = [one for name, read in names.items() for one in seen(name, read, throttle=throttle)]
    share = "" if throttle >= FULL_STICK else f" at {throttle:.0%} throttle"
    return Source(
        name=f"static test of {record.date}{share}",
        kind="test",
        day=record.date,
        observations=tuple(found),
    )


def balance_of(record: Balance) -> tuple[float, float]:
    """Return where a plane balanced on the bench, and the spread of that [m]."""
    if record.at is not None:
        return record.at.value, record.at.spread or FINGERTIPS
    front, rear = record.front, record.rear
    front_at, rear_at = record.front_at, record.rear_at
    if front is None or rear is None or front_at is None or rear_at is None:
        return float("nan"), float("nan")  # the record is not made without them
    place = float(
        two_scale_balance(*(np.array([one.value]) for one in (front, front_at, rear, rear_at)))[0]
    )
    total = front.value + rear.value
    errors = [
        (scale.spread or spreads.SCALE) * (at.value - place) / total
        for scale, at in ((front, front_at), (rear, rear_at))
    ]
    errors += [
        (at.spread or SUPPORTS) * scale.value / total
        for scale, at in ((front, front_at), (rear, rear_at))
    ]
    return place, float(np.linalg.norm(errors))


def of_balance(record: Balance) -> Source:
    """Return a balance as observations; two scales weigh the plane as well."""
    place, spread = balance_of(record)
    found = [Observation(name="balance_place", value=place, spread=spread)]
    if record.front is not None and record.rear is not None:
        total = record.front.value + record.rear.value
        each = (record.front.spread or spreads.SCALE, record.rear.spread or spreads.SCALE)
        found.append(Observation(name="all_up_mass", value=total, spread=float(np.hypot(*each))))
    return Source(
        name=f"balance of {record.date}", kind="test", day=record.date, observations=tuple(found)
    )


def of_charge(record: ChargeBack) -> Source:
    """Return what the charger put back as an observation."""
    speed = None if record.speed is None else record.speed.value
    time = None if record.time is None else record.time.value
    return Source(
        name=f"charge of {record.date}",
        kind="test",
        day=record.date,
        observations=seen("charge_used", record.charge, speed=speed, time=time),
    )


def weighed_as(weighing: Weighing) -> str:
    """Return the name under which a weighing of the whole plane teaches."""
    return f"weighing of {weighing.date}, ready to fly"


def sources_of(bench: Bench) -> tuple[Source, ...]:
    """Return the bench notes that teach something, as sources.

    Weighings of items teach nothing here: they take the place of the plan. A balance with the pack
    elsewhere than planned is left out: it speaks of another plane.
    """
    found = [of_static(record) for record in bench.static]
    found += [of_balance(record) for record in bench.balances if record.pack_at is None]
    found += [of_charge(record) for record in bench.charges]
    weighing = latest(bench).get(ALL_UP)
    if weighing is not None:
        spread = weighing.mass.spread or ALL_UP_SCALE
        one = Observation(name="all_up_mass", value=weighing.mass.value, spread=spread)
        found.append(
            Source(
                name=weighed_as(weighing),
                kind="test",
                day=weighing.date,
                observations=(one,),
            )
        )
    return tuple(sorted(found, key=lambda source: source.day))

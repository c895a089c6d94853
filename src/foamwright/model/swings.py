"""Inertia from the plane hung on two strings and twisted, as the bench notes tell it."""

from collections.abc import Mapping

import numpy as np

from foamwright.model.inertia import AXES, Axis, Swing
from foamwright.physics.arrays import Samples
from foamwright.physics.frame.mass import bifilar_inertia, half_swing_suspected
from foamwright.plane.bench_records import Bench
from foamwright.plane.bench_records import Swing as SwingRecord
from foamwright.quantity import Quantity

RULER, STRING, STOPWATCH = 1.0e-3, 3.0e-3, 0.3
"""Spread of the distance and the length of the strings [m] and of the time of all swings [s]
where none was written; common practice, no source."""

SCALE_SHARE = 0.01
"""Relative spread of the mass that swung where none was written [-]."""

SWING_SHARE = 0.04
"""Relative spread of the method [-]: air that swings with the foam (2 to 8 % on wide wings), twists
beyond small ones; common practice, no source."""


def spread_share(quantity: Quantity, default: float) -> float:
    """Return the relative spread of what was written."""
    spread = default if quantity.spread is None else quantity.spread
    return spread / max(quantity.value, 1e-9)


def swung(record: SwingRecord, all_up: float) -> Swing:
    """Return the inertia a swing tells and its spread [kg m^2]; of `all_up` if no mass is noted."""
    mass = all_up if record.mass is None else record.mass.value
    period = record.time.value / record.swings
    found = bifilar_inertia(
        np.array([mass]),
        np.array([0.5 * record.distance.value]),
        np.array([record.length.value]),
        np.array([period]),
    )
    shares = (
        SCALE_SHARE if record.mass is None else spread_share(record.mass, SCALE_SHARE * mass),
        2.0 * spread_share(record.distance, RULER),
        spread_share(record.length, STRING),
        2.0 * spread_share(record.time, STOPWATCH),
        SWING_SHARE,
    )
    return float(found[0]), float(found[0]) * float(np.hypot.reduce(shares))


def swings_of(bench: Bench, all_up: float) -> dict[Axis, Swing]:
    """Return the last swing about each axis."""
    records = sorted(bench.swings, key=lambda entry: entry.date)
    return {record.axis: swung(record, all_up) for record in records}


def half_swings(swings: Mapping[Axis, Swing], listed: Samples) -> tuple[str, ...]:
    """Ask back where a swing tells a quarter of what the mass list (n, 3, 3) does."""
    said = []
    for axis, (inertia, _) in swings.items():
        place = AXES[axis]
        usual = np.array([np.median(listed[:, place, place])])
        if half_swing_suspected(np.array([inertia]), usual).any():
            share = inertia / float(usual[0])
            said.append(
                f"half swings? The swing in {axis} tells {share:.0%} of what the mass list does; "
                "there and back again is one"
            )
    return tuple(said)

"""Judging voltage, current, charge and rotation by each other and by the power train."""

from dataclasses import replace

import numpy as np

from foamwright.debrief.evidence import charge_through
from foamwright.debrief.judging import (
    CONTRADICTED,
    UNIT_GUESSED,
    Bench,
    Verdict,
    big,
    by_size,
    in_unit,
    number,
    options_by_size,
    plain,
    si,
    stated,
)
from foamwright.debrief.logged_units import UNITS
from foamwright.debrief.naming import Meaning
from foamwright.physics.arrays import Grid
from foamwright.quantity import show

CELL = (2.9, 4.45)
"""A cell in flight, on the middle of the flight [V]."""
LONGEST_HOLD = 0.5
"""A current is not taken to last longer than this [s]."""
FLOOR, CEILING = 0.55, 1.35
"""Integrated over counted charge that is the same thing: missing rows make it less."""
LACKING_PAIRS = "write `pole_pairs` of the motor, half its number of magnets, into the plane file"
"""What makes electrical revolutions of use."""
IDLE = 1.08
"""Most share of the idle speed a shaft reaches: printed constants are that far off at least."""


def voltage(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge the pack's voltage: against its cells."""
    middle = float(np.nanmedian(values))
    options = (meaning.unit,) if meaning.unit else options_by_size(values, "voltage")
    cells = bench.expected.cells
    if cells is None:
        return stated(values, meaning) if meaning.unit else by_size(values, meaning)
    fit = [u for u in options if CELL[0] <= middle * UNITS["voltage"][u][0] / cells <= CELL[1]]
    if not fit:
        first = options[0] if options else "V"
        because = f"{number(middle)} is no voltage of {cells} cells"
        return in_unit(first, "voltage", CONTRADICTED, because)
    one = middle * UNITS["voltage"][fit[0]][0] / cells
    because = f"each of the {cells} cells has {one:.2f} V on the middle of the flight"
    return in_unit(fit[0], "voltage", 0.97, because)


def cell_voltage(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge the voltage of one cell: of use only where the plane says how many there are."""
    found = plain(bench, values, meaning)
    middle = float(np.nanmedian(si(values, found)))
    if bench.expected.cells is None:
        return replace(found, sure=UNIT_GUESSED, because="how many cells the pack has is not known")
    if not CELL[0] <= middle <= CELL[1]:
        return replace(found, sure=CONTRADICTED, because=f"{number(middle)} V is no cell")
    because = f"{number(middle)} V a cell, times the pack's {bench.expected.cells}"
    return replace(found, factor=found.factor * bench.expected.cells, sure=0.9, because=because)


def drawn(values: Grid) -> float:
    """Return how far a counter of charge ran; 0 where it does not run up."""
    known = values[np.isfinite(values)]
    if known.size < 2 or np.mean(np.diff(known) >= 0) < 0.98:
        return 0.0
    return float(known[-1] - known[0])


def current(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a current: its integral against a counter of charge, else by its size."""
    counted = bench.written.get("charge_used")
    run = drawn(counted) if counted is not None else 0.0
    found = stated(values, meaning) if meaning.unit else by_size(values, meaning)
    charge = charge_through(bench.time, values, max(LONGEST_HOLD, 3 * bench.step))
    if run <= 0 or charge <= 0:
        return likely_amperes(values, meaning, found)
    matches = [
        (abs(np.log(share)), unit, counter, share)
        for unit in ((meaning.unit,) if meaning.unit else options_by_size(values, "current"))
        for counter in counters(bench)
        if FLOOR < (share := charge * UNITS["current"][unit][0] / (run * counter)) < CEILING
    ]
    if not matches:
        sums = show(charge, "charge", bench.expected.units)
        because = f"its integral is {sums} as amperes, the counter ran {run:g}"
        return replace(found, sure=min(found.sure, UNIT_GUESSED), because=because)
    _, unit, _, share = min(matches)
    because = f"its integral is {share * 100:.0f} % of the charge counted"
    return in_unit(unit, "current", 0.96, because)


def counters(bench: Bench) -> tuple[float, ...]:
    """Return the coulombs a count of the charge counter may be."""
    known, counted = bench.known.get("charge_used"), bench.written.get("charge_used")
    if known is None or counted is None:
        return (3.6,)
    return (float(np.nanmax(known) / max(float(np.nanmax(counted)), 1e-9)),)


def likely_amperes(values: Grid, meaning: Meaning, found: Verdict) -> Verdict:
    """Return the verdict on a current nothing else bears out: amperes where it has decimals."""
    known = values[np.isfinite(values)]
    broken = np.mean(np.abs(known - np.round(known)) > 1e-3) > 0.2 if known.size else False
    if not meaning.unit and broken and 0.3 <= big(values) <= 60.0:
        because = "no unit is written; decimals and size are those of amperes"
        return in_unit("A", "current", 0.85, because)
    return found


def charge_used(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a counter of charge: it runs up, and not past the pack."""
    run = drawn(values)
    if run <= 0:
        found = plain(bench, values, meaning)
        return replace(found, sure=CONTRADICTED, because="it does not run up as charge drawn does")
    options = (meaning.unit,) if meaning.unit else options_by_size(values, "charge_used")
    limit = bench.expected.pack_charge
    if limit is not None:
        options = tuple(u for u in options if run * UNITS["charge"][u][0] <= 1.3 * limit)
    if not options:
        found = plain(bench, values, meaning)
        return replace(found, sure=CONTRADICTED, because=f"{run:g} is more than the pack holds")
    if not meaning.unit and "mAh" in options and run >= 20:
        because = f"it runs up by {run:g}, milliampere-hours of a flight"
        return in_unit("mAh", "charge_used", 0.9, because)
    return stated(values, meaning) if meaning.unit else by_size(values, meaning, options)


def rotation(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a rotation speed of the shaft: by the motor's constant and voltage."""
    found = revolutions(values, meaning)
    share = over_idle(bench, si(values, found))
    if share is None:
        return found
    if share <= IDLE:
        because = f"at most {share * 100:.0f} % of the motor's idle speed"
        return replace(found, sure=max(found.sure, 0.95), because=because)
    pairs = [count for count in (6, 7, 11, 12, 14) if 0.35 < share / count <= 1.0]
    because = (
        f"{share:.1f} times the motor's idle speed: electrical revolutions, and "
        f"{' or '.join(map(str, pairs)) or 'no usual number of'} pole pairs would fit"
    )
    if bench.expected.pole_pairs is None:
        because += f"; {LACKING_PAIRS}"
    return replace(found, sure=CONTRADICTED, because=because, rather="electrical_rotation_speed")


def electrical_rotation(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge electrical revolutions: of use where the plane tells the motor's pole pairs."""
    found = revolutions(values, meaning)
    pairs = bench.expected.pole_pairs
    if pairs is None:
        because = f"electrical revolutions: {LACKING_PAIRS}"
        return replace(found, sure=UNIT_GUESSED, because=because, rather="")
    share = over_idle(bench, si(values, found) / pairs)
    if share is None:
        return replace(
            found, because=f"electrical revolutions, over the motor's {pairs} pole pairs"
        )
    if share > IDLE:
        because = (
            f"over {pairs} pole pairs still {share:.1f} times the motor's idle speed: "
            "`pole_pairs` is half the number of magnets"
        )
        return replace(found, sure=CONTRADICTED, because=because, rather="")
    because = f"over {pairs} pole pairs at most {share * 100:.0f} % of the motor's idle speed"
    return replace(found, sure=max(found.sure, 0.95), because=because)


def revolutions(values: Grid, meaning: Meaning) -> Verdict:
    """Return the verdict by the written unit, or as revolutions a minute."""
    if meaning.unit:
        return stated(values, meaning)
    because = "revolutions a minute, as the name says"
    return in_unit("rpm", meaning.taken_as, 0.9, because)


def over_idle(bench: Bench, turns: Grid) -> float | None:
    """Return revolutions of the shaft (k,) [s^-1] over the motor's idle speed, the most of them.

    None where the voltage or the motor's constant is not known.
    """
    volts, constant = bench.known.get("voltage"), bench.expected.no_load
    if volts is None or constant is None:
        return None
    return float(np.nanpercentile(turns / (constant * volts), 99))


def power(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Judge a power: of use where voltage is known and current is not."""
    return plain(bench, values, meaning)

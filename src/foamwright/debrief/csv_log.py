"""A log in a table: any headers, any delimiter, any clock."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from foamwright.debrief.clock import Clock, running
from foamwright.debrief.columns import Candidate, Column, Settled, candidates_of, settled
from foamwright.debrief.composing import composed
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.judging import ENOUGH, Bench, Expected
from foamwright.debrief.layout import Layout, kinds_by_name, layout_of, problem
from foamwright.debrief.naming import BY_UNIT, DIMENSION, Meaning, meanings_of
from foamwright.debrief.recording import Recording
from foamwright.debrief.table import MOST_VALUES, Columns, Wanted, columns_of
from foamwright.debrief.taking import Takes, remembered, takes_of
from foamwright.debrief.thinning import Bins, bins_of, thinned
from foamwright.debrief.timing import Timed, clock_column
from foamwright.physics.arrays import Grid

PLACES = frozenset({"gps", "position", "latitude", "longitude", "gnss", "pos", "location"})
RATES = frozenset(
    f"{axis}_rate{wanted}" for axis in ("roll", "pitch", "yaw") for wanted in ("", "_wanted")
) | {"aileron"}
"""What is kept in every row of a fast log."""
NUMERIC = frozenset({"number", "clock", "pair", "number unit"})


MOST_NAMED = 6
"""Columns without a known name that are listed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Named:
    """Columns that may be something, by their names."""

    layout: Layout
    meanings: Mapping[str, tuple[Meaning, ...]]
    takes: Takes

    @property
    def wanted(self) -> tuple[str, ...]:
        """Return the columns to be read: those with numbers and with a meaning."""
        kinds = kinds_by_name(self.layout)
        return tuple(
            name
            for name in self.layout.names
            if name in self.takes or (self.meanings[name] and kinds[name] in NUMERIC)
        )

    @property
    def exact(self) -> frozenset[str]:
        """Return the columns that keep all their digits."""
        full = {"time", "latitude", "longitude", "charge_used"}
        said = {name for name, taken in self.takes.items() if taken.taken_as in full}
        return frozenset(said) | {
            name for name, found in self.meanings.items() if {m.taken_as for m in found} & full
        }


def named(layout: Layout, takes: Takes) -> Named:
    """Return what the columns of a table may be, by their names and their written units."""
    place = Meaning(taken_as="position", unit="deg", strength=0.9)
    time = Meaning(taken_as="time", unit="s", strength=0.9)
    meanings: dict[str, tuple[Meaning, ...]] = {}
    rows = zip(layout.names, layout.units, layout.cells, layout.cell_units, strict=True)
    for name, unit, kind, cell_unit in rows:
        found = meanings_of(name, unit or cell_unit)
        if kind == "pair":
            found = (place,) if set(name.lower().split()) & PLACES or found else ()
        elif kind == "clock":
            found = (time,)
        meanings[name] = found
    return Named(layout=layout, meanings=meanings, takes=takes)


def with_pairs(read: Named) -> Mapping[str, tuple[Meaning, ...]]:
    """Return the meanings with pairs of numbers as a latitude and a longitude."""
    found = dict(read.meanings)
    for name, kind in kinds_by_name(read.layout).items():
        if kind == "pair":
            found[f"{name}/1"] = (Meaning(taken_as="latitude", unit="deg", strength=0.9),)
            found[f"{name}/2"] = (Meaning(taken_as="longitude", unit="deg", strength=0.9),)
    return found


def clocked(path: Path, read: Named, columns: Columns) -> Timed:
    """Return the clock of a table; raises DataFileProblem where there is none to rely on."""
    found = clock_column(columns.values, read.meanings, kinds_by_name(read.layout), read.takes)
    if not found:
        names = ", ".join(f"'{name}'" for name in read.layout.names[:12])
        what = f"has no column that is a clock among {names}"
        raise problem(path, what, f'say which: --take "{read.layout.names[0]}=time in ms"')
    best = found[0]
    if best.sure < ENOUGH:
        what = f"has an unsure clock '{best.column}': {best.because}"
        raise problem(path, what, f'say what it counts: --take "{best.column}=time in ms"')
    return best


def picked_names(candidates: Sequence[Candidate]) -> frozenset[str]:
    """Return the columns that are angles, of which no mean is taken."""
    return frozenset(one.column for one in candidates if DIMENSION[one.meaning.taken_as] == "angle")


def fast_of(
    clock: Clock, bins: Bins | None, raw: Mapping[str, Grid], found: Settled
) -> Recording | None:
    """Return the body rates of a fast log, and what rolls it, in every row."""
    held = {name: found.verdicts[name] for name in RATES if name in found.verdicts}
    if bins is None or not any("rate" in name for name in held):
        return None
    return Recording(
        time=clock.time,
        channels={
            name: (raw[column] * verdict.factor + verdict.offset).astype(np.float32)
            for name, (column, verdict) in held.items()
        },
        gaps=clock.gaps,
        step=clock.step,
    )


def in_order(columns: Columns, clock: Clock) -> Mapping[str, Grid]:
    """Return the columns in the order of the clock."""
    whole = clock.rows.size == columns.rows
    return {
        name: values if whole else values[clock.rows] for name, values in columns.values.items()
    }


def log_of(path: Path, read: Named, columns: Columns, expected: Expected) -> FlightLog:
    """Return the columns of a table as a log."""
    timed = clocked(path, read, columns)
    clock = running(timed.seconds)
    if clock.time.size < 2 or clock.time[-1] <= 0:
        what = f"holds {clock.time.size} row with a time, which is no flight"
        raise problem(path, what, "at least two rows at different times")
    raw = in_order(columns, clock)
    bins = bins_of(clock.time, clock.step)
    others = {name: values for name, values in raw.items() if name != timed.column}
    candidates = candidates_of(others, with_pairs(read), read.takes)
    thin = thinned(others, bins, picked_names(candidates))
    time = clock.time if bins is None else bins.time
    step = clock.step if bins is None else bins.width
    candidates = [replace(one, values=thin[one.column]) for one in candidates]
    found = settled(Bench(time=time, step=step, expected=expected), candidates)
    channels, made = composed(time, found.channels, expected.pole_pairs)
    if not channels:
        what = "holds no column that is surely a measurement of the flight"
        hint = found.not_said[0] if found.not_said else "no name of a column is known"
        raise problem(path, what, hint)
    told = (*clock.told, *(("the last row broke off and is left out",) if columns.cut else ()))
    return FlightLog(
        recording=Recording(time=time, channels=channels, gaps=clock.gaps, step=step),
        fast=fast_of(clock, bins, raw, found),
        rows=columns.rows,
        columns=(clock_row(timed), *found.columns),
        not_said=(*told, *found.not_said, *unknown(read, timed.column)),
        notes=made,
        header=read.layout.names,
        takes=read.takes,
    )


def unknown(read: Named, clock: str = "") -> tuple[str, ...]:
    """Return that some columns of numbers have names nobody knows, so that they can be told.

    A unit of time alone makes no clock of a column beside the clock: pulses have it too.
    """
    kinds = kinds_by_name(read.layout)
    names = [
        name
        for name in read.layout.names
        if name.strip() and name != clock and name not in read.takes
        if kinds[name] in NUMERIC and not any(map(is_more, read.meanings[name]))
    ]
    if not names:
        return ()
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    listed = ", ".join(f"'{name}'" for name in names[:MOST_NAMED])
    hint = '--take "NAME=ground_speed in km/h"'
    return (f"what {listed}{more} are: no word of their names is known; tell it like {hint}",)


def is_more(meaning: Meaning) -> bool:
    """Return whether a meaning is more than a unit of time."""
    return (meaning.taken_as, meaning.strength) != ("time", BY_UNIT)


def clock_row(timed: Timed) -> Column:
    """Return the clock among the columns."""
    return Column(
        column=timed.column,
        taken_as="time",
        unit=timed.unit,
        scale=timed.scale,
        sure=round(timed.sure, 2),
        because=timed.because,
    )


def read_table(
    path: Path, texts: Sequence[str], kept: Path | None, expected: Expected
) -> FlightLog:
    """Return the log in a table; `texts` say what columns are, `kept` remembers it."""
    layout = layout_of(path)
    takes = remembered(kept, layout.names) if kept else {}
    takes = {**takes, **takes_of(texts, layout.names)}
    read = named(layout, takes)
    if not read.wanted:
        names = ", ".join(f"'{name}'" for name in layout.names[:12])
        what = f"has no column whose name is known: {names}"
        raise problem(path, what, 'say what they are: --take "NAME=ground_speed in km/h"')
    columns = columns_of(path, layout, Wanted(names=read.wanted, exact=read.exact))
    if columns.rows < 2:
        what = f"holds {columns.rows} row of data, which is no flight"
        raise problem(path, what, "at least two rows at different times")
    if columns.rows * len(columns.values) > MOST_VALUES:
        raise problem(path, f"has {columns.rows} rows, too many at once", "cut it to one flight")
    return log_of(path, read, columns, expected)

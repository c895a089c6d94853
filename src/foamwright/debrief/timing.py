"""Which column is the clock, and what it counts."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.debrief.clock import FASTEST, packed_clock, units_that_fit, usual_step
from foamwright.debrief.logged_units import UNITS
from foamwright.debrief.naming import BY_UNIT, Meaning
from foamwright.debrief.table import midnights
from foamwright.debrief.taking import Taken
from foamwright.physics.arrays import Grid

FEWEST, STEADY = 10, 0.8
"""Steps, and share of them, by which a column of an unknown name is seen to be a clock."""
STATED_SLOWEST = 60.0
"""Time between rows of a log whose header names the unit [s]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Timed:
    """A column as a clock."""

    column: str
    seconds: Grid
    """(rows,)."""
    unit: str
    scale: float
    sure: float
    because: str

    @property
    def rank(self) -> tuple[float, int]:
        """Return how good a clock it is: how sure, then how fine."""
        return round(self.sure, 1), int(np.unique(self.seconds[np.isfinite(self.seconds)]).size)


def ticks(column: str, values: Grid, meaning: Meaning) -> Timed:
    """Return a column of numbers as a clock, however unsure."""
    packed = None if meaning.unit else packed_clock(values)
    if packed is not None:
        because = "numbers like 123519 are hours, minutes and seconds"
        return Timed(
            column=column, seconds=midnights(packed), unit="s", scale=1.0, sure=0.9, because=because
        )
    fit = units_that_fit(values)
    unit = meaning.unit or (fit[0] if fit else "s")
    scale = UNITS["time"][unit][0]
    step = usual_step(values[np.isfinite(values)]) * scale
    sure, because = unsaid(fit, step)
    if meaning.unit:
        runs = FASTEST / 10 <= step <= STATED_SLOWEST
        sure = meaning.strength if runs else 0.3
        because = f"the header says {unit}; a row every {step:.3g} s"
        if meaning.strength <= BY_UNIT:
            sure, because = by_unit(values, unit, step)
    known = np.asarray(values, dtype=float)
    first = known[np.isfinite(known)][:1]
    seconds = (known - (first[0] if first.size else 0.0)) * scale
    return Timed(column=column, seconds=seconds, unit=unit, scale=scale, sure=sure, because=because)


def by_unit(values: Grid, unit: str, step: float) -> tuple[float, str]:
    """Return how sure a clock is of which only the written unit is known, and why."""
    if not evenly(values):
        return 0.3, f"the header says {unit}, but it does not count on as a clock does"
    return 0.85, f"the header says {unit}, and it counts on evenly, a row every {step:.3g} s"


def evenly(values: Grid) -> bool:
    """Return whether a column counts on as a clock does: forward nearly always, by like steps."""
    steps = np.diff(values[np.isfinite(values)])
    if steps.size < FEWEST:
        return False
    usual = float(np.median(steps))
    like = np.abs(steps - usual) <= 0.5 * abs(usual)
    return usual > 0.0 and float(np.mean(steps >= 0.0)) > STEADY and float(np.mean(like)) > STEADY


def unsaid(fit: Sequence[str], step: float) -> tuple[float, str]:
    """Return how sure a clock without a written unit is, and why."""
    if not fit:
        return 0.2, "in no unit do its rows and its length make a flight"
    if len(fit) > 1:
        return 0.6, f"it may be {' or '.join(fit)}"
    return 0.92, f"only as {fit[0]} is it a flight: a row every {step:.3g} s"


def clock_column(
    values: Mapping[str, Grid],
    meanings: Mapping[str, Sequence[Meaning]],
    kinds: Mapping[str, str],
    takes: Mapping[str, Taken],
) -> tuple[Timed, ...]:
    """Return the columns that may be the clock, the best first."""
    found = []
    for name, column in values.items():
        said = takes.get(name)
        if said is not None and said.taken_as == "time":
            meaning = Meaning(taken_as="time", unit=said.unit, strength=1.0)
            timed = ticks(name, column, meaning)
            return (timed,)
        own = [meaning for meaning in meanings.get(name, ())[:1] if meaning.taken_as == "time"]
        if said is not None or np.count_nonzero(np.isfinite(column)) < 2:
            continue
        if kinds.get(name) == "clock":
            because = "its cells are times of the day"
            found.append(
                Timed(column=name, seconds=column, unit="s", scale=1.0, sure=0.95, because=because)
            )
        elif own:
            found.append(ticks(name, column, own[0]))
    return tuple(sorted(found, key=lambda timed: timed.rank, reverse=True))

"""What the columns of a log are, confirmed once and remembered with the plane."""

from pathlib import Path

from foamwright.debrief.columns import Column
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.naming import DIMENSION, meanings_of
from foamwright.debrief.taking import NOTHING, Taken, Takes
from foamwright.jobs.kept_flights import remember
from foamwright.plane.flights import FOLDER
from foamwright.problems import CallProblem, WriteProblem

SAID = "confirmed before"
"""Who says so, when the next log with the same header is read."""


ASSUMED = {"speed": "m/s", "length": "m"}
"""Units in which speeds and lengths are taken without a word; what else they are was found out."""


def found_out(log: FlightLog) -> tuple[Column, ...]:
    """Return the columns taken in a unit that nobody wrote: to be asked about, and remembered.

    A speed that turned out to be knots beside the positions is one.
    """
    if log.takes is None:
        return ()
    return tuple(
        column
        for column in log.columns
        if column.taken_as
        and column.column in log.header
        and column.column not in log.takes
        and column.unit != ASSUMED.get(DIMENSION[column.taken_as], column.unit)
        and column.unit not in {one.unit for one in meanings_of(column.column)}
        and "say so" not in column.because
    )


def on_accepting(log: FlightLog) -> Takes:
    """Return what is remembered of a log that is kept: what was said, and what was found out."""
    found = {
        column.column: Taken(taken_as=column.taken_as, unit=column.unit, source=SAID)
        for column in found_out(log)
    }
    return {**found, **(log.takes or {})}


def as_shown(log: FlightLog) -> Takes:
    """Return what each column was taken as, as if somebody had said it.

    What was said by hand stays as it was said. An unsure column that was left out is to be left
    out from now on. A clock, a column that told nothing in this flight, and one that another was
    better than are found anew each time: they may do better in the next flight.
    """
    said = dict(log.takes or {})
    for column in log.columns:
        name = column.column
        if name in said or name not in log.header or column.taken_as == "time":
            continue
        if column.taken_as:
            said[name] = Taken(taken_as=column.taken_as, unit=column.unit, source=SAID)
        elif column.likely:
            said[name] = Taken(taken_as=NOTHING, unit="", source=SAID)
    return said


def confirm(folder: Path, log: FlightLog) -> Path:
    """Write the columns of a log beside the flights of a plane's folder; return the file.

    Raises CallProblem for a log whose columns a standard sets, and WriteProblem.
    """
    if log.takes is None:
        what = "the columns of this log are set by its standard"
        raise CallProblem(what, expected="there is nothing to confirm")
    place = folder / FOLDER
    try:
        place.mkdir(exist_ok=True)
        return remember(folder, log.header, as_shown(log))
    except OSError as error:
        what = f"cannot be written: {error.strerror or error}"
        raise WriteProblem(place, what, expected="look at its permissions") from error

"""A log as it was read: the recording, and how it came to be."""

from dataclasses import dataclass

from foamwright.debrief.columns import Column
from foamwright.debrief.recording import Recording
from foamwright.debrief.taking import Takes


@dataclass(frozen=True, kw_only=True, slots=True)
class FlightLog:
    """One log, read."""

    recording: Recording
    """Thinned to 25 rows a second where the log is faster."""
    fast: Recording | None
    """Body rates and aileron of a fast log, every row; none where the log is not fast."""
    rows: int
    """In the file."""
    columns: tuple[Column, ...]
    """What each was taken as, and why; those no word of which is known are not listed."""
    not_said: tuple[str, ...]
    """What was left out, and why."""
    notes: tuple[str, ...] = ()
    """What was made of several columns."""
    header: tuple[str, ...] = ()
    """Names of all columns, by which confirmed ones are remembered."""
    takes: Takes | None = None
    """What the user said of the columns."""

"""What a flight told, for a template: columns, stretches, wind, figures, what it taught."""

from collections.abc import Mapping, Sequence

from foamwright.debrief.columns import Column
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.logged_units import UNITS
from foamwright.debrief.naming import DIMENSION
from foamwright.debrief.taking import NOTHING, Takes
from foamwright.jobs.debrief import Debriefed, Told
from foamwright.jobs.flight_analysis import Finding, Wind
from foamwright.model.learning import Band, Change
from foamwright.page.answers import figure_told
from foamwright.page.bands import two_bands
from foamwright.page.compared_told import compared_told
from foamwright.page.dress import fragment
from foamwright.page.timeline import point, timeline, wind_arrow
from foamwright.quantity import show, show_band
from foamwright.questions.answer import Figure

Row = dict[str, object]

SHOWN_UNITLESS = ("", "1")
"""Units of a column that are none."""


def words(name: str) -> str:
    """Return a name of the program's as words."""
    return name.replace("_", " ")


def kinds() -> list[tuple[str, str]]:
    """Return what a column can be taken as, with the words for it."""
    return [(name, words(name)) for name in sorted(DIMENSION)]


def units_by_kind() -> dict[str, list[str]]:
    """Return the units of everything a column can be taken as."""
    return {name: list(UNITS[dimension]) for name, dimension in DIMENSION.items()}


def row_of(column: Column, log: FlightLog) -> Row:
    """Return one recognised column."""
    guess, _, unit = column.likely.partition(" in ")
    return {
        "column": column.column,
        "taken_as": column.taken_as or NOTHING,
        "words": words(column.taken_as) or "left out",
        "unit": column.unit if column.taken_as else "",
        "units": list(UNITS[DIMENSION[column.taken_as]]) if column.taken_as else [],
        "sure": f"{100.0 * column.sure:.0f} %" if column.sure else "",
        "because": column.because,
        "likely": column.likely,
        "guess": f"{words(guess)} in {unit}" if unit else words(guess),
        "fixed": log.takes is None or column.column not in log.header,
    }


def said_nothing(name: str) -> Row:
    """Return a column somebody said is to be left out."""
    return {
        "column": name,
        "taken_as": NOTHING,
        "words": "left out",
        "unit": "",
        "units": [],
        "sure": "",
        "because": "",
        "likely": "",
        "guess": "",
        "fixed": False,
    }


def rows_of(log: FlightLog) -> tuple[list[Row], list[Row]]:
    """Return the columns that were recognised, in the order of the file, and all others."""
    known = {column.column: row_of(column, log) for column in log.columns}
    for name, taken in (log.takes or {}).items():
        if name not in known and taken.taken_as == NOTHING:
            known[name] = {**said_nothing(name), "because": taken.source}
    order = {name: place for place, name in enumerate(log.header)}
    found = sorted(known.values(), key=lambda row: order.get(str(row["column"]), -1))
    others = [said_nothing(name) for name in log.header if name not in known]
    if log.takes is None:
        others = []
    return found, others


def columns_told(log: FlightLog) -> Row:
    """Return the columns of a log."""
    found, others = rows_of(log)
    return {
        "columns": found,
        "others": others,
        "kinds": kinds(),
        "units": units_by_kind(),
        "free": log.takes is not None,
        "confirmed": log.takes is not None
        and all(
            row["fixed"] or row["taken_as"] == "time" or row["sure"] in {"", "100 %"}
            for row in found
        ),
    }


def unread_columns(header: Sequence[str], takes: Takes) -> Row:
    """Return the columns of a log that could not be read, with what was said of them so far."""
    rows = []
    for name in header:
        row = said_nothing(name)
        said = takes.get(name)
        if said is not None and said.taken_as != NOTHING:
            row |= {
                "taken_as": said.taken_as,
                "unit": said.unit,
                "units": list(UNITS[DIMENSION[said.taken_as]]),
                "because": said.source,
            }
        rows.append(row)
    return {
        "columns": rows,
        "others": [],
        "kinds": kinds(),
        "units": units_by_kind(),
        "free": True,
    }


def unread(file: str, header: Sequence[str], takes: Takes, problem: str) -> str:
    """Return a log that could not be read as a piece of the page: its columns can be told."""
    table = unread_columns(header, takes)
    return fragment("flight_unread.html", {"file": file, "problem": problem, "table": table})


def log_words(log: FlightLog) -> str:
    """Return how long a log is, and how much of it is there."""
    lasted = float(log.recording.time[-1] - log.recording.time[0])
    told = f"{log.rows} rows over {show(lasted, 'time')}"
    gaps = len(log.recording.gaps)
    if gaps:
        left = "gap is" if gaps == 1 else "gaps are"
        share = f"{100.0 * log.recording.coverage:.0f} %"
        told += f"; {share} of that time recorded, {gaps} {left} left open"
    return told


def stretches_told(flight: Told) -> Row:
    """Return the flight along its time, drawn and as a table."""
    if flight.log is None:
        return {"timeline": "", "segments": []}
    recording = flight.log.recording
    span = (float(recording.time[0]), float(recording.time[-1]))
    return {
        "timeline": timeline(flight.segments, recording.gaps, span),
        "segments": [
            {
                "kind": segment.kind,
                "start": f"{segment.start - span[0]:.0f} s",
                "end": f"{segment.end - span[0]:.0f} s",
                "lasted": show(segment.end - segment.start, "time"),
            }
            for segment in flight.segments
        ],
    }


def wind_told(wind: Wind | None, units: str) -> Row | None:
    """Return the wind in words, with an arrow and a band."""
    if wind is None:
        return None
    figure = Figure(
        name="wind",
        label="wind",
        value=wind.speed,
        low=wind.low,
        high=wind.high,
        unit="m s^-1",
        dimension="speed",
    )
    return {
        "from": f"{point(wind.from_deg)} ({wind.from_deg:.0f}°)",
        "arrow": wind_arrow(wind.from_deg),
        **figure_told(figure, units, ""),
    }


def band_words(band: Band, dimension: str, units: str) -> str:
    """Return a middle and its band."""
    value = show(band.value, dimension, units)
    return f"{value} ({show_band(band.low, band.high, dimension, units)})"


def change_told(change: Change, units: str) -> Row:
    """Return what was believed of one quantity, and what is now."""
    before, after = change.before, change.after
    ends = ((before.low, before.value, before.high), (after.low, after.value, after.high))
    return {
        "label": change.label,
        "before": band_words(before, change.dimension, units),
        "after": band_words(after, change.dimension, units),
        "chart": two_bands(*ends),
    }


def unsaid(flight: Told) -> list[str]:
    """Return what cannot be said; what the table of columns says is not said twice."""
    columns = () if flight.log is None else flight.log.columns
    told = tuple(f"'{column.column}' is left out: " for column in columns)
    return [line for line in flight.not_said if not line.startswith(told or ("\n",))]


def finding_told(finding: Finding) -> Row:
    """Return one finding."""
    return {
        "what": finding.what,
        "because": finding.because,
        "check_first": list(finding.check_first),
    }


def limited(figure: Figure) -> bool:
    """Return whether a figure has an end it is held against: only then a drawing tells more."""
    return figure.limit_low is not None or figure.limit_high is not None


def drawn_told(figure: Figure, units: str) -> Row:
    """Return a figure, drawn where that tells something."""
    told_plain = figure_told(figure, units, "")
    return told_plain if limited(figure) else {**told_plain, "chart": ""}


def told(debriefed: Debriefed, names: Mapping[str, object]) -> str:
    """Return what one flight told as a piece of the page.

    `names` are its file, the kept flights it can be held beside, and those it was held beside.
    """
    (flight,) = debriefed.flights
    units = debriefed.units
    log = flight.log
    return fragment(
        "flight_told.html",
        {
            **names,
            "log": None if log is None else {"words": log_words(log), "notes": log.notes},
            "table": None if log is None else columns_told(log),
            **stretches_told(flight),
            "wind": wind_told(flight.wind, units),
            "figures": [drawn_told(figure, units) for figure in flight.figures],
            "drawn": any(limited(figure) for figure in flight.figures),
            "findings": [finding_told(finding) for finding in flight.findings],
            "assumed": flight.assumed,
            "not_said": unsaid(flight),
            "belief": changes_told(debriefed.belief, units),
            "compared": compared_told(debriefed.compared, units),
        },
    )


def changes_told(changes: Sequence[Change], units: str) -> list[Row]:
    """Return all that a flight taught."""
    return [change_told(change, units) for change in changes]

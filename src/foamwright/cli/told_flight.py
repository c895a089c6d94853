"""What flights told, for a terminal."""

from collections.abc import Sequence

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from foamwright.cli.screen import QUIET, Heading, Screen
from foamwright.debrief.columns import Column
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.wanted import WANTED
from foamwright.jobs.debrief import Debriefed, Told
from foamwright.jobs.flight_analysis import Finding, Wind
from foamwright.jobs.paired_flights import Compared, Moved, words
from foamwright.model.learning import Band, Change
from foamwright.problems import shown
from foamwright.questions.answer import Figure


def log_line(log: FlightLog) -> Text:
    """Return how long a log is and how much of it is there."""
    lasted = float(log.recording.time[-1] - log.recording.time[0])
    gaps = len(log.recording.gaps)
    line = Text(f"{log.rows} rows over {lasted:.0f} s")
    if gaps:
        left = "gap is" if gaps == 1 else "gaps are"
        share = f"{log.recording.coverage * 100:.0f} %"
        line.append(f", {share} of that time recorded; {gaps} {left} left open")
    return line


def columns_table(columns: Sequence[Column]) -> RenderableType:
    """Return what each column was taken as, and why."""
    grid = Table.grid(padding=(0, 2))
    grid.add_column(no_wrap=True, max_width=24)
    grid.add_column(no_wrap=True)
    grid.add_column()
    for column in columns:
        if column.taken_as:
            unit = f" in {column.unit}" if column.unit not in {"", "1"} else ""
            taken = f"{column.taken_as.replace('_', ' ')}{unit}"
            why = f"{column.sure * 100:.0f} % sure: {column.because}"
            grid.add_row(Text(shown(column.column)), Text(taken, "bold"), Text(why, QUIET))
    return grid


def as_figure(change: Change, band: Band) -> Figure:
    """Return one side of a change as a figure."""
    return Figure(
        name=change.parameter,
        label=change.label,
        value=band.value,
        low=band.low,
        high=band.high,
        unit="",
        dimension=change.dimension,
    )


def change_line(screen: Screen, change: Change) -> Text:
    """Return what a flight taught of one quantity."""
    arrow = "→" if screen.signs else "->"
    before, after = as_figure(change, change.before), as_figure(change, change.after)
    line = Text(f"{change.label}  {screen.shown(before.value, change.dimension)}")
    line.append(f" ({screen.spread(before)}) {arrow} ", QUIET)
    line.append(screen.shown(after.value, change.dimension), "bold")
    line.append(f" ({screen.spread(after)})", QUIET)
    return line


def wind_line(screen: Screen, wind: Wind) -> Text:
    """Return the wind: where from, how fast, its band."""
    band = as_band("wind", wind.speed, wind.low, wind.high)
    line = Text(f"wind from {wind.from_deg:.0f}°, ")
    line.append(screen.shown(wind.speed, "speed"), "bold")
    line.append(f"  ({screen.spread(band)})", QUIET)
    return line


def as_band(name: str, value: float, low: float, high: float) -> Figure:
    """Return a speed with its band."""
    return Figure(
        name=name, label=name, value=value, low=low, high=high, unit="m s^-1", dimension="speed"
    )


def findings(screen: Screen, found: Sequence[Finding]) -> list[RenderableType]:
    """Return findings, each with its reason and what to look at first."""
    told: list[RenderableType] = []
    for one in found:
        told += [
            Text(),
            screen.indented(Text(one.what, "bold")),
            screen.indented(Text(one.because)),
        ]
        told += [screen.item(Text(f"check first: {first}")) for first in one.check_first]
    return told


def flight(screen: Screen, told: Told) -> list[RenderableType]:
    """Return what one flight told."""
    parts: list[RenderableType] = [Text()]
    if told.log is None:
        parts.append(Text("Read off the screen", "bold"))
    else:
        parts += [
            Text(shown(str(told.file)), "bold"),
            screen.indented(log_line(told.log)),
            Text(),
            screen.indented(Text("Columns", "bold")),
            screen.indented(columns_table(told.log.columns)),
        ]
        parts += [screen.item(Text(note)) for note in told.log.notes]
    parts.append(Text())
    if told.wind is not None:
        parts.append(screen.indented(wind_line(screen, told.wind)))
    parts.append(screen.indented(screen.table(told.figures)))
    parts += findings(screen, told.findings)
    parts += screen.listed("Taken for granted", told.assumed)
    return [*parts, *screen.listed("Not said", tuple(map(shown, told.not_said)))]


def moved_line(screen: Screen, one: Moved) -> RenderableType:
    """Return how one figure moved, and what is made of that."""
    arrow = "→" if screen.signs else "->"
    sides = (one.before, one.after)
    told = f" {arrow} ".join(screen.shown(side.value, side.dimension) for side in sides)
    at = "" if one.speed is None else f" at {screen.shown(one.speed, 'speed')}"
    line = Text(f"{WANTED[one.change.name].label}{at}  {told}  ")
    line.append(words(one), "bold")
    line.append(
        f"  (change {screen.spread(one.change)}; {100.0 * one.chance:.0f} % that it is"
        f" {one.wanted}, which is wanted)",
        QUIET,
    )
    return screen.item(line)


def compared_part(screen: Screen, found: Compared) -> list[RenderableType]:
    """Return what flights before and after a change tell together."""
    before, after = (f"{n} flight{'s' if n > 1 else ''}" for n in found.flights)
    parts: list[RenderableType] = [
        Text(),
        Text(f"The change: {before} before, {after} after", "bold"),
    ]
    parts += [moved_line(screen, one) for one in found.moved]
    brought = dict.fromkeys(word for one in found.moved for word in one.corrected)
    if brought:
        parts.append(screen.indented(Text(f"Brought over by {', '.join(brought)}.", QUIET)))
    parts += screen.listed("Taken for granted", found.assumed)
    return [*parts, *screen.listed("Not compared", tuple(map(shown, found.not_said)))]


def debriefed_page(screen: Screen, found: Debriefed) -> str:
    """Return what flights told as a page."""
    parts: list[RenderableType] = [screen.head(Heading(plane=found.plane))]
    for told in found.flights:
        parts += flight(screen, told)
    if found.compared:
        parts += compared_part(screen, found.compared)
    if found.belief:
        parts += [Text(), Text("What it teaches of the plane", "bold")]
        parts += [screen.item(change_line(screen, change)) for change in found.belief]
    if found.written:
        parts += [Text(), Text("Kept with the plane:")]
        parts += [screen.item(Text(shown(str(file)))) for file in found.written]
    else:
        parts += [Text(), Text("Nothing was written; --accept keeps the flight and learns.", QUIET)]
    return screen.set_out(parts)

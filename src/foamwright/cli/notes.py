"""What a bench note says, for a terminal."""

from collections.abc import Sequence

from rich.console import RenderableType
from rich.text import Text

from foamwright.cli.screen import QUIET, Heading, Odds, Screen
from foamwright.jobs.bench import Noted, Rebuilt
from foamwright.model.evidence import OBSERVABLE
from foamwright.model.learning import Band, Change, Taught
from foamwright.plane.bench import entry_of, name_of
from foamwright.quantity import show_band


def in_band(screen: Screen, band: Band, dimension: str) -> str:
    """Return a middle and its band as text."""
    if dimension == "number":
        return f"{band.value:.2f} ({band.low:.2f}–{band.high:.2f})"
    ends = show_band(band.low, band.high, dimension, screen.units, currency=screen.currency)
    return f"{screen.shown(band.value, dimension)} ({ends})"


def changed(screen: Screen, change: Change) -> str:
    """Return what a test or flight taught of one quantity."""
    before = in_band(screen, change.before, change.dimension)
    after = in_band(screen, change.after, change.dimension)
    arrow = "→" if screen.signs else "->"
    return f"{change.label} {before} {arrow} {after}"


def record_line(noted: Noted) -> Text:
    """Return what was noted, and where."""
    words = ", ".join(
        f"{key.replace('_', ' ')} {value}" for key, value in entry_of(noted.record).items()
    )
    start = "Noted in" if noted.written else "Not written (--dry), for"
    return Text(f"{start} {noted.file.name} under {name_of(noted.record)}: {words}.")


def noted_page(screen: Screen, noted: Noted, odds: Odds) -> str:
    """Return a note as a page: what was written, how it fits, what it taught."""
    heading = Heading(plane=noted.plane, variant=None)
    parts: list[RenderableType] = [screen.head(heading), Text(), record_line(noted)]
    parts += screen.listed("Look again", noted.hints)
    parts += [Text(), *screen.opened(noted.answer)]
    taught = tuple(changed(screen, change) for change in noted.changes)
    parts += screen.listed("What it taught", taught)
    return screen.set_out([*parts, Text(), *screen.foot(heading, odds, (noted.answer,), "")])


def checks(screen: Screen, taught: Taught) -> tuple[str, ...]:
    """Return each observation of a source beside what was expected of it."""
    lines = []
    for check in taught.checked:
        kind = OBSERVABLE[check.observation.name]
        line = f"{kind.label} {screen.shown(check.observation.value, kind.dimension)}"
        if check.expected is not None and check.bound:
            slow = in_band(screen, check.expected, kind.dimension)
            line += f", a bound; expected to fly level down to {slow}"
        elif check.expected is not None:
            line += f", expected {in_band(screen, check.expected, kind.dimension)}"
        lines.append(line if check.used else f"{line}: nothing learned, {check.why}")
    return tuple(lines)


def sources(screen: Screen, taught: Sequence[Taught]) -> list[RenderableType]:
    """Return what each test and flight taught."""
    parts: list[RenderableType] = []
    for entry in taught:
        parts += [Text(), Text(entry.source.name, "bold")]
        parts += map(screen.item, (Text(line) for line in checks(screen, entry)))
        for change in entry.changes:
            parts.append(screen.indented(Text(changed(screen, change), QUIET), 2))
    return parts


def rebuilt_page(screen: Screen, rebuilt: Rebuilt) -> str:
    """Return what the folder teaches as a page, source by source."""
    parts: list[RenderableType] = [screen.head(Heading(plane=rebuilt.plane, variant=None))]
    if not rebuilt.taught:
        parts += [Text(), Text("Nothing was tested or flown yet, so there is nothing to learn.")]
    parts += sources(screen, rebuilt.taught)
    if rebuilt.score:
        parts += [Text(), Text(rebuilt.score + ".")]
    return screen.set_out(parts)

"""Level flight at some speeds, for a terminal."""

from rich.console import RenderableType
from rich.text import Text

from foamwright.cli.screen import QUIET, Heading, Odds, Screen, per_cent
from foamwright.jobs.level import Levelled, LevelRow


def head(screen: Screen, row: LevelRow) -> Text:
    """Return the speed of a row, and how many of the planes can hold it where not all can."""
    line = Text(f"at {screen.shown(row.speed, 'speed')}", "bold")
    if row.holds < 1.0:
        line.append(f"   {per_cent(row.holds)} of such planes can hold it", QUIET)
    return line


def body(screen: Screen, row: LevelRow) -> RenderableType:
    """Return the figures of a row, or that there are none."""
    if all(figure.value is None for figure in row.figures):
        return Text("Most of them cannot, so there are no figures for it.")
    return screen.table(row.figures)


def level_page(screen: Screen, levelled: Levelled, odds: Odds) -> str:
    """Return level flight as a page, a block a speed."""
    heading = Heading(plane=levelled.plane, variant=levelled.variant)
    parts: list[RenderableType] = [screen.head(heading)]
    for row in levelled.rows:
        parts += [Text(), head(screen, row), screen.indented(body(screen, row))]
    parts += screen.listed("Assumed", levelled.assumed)
    return screen.set_out([*parts, Text(), *screen.foot(heading, odds, (), "")])

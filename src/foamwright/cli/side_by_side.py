"""Variants side by side, for a terminal."""

from pathlib import Path

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from foamwright.cli.as_typed import as_typed
from foamwright.cli.screen import MARKS, QUIET, Heading, Odds, Screen, per_cent
from foamwright.jobs.compare import Compared, Difference, Outcome, Row, Told
from foamwright.quantity import digits, in_units

PLANNED = "as planned"
WORDS: dict[Told, str] = {
    "more": "more",
    "less": "less",
    "same": "the same",
    "cannot tell": "cannot tell",
}
"""What a difference says."""


def compared_page(screen: Screen, compared: Compared, path: Path) -> str:
    """Return variants side by side as a page, a block a question."""
    heading = Heading(
        plane=compared.plane, variant=", ".join(compared.variants), seconds=compared.seconds
    )
    odds = Odds(samples=compared.samples, seed=compared.seed)
    parts: list[RenderableType] = [screen.head(heading)]
    for row in compared.rows:
        parts += [Text(), *block(screen, row)]
    first = compared.variants[0]
    parts += [Text(), *screen.foot(heading, odds, (), "")]
    parts.append(
        Text(f"Look into one:  foamwright ask {as_typed(path)} --variant {as_typed(first)}")
    )
    return screen.set_out(parts)


def block(screen: Screen, row: Row) -> list[RenderableType]:
    """Return one question: its key figure, then a line a variant."""
    key = next((o.key_figure for o in row.outcomes if o.key_figure is not None), None)
    told: list[RenderableType] = [Text(row.asks, "bold")]
    if key is not None:
        wanted = screen.limit(key)
        told.append(screen.indented(Text(f"{key.label}{', ' if wanted else ''}{wanted}", QUIET)))
    grid = Table.grid(padding=(0, 1))
    grid.add_column(max_width=max(10, screen.width // 4))
    for width in (None, 8, 6):
        grid.add_column(no_wrap=True, min_width=width)
    grid.add_column(no_wrap=True, justify="right", min_width=7)
    grid.add_column()
    changes = {change.variant: change for change in row.differences}
    for outcome in row.outcomes:
        change = changes.get(outcome.variant) if outcome.variant is not None else None
        grid.add_row(*line(screen, outcome, change))
    return [*told, screen.indented(grid)]


def line(screen: Screen, outcome: Outcome, change: Difference | None) -> list[Text]:
    """Return name, mark, verdict, chance, key figure and difference of one variant."""
    sign, letters, ink = MARKS[outcome.verdict]
    figure = outcome.key_figure
    value = "" if figure is None else screen.shown(figure.value, figure.dimension)
    chance = "" if outcome.probability is None else per_cent(outcome.probability)
    return [
        Text(PLANNED if outcome.variant is None else outcome.variant),
        Text(sign if screen.signs else letters, ink),
        Text(outcome.verdict, ink),
        Text(f"{chance:>6}", ink),
        Text(value, "bold"),
        last(screen, outcome, change),
    ]


def last(screen: Screen, outcome: Outcome, change: Difference | None) -> Text:
    """Return what a variant changes, or what is missing for an answer."""
    if outcome.missing:
        return Text("needs " + "; ".join(outcome.missing))
    if change is None:
        return Text("" if outcome.variant is None else "nothing to compare with", QUIET)
    words = WORDS[change.told]
    found = change.figure
    if found.value is None or found.low is None or found.high is None:
        return Text(f"{words}: most have no such figure", QUIET)
    if change.told == "same":
        return Text(words, QUIET)
    ends = [signed(screen, end, found.dimension) for end in (found.low, found.high)]
    text = Text(f"{words} ", "bold" if change.told in ("more", "less") else "")
    text.append(signed(screen, found.value, found.dimension, unit=True))
    return text.append(f" ({ends[0]} to {ends[1]})", QUIET)


def signed(screen: Screen, value: float, dimension: str, *, unit: bool = False) -> str:
    """Return a difference with its sign; percent of a share become points."""
    number, name = in_units(value, dimension, screen.units, screen.currency)
    number -= in_units(0.0, dimension, screen.units, screen.currency)[0]  # a scale's own zero
    name = "points" if dimension == "fraction" else name
    text = digits(number)
    text = text if text.startswith("-") or text == "0" else f"+{text}"
    return f"{text} {name}".rstrip() if unit else text

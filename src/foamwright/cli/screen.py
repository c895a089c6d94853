"""Answers as a page of a builder's notebook, for a terminal."""

import io
import os
import shutil
import sys
import textwrap
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

import click
from rich.console import Console, Group, RenderableType
from rich.padding import Padding
from rich.rule import Rule
from rich.table import Table
from rich.text import Text

from foamwright.cli.band import INK, PLAIN, band
from foamwright.cli.purchases import shopping
from foamwright.quantity import show, show_band
from foamwright.questions.answer import Answer, Effect, Figure, Remedy, Verdict

MARKS: dict[Verdict, tuple[str, str, str]] = {
    "yes": ("■", "[#]", "bold blue"),
    "likely": ("◧", "[/]", "cyan"),
    "unsure": ("◇", "<?>", "bold"),
    "unlikely": ("△", "/!\\", "yellow"),
    "no": ("✖", "[x]", "bold magenta"),
    "open": ("◌", "(_)", "dim"),
}
"""A mark of its own shape for each verdict, one for plain letters, and the ink."""

PLAIN_LETTERS = str.maketrans({"–": "-", "·": " ", "±": "+-", "²": "2", "³": "3", "°": " deg"})
"""What stands for a letter that a terminal does not have."""

QUIET, BLUE = "dim", "blue"
SMALL_BAND = (10, 18)
"""Columns of a band beside its figure, at least and at most."""
INDENT = 3
NARROWEST, WIDEST = 48, 96
"""Columns a page is set to, whatever the terminal says."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Heading:
    """What stands at the head of a page."""

    plane: str
    """The plane's name."""
    variant: str | None = None
    """Which variant; none for the plane as it is."""
    seconds: float | None = None
    """How long it took."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Odds:
    """Where the odds come from."""

    samples: int
    """How many planes."""
    seed: int
    """Which luck."""
    call: str = ""
    """The command that opens one question, without the question."""


@contextmanager
def waiting(doing: str) -> Iterator[None]:
    """Say on a terminal what takes its time, and take it back afterwards."""
    seen = sys.stderr.isatty() and os.environ.get("TERM") != "dumb"
    if seen:
        click.echo(f"   {doing} ...", err=True, nl=False)
    try:
        yield
    finally:
        if seen:
            click.echo(f"\r{' ' * (len(doing) + 7)}\r", err=True, nl=False)


def can_draw(encoding: str | None) -> bool:
    """Return whether a terminal's letters include the marks we draw with."""
    signs = "".join(mark for mark, _, _ in MARKS.values()) + INK.band + INK.middle + "→"
    try:
        signs.encode(encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


@dataclass(frozen=True, kw_only=True, slots=True)
class Screen:
    """What is known of the terminal, and in which units to speak."""

    units: str = "metric"
    """Metric or imperial."""
    currency: str = "EUR"
    """Three letters."""
    width: int = 80
    """Columns."""
    colour: bool = False
    """Whether to use inks."""
    signs: bool = True
    """Whether marks beyond plain letters can be drawn."""

    @classmethod
    def of_terminal(cls, units: str, currency: str) -> "Screen":
        """Return the screen standard output goes to."""
        terminal = sys.stdout.isatty()
        inks = terminal and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
        columns = shutil.get_terminal_size((80, 24)).columns if terminal else 80
        return cls(
            units=units,
            currency=currency,
            width=min(max(columns, NARROWEST), WIDEST),
            colour=inks,
            signs=can_draw(sys.stdout.encoding),
        )

    def set_out(self, parts: Iterable[RenderableType]) -> str:
        """Return parts set out as text, no line longer than the screen is wide."""
        console = Console(
            file=io.StringIO(),
            width=self.width,
            force_terminal=self.colour,
            color_system="standard" if self.colour else None,
            no_color=not self.colour,
            highlight=False,
            markup=False,
            emoji=False,
            legacy_windows=False,
            _environ={},
        )
        with console.capture() as captured:
            for part in parts:
                console.print(part)
        return "\n".join(line.rstrip() for line in captured.get().split("\n"))

    def write(self, text: str) -> None:
        """Print text; a letter the terminal does not have becomes a question mark."""
        if not self.signs:
            encoding = sys.stdout.encoding or "ascii"
            text = text.translate(PLAIN_LETTERS).encode(encoding, "replace").decode(encoding)
        click.echo(text, nl=False, color=self.colour)

    def shown(self, value: float | None, dimension: str) -> str:
        """Return a value in the user's units."""
        if value is None:
            return "none"
        if dimension == "number":
            return f"{value:.2f}"
        return show(value, dimension, self.units, self.currency)

    def answers(
        self,
        answers: tuple[Answer, ...],
        heading: Heading,
        odds: Odds,
        *,
        opened: bool = False,
    ) -> str:
        """Return answers as a page: a block each, or opened in full."""
        parts = [self.head(heading)]
        for answer in answers:
            parts += [Text(), *(self.opened(answer) if opened else self.block(answer))]
        call = "" if opened or not answers else odds.call
        return self.set_out([*parts, Text(), *self.foot(heading, odds, answers, call)])

    def head(self, heading: Heading) -> RenderableType:
        """Return the name of the plane over a line."""
        variant = f"variant: {heading.variant}" if heading.variant else "as planned"
        grid = Table.grid(expand=True)
        grid.add_column()
        grid.add_column(justify="right")
        grid.add_row(Text(heading.plane, "bold"), Text(variant, QUIET))
        return Group(grid, self.rule())

    def rule(self) -> RenderableType:
        """Return a thin line across the page."""
        return Rule(style=QUIET, characters="─" if self.signs else "-")

    def foot(
        self, heading: Heading, odds: Odds, answers: tuple[Answer, ...], call: str
    ) -> list[RenderableType]:
        """Return where the odds come from, and what they do not know."""
        took = f", in {heading.seconds:.1f} s" if heading.seconds is not None else ""
        odds_from = f"Odds from {odds.samples} planes like yours (seed {odds.seed}){took}"
        lines = [f"{odds_from}; eight in ten lie inside a band."]
        if any(answer.provisional for answer in answers):
            lines.append("Provisional: estimates stand in for what nobody has weighed yet.")
        lines.append(
            "Propellers cut, packs burn, planes fall: keep people clear, have someone with you, "
            "and check the law in force where you fly."
        )
        told: list[RenderableType] = [self.rule(), *(Text(line, QUIET) for line in lines)]
        if call:
            first = next((a for a in answers if a.verdict not in ("yes", "open")), answers[0])
            told.append(Text(f"Look into one:  {call} {first.question}"))
        return told

    def title(self, answer: Answer) -> RenderableType:
        """Return mark, question, verdict word and chance on one line."""
        sign, letters, ink = MARKS[answer.verdict]
        chance = "" if answer.probability is None else per_cent(answer.probability)
        grid = Table.grid(expand=True)
        grid.add_column(width=INDENT if self.signs else INDENT + 1)
        grid.add_column(ratio=1)
        grid.add_column(justify="right", no_wrap=True)
        grid.add_column(justify="right", width=7, no_wrap=True)
        grid.add_row(
            Text(f" {sign}" if self.signs else letters, ink),
            Text(answer.asks, "bold"),
            Text(answer.verdict, ink),
            Text(chance, ink),
        )
        return grid

    def block(self, answer: Answer) -> list[RenderableType]:
        """Return an answer in a few lines: the question, the key figure, why."""
        told = [self.title(answer)]
        if answer.figures:
            told.append(self.indented(self.key_figure(answer.figures[0])))
        if answer.missing:
            told.append(self.indented(Text("needs " + "; ".join(answer.missing))))
        elif answer.because:
            told.append(self.indented(Text(self.shortened(answer.because), QUIET)))
        return told

    def shortened(self, text: str) -> str:
        """Return a text in two lines at most; opening the question shows all of it."""
        width = self.width - INDENT - 1
        return "\n".join(textwrap.wrap(text, width, max_lines=2, placeholder=" ..."))

    def key_figure(self, figure: Figure) -> RenderableType:
        """Return a figure in words with its band drawn beside it, where there is room."""
        line = self.figure_line(figure)
        room = min(self.width - INDENT - line.cell_len - 2, SMALL_BAND[1])
        if not has_limit(figure) or room < SMALL_BAND[0]:
            return line
        drawn = band(figure, room, INK if self.signs else PLAIN)
        grid = Table.grid(expand=True)
        grid.add_column(ratio=1)
        grid.add_column(justify="right", no_wrap=True)
        grid.add_row(line, Text(drawn, BLUE))
        return grid

    def indented(self, part: RenderableType, deeper: int = 0) -> RenderableType:
        """Return a part moved under its question."""
        left = INDENT + (0 if self.signs else 1) + deeper
        return Padding(part, (0, 0, 0, left))

    def limit(self, figure: Figure) -> str:
        """Return what was wanted of a figure."""
        low, high = figure.limit_low, figure.limit_high
        if low is not None and high is not None:
            return "wanted " + show_band(
                low, high, figure.dimension, self.units, currency=self.currency
            )
        if low is not None:
            return f"wanted at least {self.shown(low, figure.dimension)}"
        if high is not None:
            return f"wanted at most {self.shown(high, figure.dimension)}"
        return ""

    def spread(self, figure: Figure) -> str:
        """Return the band of a figure, nothing where it is a point."""
        if figure.low is None or figure.high is None or figure.low == figure.high:
            return ""
        if figure.dimension == "number" and figure.low >= 0.0:
            return f"{figure.low:.2f}–{figure.high:.2f}"
        if figure.low < 0.0:  # a dash between them would read as a sign
            ends = (self.shown(value, figure.dimension) for value in (figure.low, figure.high))
            return " to ".join(ends)
        return show_band(
            figure.low, figure.high, figure.dimension, self.units, currency=self.currency
        )

    def figure_line(self, figure: Figure) -> Text:
        """Return a figure in words: label, value, band, what was wanted."""
        line = Text(f"{figure.label} ")
        line.append(self.shown(figure.value, figure.dimension), "bold")
        if self.spread(figure):
            line.append(f"  ({self.spread(figure)})")
        if self.limit(figure):
            line.append(f"  {self.limit(figure)}", QUIET)
        return line

    def opened(self, answer: Answer) -> list[RenderableType]:
        """Return an answer in full."""
        told = [self.title(answer)]
        if answer.because:
            told.append(self.indented(Text(answer.because)))
        told += self.listed("Needed first", answer.missing)
        if answer.figures:
            told += [Text(), *map(self.indented, self.figures(answer.figures))]
        told += map(self.indented, shopping(answer.shopping, self.currency))
        told += self.listed("Rules broken that must hold", answer.broken)
        told += self.listed("Rules worth keeping, not kept", answer.not_kept)
        carried = tuple(f"{share.input}  {per_cent(share.share)}" for share in answer.carried_by)
        told += self.listed("What carries the spread", carried)
        told += self.remedies(answer.remedies)
        told += self.listed("Assumed", answer.assumed)
        told += self.listed("Mind", answer.cautions)
        return told

    def figures(self, figures: tuple[Figure, ...]) -> list[RenderableType]:
        """Return the figures that have a limit with their bands drawn, the others as a table."""
        pen = INK if self.signs else PLAIN
        columns = self.width - 2 * INDENT - 4
        told: list[RenderableType] = []
        for figure in filter(has_limit, figures):
            told.append(self.figure_line(figure))
            drawn = "" if figure.low == figure.high else band(figure, columns, pen)
            if drawn:
                told.append(Text(drawn, BLUE))
        if told:
            ends = "".join(pen.ends)
            key = f"{pen.band * 3} eight in ten   {pen.middle} the middle   {ends} wanted"
            told += [Text(key, QUIET)]
        others = [figure for figure in figures if not has_limit(figure)]
        if others:
            told += [Text(), self.table(others)] if told else [self.table(others)]
        return told

    def table(self, figures: Sequence[Figure]) -> RenderableType:
        """Return figures one a line: label, value, band."""
        grid = Table.grid(padding=(0, 3))
        grid.add_column()
        grid.add_column(no_wrap=True)
        grid.add_column(no_wrap=True)
        for figure in figures:
            value = self.shown(figure.value, figure.dimension)
            value = value if figure.value is not None else "not reached"
            grid.add_row(figure.label, Text(value, "bold"), Text(self.spread(figure), QUIET))
        return grid

    def listed(self, title: str, lines: tuple[str, ...]) -> list[RenderableType]:
        """Return lines under a title; nothing if there are none."""
        if not lines:
            return []
        told: list[RenderableType] = [Text(), self.indented(Text(title, "bold"))]
        return [*told, *(self.item(Text(line)) for line in lines)]

    def item(self, line: Text) -> RenderableType:
        """Return one line of a list, its second row under its first."""
        grid = Table.grid()
        grid.add_column(width=2)
        grid.add_column()
        grid.add_row("-", line)
        return self.indented(grid)

    def remedies(self, remedies: tuple[Remedy, ...]) -> list[RenderableType]:
        """Return what to try, each with what it was computed to do."""
        if not remedies:
            return []
        told: list[RenderableType] = [Text(), self.indented(Text("Worth trying", "bold"))]
        for remedy in remedies:
            told.append(self.item(Text(remedy.do)))
            told += [self.indented(self.effect(effect), 4) for effect in remedy.effect]
        return told

    def effect(self, effect: Effect) -> Text:
        """Return what a remedy does to one figure."""
        arrow = "→" if self.signs else "->"
        if effect.figure == "probability":
            before, after = (
                "none" if value is None else per_cent(value)
                for value in (effect.before, effect.after)
            )
            return Text(f"chance {before} {arrow} {after}", "bold")
        before, after = (
            self.shown(value, effect.dimension) for value in (effect.before, effect.after)
        )
        return Text(f"{effect.label or effect.figure} {before} {arrow} {after}", QUIET)


def has_limit(figure: Figure) -> bool:
    """Return whether something is wanted of a figure."""
    return figure.limit_low is not None or figure.limit_high is not None


def per_cent(share: float) -> str:
    """Return a share in percent; a finite number of planes never makes a certainty."""
    if share < 0.005:
        return "< 1 %"
    if share > 0.995:
        return "> 99 %"
    return f"{share * 100:.0f} %"

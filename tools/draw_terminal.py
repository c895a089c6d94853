"""Draw what `foamwright ask` prints on a terminal as a page of squared paper.

    python tools/draw_terminal.py examples/reedling docs/images/ask-reedling.svg

Letters are set as text; bands and verdict marks are drawn as shapes, so that the picture looks
alike with every font.
"""

import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from pathlib import Path

from rich.style import Style
from rich.text import Text

from foamwright.cli.screen import Heading, Odds, Screen
from foamwright.jobs.ask import Settings, ask

COLUMN, LINE = 8.4, 20.0
"""Width and height of one letter's place [px]."""
LEFT, TOP, RIGHT, BOTTOM = 58.0, 46.0, 34.0, 26.0
"""Empty paper around the text [px]."""
SIZE = 13.6
"""Height of the letters [px]."""

PAPER, SQUARES, MARGIN, PENCIL, FAINT = "#fbf9f2", "#e9ecea", "#e5b9b3", "#26323a", "#66727a"
INKS = {3: "#8a5a00", 4: "#1f4f8f", 5: "#a3246b", 6: "#1a6a73"}
"""What a terminal's yellow, blue, magenta and cyan are on paper."""
FONTS = "'DejaVu Sans Mono','Liberation Mono',Menlo,Consolas,monospace"


SQUARE, RING = "M-5 -5H5V5H-5Z", "M-4.4 0A4.4 4.4 0 1 1 4.4 0A4.4 4.4 0 1 1 -4.4 0Z"
TICK, ACROSS = "M0 -6.5V6.5", f"M{-COLUMN / 2} 0H{COLUMN / 2}"
SHAPES: dict[str, tuple[tuple[str, bool, float], ...]] = {
    "─": ((ACROSS, False, 1.1),),
    "━": ((ACROSS, False, 4.6),),
    "·": (("M-0.8 0H0.8", False, 1.6),),
    "●": ((RING, True, 1.0),),
    "├": ((TICK, False, 1.6),),
    "┤": ((TICK, False, 1.6),),
    "■": ((SQUARE, True, 1.5),),
    "◧": ((SQUARE, False, 1.5), ("M-5 -5H0V5H-5Z", True, 1.5)),
    "◇": (("M0 -6.5L6 0L0 6.5L-6 0Z", False, 1.5),),
    "△": (("M0 -6L6 5H-6Z", False, 1.5),),
    "✖": (("M-4.5 -4.5L4.5 4.5M4.5 -4.5L-4.5 4.5", False, 3.0),),
    "◌": ((RING, False, 1.5),),
}
"""Paths around the middle of a letter's place, whether filled, how wide a stroke [px]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Letter:
    """One letter with its place and ink."""

    sign: str
    """What is written."""
    x: float
    """Left edge [px]."""
    y: float
    """Middle of its line [px]."""
    ink: str
    """Colour."""
    bold: bool
    """Whether it is set bold."""

    @property
    def right(self) -> float:
        """Right edge [px]."""
        return self.x + COLUMN

    @property
    def middle(self) -> float:
        """Middle [px]."""
        return self.x + COLUMN / 2


def ink_of(style: Style) -> str:
    """Return the ink of a style on paper."""
    if style.color is not None and style.color.number in INKS:
        return INKS[style.color.number]
    return FAINT if style.dim else PENCIL


def letters(line: Text, row: int) -> Iterator[Letter]:
    """Yield the letters of a line that leave something on the paper."""
    y = TOP + (row + 0.5) * LINE
    for column, sign in enumerate(line.plain):
        if sign != " ":
            style = Style.null()
            for span in line.spans:
                if span.start <= column < span.end:
                    style += span.style if isinstance(span.style, Style) else Style()
            yield Letter(
                sign=sign,
                x=LEFT + column * COLUMN,
                y=y,
                ink=ink_of(style),
                bold=bool(style.bold),
            )


def shape(letter: Letter) -> str:
    """Return a band's or a verdict's sign as a shape; nothing for a plain letter."""
    return "".join(
        f'<path transform="translate({letter.middle:.1f} {letter.y:.1f})" d="{path}" '
        f'fill="{letter.ink if filled else "none"}" stroke="{letter.ink}" '
        f'stroke-width="{width}"/>'
        for path, filled, width in SHAPES.get(letter.sign, ())
    )


def words(line: list[Letter]) -> Iterator[list[Letter]]:
    """Yield runs of touching letters of one ink and weight."""
    run: list[Letter] = []
    for letter in line:
        if run and (
            letter.x - run[-1].x > 1.5 * COLUMN
            or (letter.ink, letter.bold) != (run[-1].ink, run[-1].bold)
        ):
            yield run
            run = []
        run.append(letter)
    if run:
        yield run


def word(run: list[Letter]) -> str:
    """Return a run of letters as text of exactly its width."""
    weight = ' font-weight="700"' if run[0].bold else ""
    said = escape("".join(letter.sign for letter in run), quote=False)
    return (
        f'<text x="{run[0].x:.1f}" y="{run[0].y + 4.8:.1f}" fill="{run[0].ink}"{weight} '
        f'textLength="{len(run) * COLUMN:.1f}" lengthAdjust="spacingAndGlyphs">{said}</text>'
    )


def set_line(line: Text, row: int) -> str:
    """Return one line of the terminal as shapes and words."""
    found = list(letters(line, row))
    shapes = {letter: drawn for letter in found if (drawn := shape(letter))}
    # A rule across the page is one stroke.
    if len(shapes) == len(found) > 40 and {letter.sign for letter in found} == {"─"}:
        first, last = found[0], found[-1]
        return (
            f'<path d="M{first.x:.1f} {first.y:.1f}H{last.right:.1f}" stroke="{first.ink}" '
            'stroke-width="0.8"/>'
        )
    plain = [letter for letter in found if letter not in shapes]
    return "".join([*shapes.values(), *(word(run) for run in words(plain))])


def paper(width: float, height: float, said: str) -> str:
    """Return an empty sheet of squared paper with a margin line."""
    return f"""\
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.0f} {height:.0f}"
 width="{width:.0f}" height="{height:.0f}" role="img" aria-label="{escape(said)}">
<title>{escape(said)}</title>
<defs><pattern id="squares" width="{LINE:g}" height="{LINE:g}" x="{LEFT - 14:g}" y="{TOP:g}"
 patternUnits="userSpaceOnUse"><path d="M{LINE:g} 0H0V{LINE:g}" fill="none"
 stroke="{SQUARES}" stroke-width="1"/></pattern></defs>
<rect width="{width:.0f}" height="{height:.0f}" fill="{PAPER}"/>
<rect width="{width:.0f}" height="{height:.0f}" fill="url(#squares)"/>
<path d="M{LEFT - 14:g} 0V{height:.0f}" stroke="{MARGIN}" stroke-width="1.2"/>"""


def drawing(ansi: str, called: str, said: str) -> str:
    """Return terminal output as a picture, with the call that printed it on top."""
    lines = [Text.from_ansi(line) for line in ansi.rstrip("\n").split("\n")]
    columns = max(len(line.plain) for line in lines)
    width = LEFT + columns * COLUMN + RIGHT
    height = TOP + len(lines) * LINE + BOTTOM
    parts = [paper(width, height, said)]
    parts.append(f'<g font-family="{FONTS}" font-size="{SIZE}">')
    parts.append(f'<text x="{LEFT}" y="27" fill="{FAINT}" font-size="12">{escape(called)}</text>')
    parts += [set_line(line, row) for row, line in enumerate(lines)]
    return "\n".join([*(part for part in parts if part), "</g>", "</svg>", ""])


def main(plane: Path, out: Path) -> None:
    """Ask everything of a plane and draw the answers."""
    asked = ask(plane, (), Settings())
    screen = Screen(units=asked.units, currency=asked.currency, colour=True)
    ansi = screen.answers(
        asked.answers,
        Heading(plane=asked.plane),
        Odds(samples=asked.samples, seed=asked.seed, call=f"foamwright ask {plane}"),
    )
    verdicts = "; ".join(f"{answer.asks} {answer.verdict}" for answer in asked.answers)
    said = f"{asked.plane} asked: {re.sub(r'[<>]', '', verdicts)}"
    out.write_text(drawing(ansi, f"$ foamwright ask {plane}", said), encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))

"""The commands that build: new, stock."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from foamwright.cli.as_typed import as_typed

if TYPE_CHECKING:
    from foamwright.jobs.interview import Question


@click.command(short_help="Write a plane file from what ruler, scale and labels tell.")
@click.argument("directory", metavar="DIR", type=click.Path(path_type=Path))
@click.option(
    "--answers",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Take the answers from a TOML file instead of asking.",
)
def new(directory: Path, answers: Path | None) -> None:
    """Write DIR/plane.toml from what ruler, scale and labels tell.

    Asks at the terminal, or takes a file of answers:

    \b
        layout = "tail aft"
        [ruler]
        span = "800 mm"
        root_chord = "150 mm"
        [labels]
        motor = "2204 2300"
        pack = "3S 450"

    Whatever you leave out gets a usual value for the layout, marked 'not measured' in the file.
    An existing plane is never overwritten.
    """  # noqa: D301 - click reads the backspace
    from foamwright.jobs import create as job
    from foamwright.jobs.told import read_answers

    job.free(directory)
    told = interviewed() if answers is None else read_answers(answers)
    made = job.create(directory, told, answers)
    click.echo(f"Wrote {made.file}; {made.remarks} lines in it say 'not measured'.")
    click.echo(f"Read it once, then:  foamwright ask {as_typed(directory)}")


def interviewed() -> dict[str, str]:
    """Return the answers given at the terminal."""
    from foamwright.jobs import create as job
    from foamwright.jobs.interview import BY_KEY, GROUPS, group_of

    click.echo("Enter takes what stands in brackets, or leaves the thing out. Ctrl-C ends it all.")
    click.echo(f"\n{GROUPS['']}")
    told = {"layout": choice(BY_KEY["layout"])}
    group = ""
    for question in job.first_asked(told):
        if group_of(question) != group:
            group = group_of(question)
            click.echo(f"\n{GROUPS[group]}")
        if question.choices:
            answer = choice(question)
        else:
            answer = typed(question, job.stand_in(told, question.key))
        if answer:
            told[question.key] = answer
    return told


def choice(question: "Question") -> str:
    """Return one of a few, chosen by its number or its name; empty for what was left out."""
    for number, name in enumerate(question.choices, start=1):
        click.echo(f"  {number}  {name}")

    def taken(text: str) -> str:
        if text.isdecimal() and 1 <= int(text) <= len(question.choices):
            return question.choices[int(text) - 1]
        if text in question.choices or (not text and not question.needed):
            return text
        raise click.BadParameter(f"type a number from 1 to {len(question.choices)}, or the name")

    return str(click.prompt(question.asks, default="", show_default=False, value_proc=taken))


def typed(question: "Question", usual: str) -> str:
    """Return what was typed for a question, empty for what was left out."""
    from foamwright.jobs.told import fault_of

    def taken(text: str) -> str:
        if not text.strip():
            if question.needed:
                raise click.BadParameter("nothing can stand in for this one")
            return ""
        wrong = fault_of(question, text.strip())
        if wrong is not None:
            raise click.BadParameter(wrong.what + (f"; {wrong.expected}" if wrong.expected else ""))
        return text.strip()

    shown = f" [{usual}]" if usual else ""
    words = f"{question.asks}{shown}"
    return str(click.prompt(words, default="", show_default=False, value_proc=taken))


@click.command(short_help="Look into the stock of brandless parts.")
@click.argument("words", nargs=-1, metavar="[KIND] [WORD]...")
@click.option(
    "--mine",
    "user_file",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Put your own stock file over the shipped one.",
)
def stock(words: tuple[str, ...], user_file: Path | None) -> None:
    """Look into the stock of brandless parts that stand in until you weigh yours.

    Without words the kinds are listed. A KIND narrows it down (kinds of two words may be typed
    as they are); further WORDs must all occur. A single hit is shown in full.
    """
    from foamwright.cli import shelf
    from foamwright.cli.screen import Screen
    from foamwright.jobs import stock as job

    screen = Screen.of_terminal("metric", "EUR")
    if not words and user_file is None:
        screen.write(shelf.listed_kinds(job.kinds()))
        return
    kind, rest = split_kind(words, job.kinds())
    screen.write(shelf.shelf(screen, job.list_stock(kind, rest, user_file)))


def split_kind(
    words: tuple[str, ...], kinds: tuple[str, ...]
) -> tuple[str | None, tuple[str, ...]]:
    """Return the kind the first words name, if they name one, and the words left over."""
    for count in (2, 1):
        name = " ".join(words[:count]).lower()
        if len(words) >= count and name in kinds:
            return name, words[count:]
    return None, words

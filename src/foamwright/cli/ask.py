"""The commands that answer: ask, level."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from foamwright.cli.as_typed import as_typed
from foamwright.problems import CallProblem

PLANE = click.argument("plane", type=click.Path(path_type=Path))
SETTINGS = (
    click.option("--variant", metavar="NAME", help="Ask about a variant named in the plane file."),
    click.option(
        "--samples", type=int, default=1024, show_default=True, help="How many planes like yours."
    ),
    click.option(
        "--seed",
        type=click.IntRange(min=0),
        default=1,
        show_default=True,
        help="Same seed, same luck, same answer.",
    ),
    click.option(
        "--units",
        type=click.Choice(["metric", "imperial"]),
        help="Show answers in these units; else as the plane file says.",
    ),
    click.option("--json", "as_json", is_flag=True, help="Print one JSON object, values in SI."),
)


def with_settings(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command the options every answer has."""
    for option in reversed(SETTINGS):
        command = option(command)
    return command


def print_json(told: dict[str, object]) -> None:
    """Print one JSON object; a number that is none would be our fault, so it is not let through."""
    click.echo(json.dumps(told, indent=2, allow_nan=False))


@click.command(short_help="Ask one, some or all questions about a plane.")
@PLANE
@click.argument("questions", nargs=-1, metavar="[QUESTION]...")
@with_settings
@click.option("--csv", "as_csv", is_flag=True, help="Print the shopping list behind `cost`.")
@click.option(
    "--charts",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Write the charts of the questions into a folder, as SVG, instead of answering.",
)
@click.option("--force", is_flag=True, help="Write over charts that exist.")
def ask(
    plane: Path,
    questions: tuple[str, ...],
    variant: str | None,
    samples: int,
    seed: int,
    units: str | None,
    as_json: bool,  # noqa: FBT001 - a flag of the command line
    as_csv: bool,  # noqa: FBT001
    charts: Path | None,
    force: bool,  # noqa: FBT001
) -> None:
    """Ask one, some or all questions about a plane.

    Without a QUESTION all are asked, one block each. With one QUESTION its answer is opened in
    full: every figure with its band, why, what was assumed, what carries the spread, and what to
    try. Questions that are not known are listed when you name one.
    """
    if as_json and as_csv:
        raise CallProblem("--json and --csv both want standard output", expected="give one of them")
    if as_csv and questions and "cost" not in questions:
        raise CallProblem(
            "--csv prints the shopping list", expected="ask cost, or name no question"
        )

    from foamwright.cli import screen
    from foamwright.jobs import ask as job

    settings = job.Settings(variant=variant, samples=samples, seed=seed, units=units)
    if charts is not None:
        with screen.waiting("drawing charts"):
            drawn = job.draw_charts(plane, questions, settings, charts, force=force)
        for file in drawn.files:
            click.echo(f"Drew {file}.")
        if not drawn.files:
            click.echo(f"No chart for {', '.join(drawn.without)}.")
        return
    wanted = ("cost",) if as_csv else questions
    with screen.waiting(f"asking {samples} planes like yours"):
        asked = job.ask(plane, wanted, settings)
    if as_json:
        print_json(job.as_json(asked))
    elif as_csv:
        click.echo(job.shopping_csv(asked), nl=False)
    else:
        show = screen.Screen.of_terminal(asked.units, asked.currency)
        seen = screen.Heading(plane=asked.plane, variant=asked.variant, seconds=asked.seconds)
        odds = screen.Odds(samples=samples, seed=seed, call=f"foamwright ask {as_typed(plane)}")
        show.write(show.answers(asked.answers, seen, odds, opened=len(questions) == 1))


@click.command(short_help="Throttle, current and the rest in level flight at a speed.")
@PLANE
@click.option(
    "--speed",
    "speeds",
    multiple=True,
    required=True,
    metavar="SPEED",
    help='"60 km/h"; repeatable; or a range: "12 m/s to 30 m/s step 2 m/s".',
)
@with_settings
def level(
    plane: Path,
    speeds: tuple[str, ...],
    variant: str | None,
    samples: int,
    seed: int,
    units: str | None,
    as_json: bool,  # noqa: FBT001 - a flag of the command line
) -> None:
    """Tell what level flight takes at one or more speeds.

    SPEED is a value with its unit, or a range such as "12 m/s to 30 m/s step 2 m/s"; without a
    step a range is walked in six.
    """
    from foamwright.cli import flight, screen
    from foamwright.jobs import level as job
    from foamwright.jobs.ask import Settings

    settings = Settings(variant=variant, samples=samples, seed=seed, units=units)
    with screen.waiting(f"flying {samples} planes like yours"):
        levelled = job.level(plane, speeds, settings)
    if as_json:
        print_json(job.as_json(levelled))
        return
    page = screen.Screen.of_terminal(levelled.units, "EUR")
    odds = screen.Odds(samples=samples, seed=seed)
    page.write(flight.level_page(page, levelled, odds))

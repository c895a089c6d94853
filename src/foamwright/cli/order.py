"""The command for the build order."""

from pathlib import Path

import click

from foamwright.cli.ask import PLANE, SETTINGS, print_json
from foamwright.cli.compare import with_settings
from foamwright.problems import CallProblem


@click.command(short_help="What to do next, and what must stand before the knife.")
@PLANE
@SETTINGS[0]
@click.option("--done", "step", metavar="STEP", help="Record a step as done in bench.toml.")
@click.option("--note", metavar="TEXT", help="A note to keep with it.")
@click.option(
    "--anyway", is_flag=True, help="Do it though something stands against it; that is recorded."
)
@click.option(
    "-o",
    "--output",
    "file",
    type=click.Path(path_type=Path),
    metavar="FILE.pdf",
    help="Write the checklist for the bench.",
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    default="a4",
    show_default=True,
    help="The paper of that checklist.",
)
@click.option("--force", is_flag=True, help="Write over a file that exists.")
@with_settings
def order(
    plane: Path,
    variant: str | None,
    step: str | None,
    note: str | None,
    anyway: bool,  # noqa: FBT001 - a flag of the command line
    file: Path | None,
    paper: str,
    force: bool,  # noqa: FBT001 - a flag of the command line
    samples: int,
    seed: int,
    units: str | None,
    as_json: bool,  # noqa: FBT001 - a flag of the command line
) -> None:
    """Show in which order to cut, solder and glue, and what each step waits for.

    A step that cannot be undone names the questions that must stand at 'likely' or better. Where
    one of them stands at 'unlikely' or 'no', recording the step is refused with the reason.
    """
    from foamwright.cli import checklist, screen
    from foamwright.jobs import order as job
    from foamwright.jobs.ask import Settings

    settings = Settings(variant=variant, samples=samples, seed=seed, units=units)
    if step is None and (note is not None or anyway):
        raise CallProblem("--note and --anyway belong to a step", expected="add --done STEP")
    with screen.waiting(f"asking {samples} planes like yours"):
        if step is not None:
            told = job.done(plane, step, settings, anyway=anyway, note=note)
            found = told.order
        else:
            told, found = None, job.order(plane, settings)
    if file is not None:
        written = job.write(found, file, paper=paper, force=force)
        click.echo(f"Wrote {len(found.steps)} steps into {written}.", err=as_json)
    if as_json:
        print_json(job.as_json(found))
        return
    page = screen.Screen.of_terminal("metric", "EUR")
    if told is not None:
        page.write(checklist.recorded(page, told))
    elif file is None:
        page.write(checklist.page(page, found, plane))

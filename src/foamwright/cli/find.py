"""The command that tells where to look for a plane that was lost."""

from pathlib import Path

import click

from foamwright.cli.ask import PLANE, print_json


@click.command(short_help="Where a lost plane came down: areas to search, from its log.")
@PLANE
@click.argument("log", type=click.Path(path_type=Path))
@click.option(
    "-o",
    "--output",
    "files",
    type=click.Path(path_type=Path),
    multiple=True,
    metavar="FILE",
    help="Where to; .gpx for a phone, .svg or .png for a drawing. Repeatable.",
)
@click.option(
    "--wind", metavar="TEXT", help='"4 m/s from 250"; else the log\'s, where it tells it.'
)
@click.option(
    "--take",
    "takes",
    multiple=True,
    metavar="TEXT",
    help='What a column is: "spd=ground_speed in kn". Repeatable.',
)
@click.option("--dark", is_flag=True, help="Draw for a dark screen.")
@click.option(
    "--seed", type=click.IntRange(min=0), default=1, show_default=True, help="Same seed, same luck."
)
@click.option("--units", type=click.Choice(["metric", "imperial"]), help="Show it in these units.")
@click.option("--force", is_flag=True, help="Write over files that exist.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object, values in SI.")
def find(
    plane: Path,
    log: Path,
    files: tuple[Path, ...],
    wind: str | None,
    takes: tuple[str, ...],
    dark: bool,  # noqa: FBT001 - a flag of the command line
    seed: int,
    units: str | None,
    force: bool,  # noqa: FBT001
    as_json: bool,  # noqa: FBT001
) -> None:
    """Tell where to look for a plane that did not come back.

    Thousands of falls start from the last the LOG knew: glides straight on and in turns, spirals,
    dives, a throttle held, a tumble. The areas are the smallest that hold half and nine tenths of
    them. They help to search; they promise nothing.
    """
    from foamwright.cli import screen, told_search
    from foamwright.jobs import find as job
    from foamwright.jobs.search_told import as_json as contract

    wishes = job.Wishes(wind=wind, takes=takes, seed=seed, units=units, dark=dark)
    with screen.waiting("letting it fall"):
        found = job.search(plane, log, files, wishes, force=force)
    if as_json:
        print_json(contract(found))
        return
    page = screen.Screen.of_terminal(found.units, "")
    page.write(told_search.page(page, found))

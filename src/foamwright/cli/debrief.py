"""The command that reads flights."""

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from foamwright.cli.ask import PLANE, print_json

if TYPE_CHECKING:
    from foamwright.jobs.debrief import Debriefed


@click.command(short_help="What a flight told: from its log, or from the numbers on the screen.")
@PLANE
@click.argument("logs", nargs=-1, type=click.Path(path_type=Path), metavar="[LOG]...")
@click.option(
    "--card",
    metavar="TEXT",
    help='Numbers read off the screen: "top speed = 27 m/s, used = 420 mAh in 7 min at 12 m/s".',
)
@click.option(
    "--take",
    "takes",
    multiple=True,
    metavar="TEXT",
    help='What a column is: "spd=ground_speed in kn"; "x=nothing" leaves it out. Repeatable.',
)
@click.option(
    "--before",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="LOG",
    help="A flight before a change, to hold the others against. Repeatable.",
)
@click.option(
    "--before-card", metavar="TEXT", help="Numbers of such a flight, as --card takes them."
)
@click.option(
    "--same-wind", is_flag=True, help="All these flights were flown within an hour, in one wind."
)
@click.option("--accept", is_flag=True, help="Keep the flight with the plane and learn from it.")
@click.option("--units", type=click.Choice(["metric", "imperial"]), help="Show it in these units.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object, values in SI.")
def debrief(
    plane: Path,
    logs: tuple[Path, ...],
    card: str | None,
    takes: tuple[str, ...],
    before: tuple[Path, ...],
    before_card: str | None,
    same_wind: bool,  # noqa: FBT001
    accept: bool,  # noqa: FBT001 - a flag of the command line
    units: str | None,
    as_json: bool,  # noqa: FBT001
) -> None:
    """Tell what a flight showed, and what it teaches of the plane.

    A LOG is a table with any headers, a GPX track, or NMEA sentences. What each column was taken
    as, and why, is told; a column nothing makes sure is left out. On a terminal you are asked
    about those. Nothing is written unless you say --accept.

    With flights from before a change (--before), what the change did is told with the wind taken
    out: it helped, it did not, or how many more flights would tell.
    """
    from foamwright.cli import screen, told_flight
    from foamwright.jobs import debrief as job

    wishes = job.Wishes(
        takes=takes,
        card=card,
        units=units,
        before=before,
        before_card=before_card,
        same_wind=same_wind,
    )
    with screen.waiting("reading the flight"):
        found = job.debrief(plane, logs, wishes)
    answers = () if as_json else confirmed(found)
    if answers or accept:
        wishes = replace(wishes, takes=(*answers, *takes), accept=accept)
        with screen.waiting("reading the flight"):
            found = job.debrief(plane, logs, wishes)
    if as_json:
        print_json(job.as_json(found))
        return
    page = screen.Screen.of_terminal(found.units, "")
    page.write(told_flight.debriefed_page(page, found))


def confirmed(found: "Debriefed") -> tuple[str, ...]:
    """Ask about unsure columns, and units that were found out, where somebody is there to answer.

    Return what was agreed to, as it could have been typed.
    """
    from foamwright.debrief.taking import NOTHING
    from foamwright.jobs.confirmed_columns import found_out

    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        return ()
    logs = [flight.log for flight in found.flights if flight.log]
    unsure = {column.column: column for log in logs for column in log.columns if column.likely}
    taken = {column.column: column for log in logs for column in found_out(log)}
    answers = [
        f"{column.column}={column.likely}"
        for column in unsure.values()
        if agreed(column.column, column.likely, column.because, usual=False)
    ]
    for name, column in taken.items():
        what = f"{column.taken_as} in {column.unit}"
        yes = agreed(name, what, column.because, usual=True)
        answers.append(f"{name}={what if yes else NOTHING}")
    return tuple(answers)


def agreed(column: str, what: str, because: str, *, usual: bool) -> bool:
    """Ask whether a column is what it seems."""
    question = f"Take '{column}' as {what.replace('_', ' ')}? ({because})"
    return click.confirm(question, default=usual, err=True)

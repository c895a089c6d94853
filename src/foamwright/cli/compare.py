"""The command that compares variants."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from foamwright.cli.ask import PLANE, SETTINGS, print_json
from foamwright.problems import CallProblem


def with_settings(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give the command the options every answer has but `--variant`."""
    for option in reversed(SETTINGS[1:]):
        command = option(command)
    return command


@click.command(short_help="The plane as planned beside its variants.")
@PLANE
@click.argument("variants", nargs=-1, metavar="[VARIANT]...")
@with_settings
def compare(
    plane: Path,
    variants: tuple[str, ...],
    samples: int,
    seed: int,
    units: str | None,
    as_json: bool,  # noqa: FBT001 - a flag of the command line
) -> None:
    """Answer every question for the plane as planned and for its variants, side by side.

    Without a VARIANT all of the plane file are compared. All are flown with the same luck, so the
    difference is told sample by sample: 'more' or 'less' where eight in ten such planes lie wholly
    on one side, 'cannot tell' where they lie on both.
    """
    from foamwright.cli import screen, side_by_side
    from foamwright.jobs import compare as job
    from foamwright.jobs.ask import Settings

    if "" in variants:
        raise CallProblem("a variant needs a name", expected="one of those in the plane file")
    settings = Settings(samples=samples, seed=seed, units=units)
    with screen.waiting(f"comparing {samples} planes like yours"):
        compared = job.compare(plane, variants, settings)
    if as_json:
        print_json(job.as_json(compared))
        return
    page = screen.Screen.of_terminal(compared.units, compared.currency)
    page.write(side_by_side.compared_page(page, compared, plane))

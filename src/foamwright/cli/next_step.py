"""The command that says what to do next."""

from pathlib import Path

import click

from foamwright.cli.ask import PLANE, SETTINGS, print_json

FEWER = click.option(
    "--samples", type=int, default=512, show_default=True, help="How many planes like yours."
)


@click.command("next", short_help="The one change or cheap test worth most now.")
@PLANE
@SETTINGS[0]
@FEWER
@SETTINGS[2]
@SETTINGS[3]
@SETTINGS[4]
@click.option("--all", "whole", is_flag=True, help="Show every step, not the best few.")
def next_(
    plane: Path,
    variant: str | None,
    samples: int,
    seed: int,
    units: str | None,
    as_json: bool,  # noqa: FBT001 - a flag of the command line
    whole: bool,  # noqa: FBT001
) -> None:
    """Rank changes and tests by what they do for your wishes, for the minutes, grams and money.

    Each change is computed anew through all questions. A test is worth what its result would
    change: how much better your best choice gets once you know it.
    """
    from foamwright.cli import screen, steps
    from foamwright.jobs import next_step as job
    from foamwright.jobs.ask import Settings

    settings = Settings(variant=variant, samples=samples, seed=seed, units=units)
    with screen.waiting("trying changes and tests"):
        found = job.next_of(plane, settings)
    if as_json:
        print_json(job.as_json(found))
        return
    page = screen.Screen.of_terminal(found.units, found.currency)
    page.write(steps.page(page, found, whole=whole))

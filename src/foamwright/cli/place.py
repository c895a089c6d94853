"""The command that places parts."""

from pathlib import Path

import click

from foamwright.cli.ask import PLANE, print_json, with_settings


@click.command(short_help="Places for the parts that may move.")
@PLANE
@click.option(
    "--free", multiple=True, metavar="ITEM", help="Let this part go anywhere along the body, too."
)
@click.option(
    "--seconds",
    type=click.FloatRange(0.1, 600.0),
    default=2.0,
    show_default=True,
    help="How long the solver may look.",
)
@click.option("--keep", metavar="NAME", help="Write the result into the plane file as a variant.")
@with_settings
def place(
    plane: Path,
    free: tuple[str, ...],
    seconds: float,
    keep: str | None,
    variant: str | None,
    samples: int,
    seed: int,
    units: str | None,
    as_json: bool,  # noqa: FBT001 - a flag of the command line
) -> None:
    """Place every part that has a reach, or other places to sit, where it serves best.

    Ballast is the last resort; then balance, spacing rules, wire. No two parts share a place and
    each keeps its skin. With the extra `placing` a solver proves that nothing is better; without
    it a plain search says that it is one.
    """
    from foamwright.cli import placed, screen
    from foamwright.jobs import place as job
    from foamwright.jobs.ask import Settings

    settings = Settings(variant=variant, samples=samples, seed=seed, units=units)
    with screen.waiting("trying places"):
        found = job.place(plane, settings, free=free, seconds=seconds, keep=keep)
    if as_json:
        print_json(job.as_json(found))
        return
    page = screen.Screen.of_terminal(units or "metric", "EUR")
    page.write(placed.page(page, found, plane))

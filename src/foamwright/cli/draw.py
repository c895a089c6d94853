"""The command that draws."""

from pathlib import Path

import click

from foamwright.cli.ask import PLANE


@click.command(short_help="A scaled drawing: from above, the side and the front.")
@PLANE
@click.option(
    "-o",
    "--output",
    "file",
    type=click.Path(path_type=Path),
    required=True,
    metavar="FILE",
    help="Where to; .svg is true size, .png is a picture of it.",
)
@click.option("--variant", metavar="NAME", help="Draw a variant named in the plane file.")
@click.option(
    "--samples", type=int, default=1024, show_default=True, help="How many planes like yours."
)
@click.option(
    "--seed", type=click.IntRange(min=0), default=1, show_default=True, help="Same seed, same luck."
)
@click.option(
    "--units",
    type=click.Choice(["metric", "imperial"]),
    help="For the mass; lengths are in mm.",
)
@click.option("--force", is_flag=True, help="Write over a file that exists.")
def draw(
    plane: Path,
    file: Path,
    variant: str | None,
    samples: int,
    seed: int,
    units: str | None,
    force: bool,  # noqa: FBT001 - a flag of the command line
) -> None:
    """Draw a plane to scale: foam, parts, balance with its band, neutral point, thrust line.

    An SVG is true size when printed at 100 percent. A part without a size is a cross; a part
    without a place is named at the foot.
    """
    from foamwright.cli import screen
    from foamwright.jobs import draw as job
    from foamwright.jobs.ask import Settings

    settings = Settings(variant=variant, samples=samples, seed=seed, units=units)
    with screen.waiting(f"drawing from {samples} planes like yours"):
        drawn = job.draw(plane, file, settings, force=force)
    click.echo(f"Drew {drawn.parts} parts into {drawn.file}.")
    if drawn.unplaced:
        click.echo(f"Not drawn, for want of a place: {', '.join(drawn.unplaced)}.")

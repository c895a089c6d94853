"""The command that makes cutting templates."""

from pathlib import Path

import click

from foamwright.cli.ask import PLANE, SETTINGS


@click.command(short_help="True-scale templates for the knife: PDF, SVG or DXF.")
@PLANE
@click.option(
    "-o",
    "--output",
    "file",
    type=click.Path(path_type=Path),
    required=True,
    metavar="FILE",
    help="Where to; .pdf is tiled on paper, .svg is true size, .dxf is for cutters, in mm.",
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    default="a4",
    show_default=True,
    help="The paper of a PDF.",
)
@SETTINGS[0]
@SETTINGS[1]
@SETTINGS[2]
@click.option("--force", is_flag=True, help="Write over a file that exists.")
def cut(
    plane: Path,
    file: Path,
    paper: str,
    variant: str | None,
    samples: int,
    seed: int,
    force: bool,  # noqa: FBT001 - a flag of the command line
) -> None:
    """Write templates of every pocket, channel, hinge line and section at true scale.

    A PDF is cut into sheets that overlap, with crosses to join them and a ruler on each to check
    the print with. Foam cannot be uncut: the first page says how fit and balance stand.
    """
    from foamwright.cli import screen
    from foamwright.jobs import cut as job
    from foamwright.jobs.ask import Settings

    settings = Settings(variant=variant, samples=samples, seed=seed)
    with screen.waiting("drawing templates"):
        written = job.cut(plane, file, settings, paper=paper, force=force)
    click.echo(f"Wrote {written.templates} templates and {written.cuts} cuts into {written.file}.")
    for note in written.notes:
        click.echo(note)
    click.echo("A cut cannot be undone. Measure the ruler on the paper before the knife.")

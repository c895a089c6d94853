"""The command that opens the notebook in the browser."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from foamwright.cli.ask import PLANE

if TYPE_CHECKING:
    from foamwright.page.lan import Invitation


@click.command("open", short_help="Open the notebook in the browser.")
@PLANE
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    metavar="N",
    help="Where to serve; else the first free port from 8765.",
)
@click.option("--no-browser", is_flag=True, help="Only serve; you open the link yourself.")
@click.option(
    "--lan", is_flag=True, help="Let other devices in the house in, by a link with a token."
)
@click.option(
    "--samples", type=int, default=1024, show_default=True, help="How many planes like yours."
)
@click.option(
    "--seed", type=click.IntRange(min=0), default=1, show_default=True, help="Same seed, same luck."
)
def open_(
    plane: Path,
    port: int | None,
    no_browser: bool,  # noqa: FBT001 - a flag of the command line
    lan: bool,  # noqa: FBT001
    samples: int,
    seed: int,
) -> None:
    """Open the notebook of a plane in the browser: one drawing, the questions beside it.

    Move a part by mouse, finger or arrow keys and the answers follow. What you write goes into
    plane.toml at once, comments kept. A folder without a plane starts with the interview. Nothing
    leaves this machine; Ctrl-C closes the notebook.

    With --lan a phone in the same house can come in by the link or the code shown: plain http, so
    only in a network you trust.
    """
    from foamwright.jobs.ask import Settings
    from foamwright.page.serve import Place, serve
    from foamwright.plane.document import load, plane_file

    if plane.is_file() or (plane / "plane.toml").exists():
        load(plane_file(plane))  # what is wrong with it is told here, before anything is served
    place = Place(address="0.0.0.0" if lan else "127.0.0.1", port=port, lan=lan)  # noqa: S104
    settings = Settings(samples=samples, seed=seed)
    serve(plane, settings, place, tell=told, browser=not no_browser)


def told(link: str, invitation: "Invitation | None") -> None:
    """Say where the notebook lies open."""
    click.echo(f"The notebook lies open at {link}  (Ctrl-C closes it)")
    if invitation is None:
        return
    click.echo("Other devices in this house, in a network you trust:")
    for other in invitation.links:
        click.echo(f"  {other}")
    for line in invitation.lines():
        click.echo(f"  {line}")

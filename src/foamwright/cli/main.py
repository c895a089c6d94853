"""The command group: nothing but names."""

import click

from foamwright.cli import (
    ask,
    bench,
    build,
    compare,
    cut,
    debrief,
    draw,
    find,
    next_step,
    order,
    page,
    place,
)
from foamwright.cli.exits import Guarded


@click.group(
    cls=Guarded,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 88},
)
@click.version_option(package_name="foamwright", message="%(prog)s %(version)s")
@click.pass_context
def main(context: click.Context) -> None:
    """Plain answers with honest odds, before you cut foam.

    A PLANE is a folder with a plane.toml in it, or that file itself.

    \b
    Begin with:   foamwright new my-plane
    then ask:     foamwright ask my-plane
    and look in:  foamwright ask my-plane balance
    """  # noqa: D301 - click reads the backspace
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


main.add_command(ask.ask)
main.add_command(ask.level)
main.add_command(compare.compare)
main.add_command(draw.draw)
main.add_command(debrief.debrief)
main.add_command(find.find)
main.add_command(cut.cut)
main.add_command(order.order)
main.add_command(place.place)
main.add_command(page.open_)
main.add_command(next_step.next_)
main.add_command(build.new)
main.add_command(build.stock)
main.add_command(bench.weigh)
main.add_command(bench.bench)

"""A placing, for a terminal."""

from pathlib import Path

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from foamwright.cli.as_typed import as_typed
from foamwright.cli.screen import QUIET, Screen, per_cent
from foamwright.jobs.place import How, Placed
from foamwright.quantity import show
from foamwright.search.placing import PlacingCost

PROOF: dict[How, str] = {
    "proven best": "A solver proved that no other choice of places is better.",
    "best found": "The best the solver found in its time; a better one may exist.",
    "plain search": "Found by a plain search, which proves nothing: a better one may exist. The "
    "extra `placing` has a solver.",
}


def rows(screen: Screen, found: Placed) -> list[tuple[str, str, str]]:
    """Return what changes: name, before, after."""
    units = screen.units

    def both(name: str, of: str, dimension: str) -> tuple[str, str, str]:
        before = (
            "overlaps" if found.before is None else show(value(found.before, of), dimension, units)
        )
        return name, before, show(value(found.after, of), dimension, units)

    return [
        both(f"balances at (wanted {show(found.aim, 'length', units)})", "centre", "length"),
        both("ballast for it", "ballast", "mass"),
        both("wire along the plane", "wire", "length"),
        both("spacing rules not kept", "unkept", "number"),
    ]


def value(cost: PlacingCost, name: str) -> float:
    """Return one number of a cost."""
    return float(getattr(cost, name))


def chance_row(name: str, before: float | None, after: float | None) -> tuple[str, str, str]:
    """Return how a question stands before and after."""
    told = ["open" if chance is None else per_cent(chance) for chance in (before, after)]
    return name, told[0], told[1]


def page(screen: Screen, found: Placed, path: Path) -> str:
    """Return a placing as a page."""
    moves = Table.grid(padding=(0, 2))
    for move in found.moves:
        moves.add_row(Text(move.item, "" if move.moved == 0.0 else "bold"), Text(move.words))
    table = Table.grid(padding=(0, 2))
    table.add_row(Text("", QUIET), Text("as drawn", QUIET), Text("as placed", QUIET))
    for row in (
        *rows(screen, found),
        chance_row("balance", found.chance_before.balance, found.chance_after.balance),
        chance_row("fit", found.chance_before.fit, found.chance_after.fit),
    ):
        table.add_row(*(Text(cell) for cell in row))
    parts: list[RenderableType] = [Text(found.plane, "bold"), Text(), moves, Text(), table, Text()]
    parts.append(Text(PROOF[found.how]))
    if found.kept is not None:
        parts.append(
            Text(f"Kept:  foamwright ask {as_typed(path)} --variant {as_typed(found.kept)}")
        )
    elif found.keys:
        parts.append(Text(f"Keep it:  foamwright place {as_typed(path)} --keep NAME"))
    return screen.set_out(parts)

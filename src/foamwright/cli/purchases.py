"""The shopping list, for a terminal."""

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from foamwright.quantity import show
from foamwright.questions.answer import ShoppingLine

QUIET = "dim"


def price(line: ShoppingLine, currency: str) -> Text:
    """Return what all pieces of a line cost; a usual price is marked."""
    if line.price_each is None:
        return Text("price?", "bold")
    text = Text(show(line.price_each * line.count, "money", "metric", currency))
    return text.append(" usual" if line.assumed else "", QUIET)


def shopping(lines: tuple[ShoppingLine, ...], currency: str) -> list[RenderableType]:
    """Return what is still to buy, then what is in the drawer; nothing for an empty list."""
    parts: list[RenderableType] = []
    for title, owned in (("To buy", False), ("In the drawer", True)):
        chosen = [line for line in lines if line.owned == owned]
        if not chosen:
            continue
        grid = Table.grid(padding=(0, 3))
        for line in chosen:
            count = f"{line.count} x" if line.count > 1 else ""
            grid.add_row(count, line.item, price(line, currency), Text(line.link, QUIET))
        parts += [Text(), Text(title, "bold"), grid]
    return parts

"""The stock as a list, for a terminal."""

from rich.console import RenderableType
from rich.table import Table
from rich.text import Text

from foamwright.cli.screen import QUIET, Screen
from foamwright.jobs.stock import StockRow
from foamwright.quantity import Quantity


def listed_kinds(kinds: tuple[str, ...]) -> str:
    """Return the kinds there are, and how to look into one."""
    lines = ["The stock holds these kinds:", "", *(f"   {kind}" for kind in kinds), ""]
    return "\n".join([*lines, "Look into one:  foamwright stock motor 2204", ""])


def usual(screen: Screen, quantity: Quantity | None) -> Text:
    """Return a mass or a price with its spread."""
    if quantity is None:
        return Text("")
    number, _, unit = screen.shown(quantity.value, quantity.dimension).partition(" ")
    text = Text(f"{float(number):g}")
    if quantity.spread:
        spread = screen.shown(quantity.spread, quantity.dimension).split()[0]
        text.append(f" ± {float(spread):.2g}", QUIET)
    return text.append(f" {unit}")


def shelf(screen: Screen, rows: tuple[StockRow, ...]) -> str:
    """Return part classes as a list by kind; a single one in full."""
    if not rows:
        return "Nothing in the stock is like that; the kinds are listed by: foamwright stock\n"
    if len(rows) == 1:
        return screen.set_out(one(screen, rows[0]))
    parts: list[RenderableType] = []
    for kind in dict.fromkeys(row.kind for row in rows):
        grid = Table.grid(padding=(0, 2))
        for _ in range(3):
            grid.add_column(no_wrap=True)
        grid.add_column()
        for row in rows:
            if row.kind == kind:
                grid.add_row(
                    Text(row.name),
                    usual(screen, row.mass),
                    usual(screen, row.price),
                    Text(row.about, QUIET),
                )
        parts += [Text(kind, "bold"), screen.indented(grid), Text()]
    parts.append(
        Text("Usual masses and prices, ± one standard deviation; the scale knows better.", QUIET)
    )
    return screen.set_out(parts)


def one(screen: Screen, row: StockRow) -> list[RenderableType]:
    """Return one part class with everything it says."""
    grid = Table.grid(padding=(0, 3))
    if row.mass is not None:
        grid.add_row("mass", usual(screen, row.mass))
    if row.price is not None:
        grid.add_row("price", usual(screen, row.price))
    for label, text in row.figures:
        grid.add_row(label.replace("_", " "), text)
    called = f'In a plane file:  stock = "{row.name}"'
    head = Text(row.name, "bold").append(f"   {row.kind}; {row.about}", QUIET)
    return [head, screen.indented(grid), Text(), Text(called)]

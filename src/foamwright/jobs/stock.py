"""The stock as a list."""

from dataclasses import dataclass
from pathlib import Path

from foamwright.plane.stock import Entry
from foamwright.plane.stock import stock as known_stock
from foamwright.problems import CallProblem
from foamwright.quantity import Quantity, read

COLUMNS: dict[str, tuple[str, ...]] = {
    "motor": ("kv", "resistance", "no_load_current", "burst_current"),
    "propeller": ("diameter", "pitch", "blades"),
    "pack": ("cells", "capacity"),
    "esc": ("current_limit", "resistance"),
    "servo": ("torque", "speed", "stall_current"),
    "foam": ("density", "compressive_strength", "shear_strength"),
}
"""Which numbers of a kind are worth a column; others show their draw."""


@dataclass(frozen=True, kw_only=True, slots=True)
class StockRow:
    """One part class."""

    name: str
    kind: str
    mass: Quantity | None
    price: Quantity | None
    about: str
    figures: tuple[tuple[str, str], ...]
    """Key and text as written in the stock."""


def row_of(entry: Entry) -> StockRow:
    """Return an entry as a row."""
    kind = str(entry["kind"])
    keys = COLUMNS.get(kind, ("draw", "transmit_power", "current_limit"))
    mass, price = entry.get("mass"), entry.get("price")
    return StockRow(
        name=str(entry["name"]),
        kind=kind,
        mass=None if mass is None else read(mass, "mass"),
        price=None if price is None else read(price, "money"),
        about=str(entry.get("about", "")),
        figures=tuple((key, str(entry[key])) for key in keys if key in entry),
    )


def kinds() -> tuple[str, ...]:
    """Return every kind the shipped stock has."""
    return known_stock().kinds()


def list_stock(
    kind: str | None, words: tuple[str, ...], user_file: Path | None = None
) -> tuple[StockRow, ...]:
    """Return the part classes of a kind that hold every word; a label makes its own row.

    Raises CallProblem for a kind that does not exist.
    """
    found = known_stock(user_file)
    if kind is not None and kind not in found.kinds():
        raise CallProblem(
            f"the stock has no kind '{kind}'", expected=f"one of {', '.join(found.kinds())}"
        )
    rows = [row_of(entry) for entry in found.search(kind, words)]
    if not rows and words:
        rows = [row_of(found.entry(" ".join(words), kind))]
    return tuple(rows)

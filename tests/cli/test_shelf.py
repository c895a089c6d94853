"""The stock as a list."""

from foamwright.cli import shelf
from foamwright.cli.screen import Screen
from foamwright.jobs.stock import StockRow
from foamwright.quantity import read


def row(name: str, kind: str) -> StockRow:
    """Return a part class that was made up."""
    return StockRow(
        name=name,
        kind=kind,
        mass=read("24 ± 3 g", "mass"),
        price=None,
        about="with leads",
        figures=(("kv", "2300 rpm/V"),),
    )


def test_several_rows_are_listed_by_kind() -> None:
    """Each kind is a heading; masses come with their spread."""
    page = shelf.shelf(Screen(), (row("motor a", "motor"), row("servo b", "servo")))
    lines = page.splitlines()
    assert "motor" in lines
    assert "servo" in lines
    assert any("motor a" in line and "24 ± 3 g" in line for line in lines)


def test_a_single_row_is_shown_in_full() -> None:
    """One hit tells all its figures and how to call it in a plane file."""
    page = shelf.shelf(Screen(), (row("motor a", "motor"),))
    assert "2300 rpm/V" in page
    assert 'stock = "motor a"' in page


def test_nothing_found_says_where_to_look() -> None:
    """An empty shelf is an answer, with the way to the kinds."""
    assert "foamwright stock" in shelf.shelf(Screen(), ())


def test_kinds_are_listed_one_a_line() -> None:
    """A kind of two words stays on its line."""
    assert "   video transmitter\n" in shelf.listed_kinds(("motor", "video transmitter"))

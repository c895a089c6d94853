"""The stock as a list."""

import pytest

from foamwright.jobs.stock import kinds, list_stock
from foamwright.problems import CallProblem


def test_every_kind_has_rows_of_its_own() -> None:
    """Each with a name and words, none of another kind."""
    assert {"motor", "propeller", "pack", "esc", "servo"} <= set(kinds())
    for kind in kinds():
        rows = list_stock(kind, ())
        assert rows
        assert {row.kind for row in rows} == {kind}
        assert all(row.name and row.about for row in rows)


def test_words_narrow_the_list() -> None:
    """Every word has to be there."""
    found = list_stock("motor", ("2204",))
    assert found
    assert all("2204" in row.name for row in found)
    assert len(found) < len(list_stock("motor", ()))


def test_motors_show_the_numbers_a_builder_compares() -> None:
    """Kv, resistance, idle and burst current as written; masses in kilograms within the trade's."""
    for row in list_stock("motor", ()):
        assert [key for key, _ in row.figures][:2] == ["kv", "resistance"]
        assert row.mass is not None
        assert 0.002 < row.mass.value < 0.1


def test_a_label_makes_its_own_row() -> None:
    """A pack the shelf does not list, read off its label: 3S 700 weighs about 60 g.

    4 g of plug and leads, 0.6 g and 26 g per ampere hour a cell: common practice, no source.
    """
    (row,) = list_stock("pack", ("pack", "3S", "700"))
    assert row.mass is not None
    assert row.mass.value == pytest.approx(0.0604, rel=0.05)


def test_an_unknown_kind_is_refused_with_those_there_are() -> None:
    """One of the kinds is proposed."""
    with pytest.raises(CallProblem, match="no kind 'engine'"):
        list_stock("engine", ())

"""Columns out of a table."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from foamwright.debrief.layout import layout_of
from foamwright.debrief.table import Columns, Wanted, columns_of, midnights
from foamwright.problems import DataFileProblem

Write = Callable[..., Path]


def read(path: Path, *names: str) -> Columns:
    """Return some columns, all digits kept."""
    return columns_of(path, layout_of(path), Wanted(names=names, exact=frozenset(names)))


def test_only_the_wanted_columns_are_read(write: Write) -> None:
    """As many values as rows; the others are not there."""
    found = read(write("t,a,b\n0,1.5,x\n1,1.25,y\n2,1.75,z\n"), "t", "a")
    assert set(found.values) == {"t", "a"}
    assert found.values["a"] == pytest.approx([1.5, 1.25, 1.75])
    assert (found.rows, found.cut) == (3, False)


def test_what_is_no_number_is_empty(write: Write) -> None:
    """Words, dashes and nothing in a column of numbers."""
    rows = "\n".join(
        f"{n},{value}" for n, value in enumerate(("1", "2", "err", "--", "", "NaN", "inf", "3"))
    )
    found = read(write(f"t,a\n{rows}\n"), "a").values["a"]
    assert np.isnan(found[2:7]).all()
    assert found[[0, 1, 7]] == pytest.approx([1, 2, 3])


def test_rows_of_another_width_and_comments_do_no_harm(write: Write) -> None:
    """A short row has empty cells, a long one is cut, a comment is no row."""
    text = "t,a\n# begin\n0,1\n1\n2,3,4\n# pause\n3,4\n4,5\n5,6\n"
    found = read(write(text), "t", "a")
    assert found.values["t"] == pytest.approx([0, 1, 2, 3, 4, 5])
    assert np.isnan(found.values["a"][1])


def test_digits_are_kept_where_they_are_needed(write: Write) -> None:
    """A position to 1e-7 degrees, a clock in microseconds since 1970."""
    text = "t,lat\n1700000000000001,47.1234567\n1700000000000002,47.1234568\n1700000000000003,47\n"
    found = read(write(text), "t", "lat").values
    assert np.diff(found["t"]).tolist() == [1.0, 1.0]
    assert found["lat"][1] - found["lat"][0] == pytest.approx(1e-7, rel=1e-2)


def test_a_day_ends_at_midnight_only() -> None:
    """A step back by a day is a new day, a small one is none."""
    found = midnights(np.array([86398.0, 86399.0, 0.0, 1.0, 0.5]))
    assert found == pytest.approx([86398, 86399, 86400, 86401, 86400.5])


def test_a_log_without_an_end_keeps_a_whole_last_row(write: Write) -> None:
    """A missing line end alone is no cut."""
    assert read(write("t,a\n0,1\n1,2\n2,3"), "t").cut is False
    assert read(write("t,a,b\n0,1,1\n1,2,1\n2,3,1\n3,4"), "t").rows == 3


def test_a_log_too_large_is_refused(write: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before it is read."""
    monkeypatch.setattr("foamwright.debrief.table.LARGEST", 10)
    with pytest.raises(DataFileProblem, match="too large"):
        read(write("t,a\n0,1\n1,2\n2,3\n"), "t")


def test_a_quote_that_is_never_closed_swallows_no_rows(write: Write) -> None:
    """200 rows stay 200; only the cell with the quote is empty."""
    rows = "".join(f"{n},{'' if n != 50 else chr(34)}{n * 2}\n" for n in range(200))
    found = read(write(f"t,a\n{rows}"), "t", "a")
    assert found.rows == 200
    assert np.flatnonzero(np.isnan(found.values["a"])).tolist() == [50]


def test_quoted_cells_hold_delimiters(write: Write) -> None:
    """A message with a comma in it moves nothing."""
    rows = "".join(f'{n},"gear up, all well",{n * 2}\n' for n in range(20))
    found = read(write(f"t,note,a\n{rows}"), "t", "a")
    assert found.values["a"] == pytest.approx(np.arange(20) * 2)

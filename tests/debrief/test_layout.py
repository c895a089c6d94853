"""How tables are laid out."""

from collections.abc import Callable
from pathlib import Path

import pytest

from foamwright.debrief.layout import (
    encoding_of,
    kind_of,
    kinds_by_name,
    layout_of,
    sample_of,
    unique,
)
from foamwright.problems import DataFileProblem

Write = Callable[..., Path]
KINDS = [
    ("12.5", False, "number"), ("-3e-4", False, "number"), ("12,5", True, "number"),
    ("12,5", False, "text"), ("12:30:05", False, "clock"), ("12:30:05.250", False, "clock"),
    ("2026-05-01T12:30:05Z", False, "clock"), ("01.05.2026 12:30:05", False, "clock"),
    ("1:02:03 PM", False, "clock"), ("2026-05-01", False, "date"), ("5/1/26", False, "date"),
    ("47.123 8.456", False, "pair"), ("12.3 V", False, "number unit"), ("", False, "empty"),
    ("NaN", False, "empty"), ("--", False, "empty"), ("armed", False, "text"),
    ("12 bananas", False, "text"),
]  # fmt: skip


@pytest.mark.parametrize(("cell", "comma", "kind"), KINDS)
def test_a_cell_holds(cell: str, comma: bool, kind: str) -> None:  # noqa: FBT001
    """Numbers, clocks, dates, pairs, numbers with a unit, nothing, or words."""
    assert kind_of(cell, comma=comma) == kind


def test_a_plain_table(write: Write) -> None:
    """One header line, comma."""
    found = layout_of(write("t,alt\n0,1.5\n1,1.6\n2,1.7\n"))
    assert (found.delimiter, found.decimal_comma, found.above) == (",", False, 1)
    assert found.names == ("t", "alt")
    assert found.cells == ("number", "number")


def test_a_table_without_a_header_has_numbered_columns(write: Write) -> None:
    """Nothing is made up for what nobody named."""
    assert layout_of(write("0,1.5\n1,1.6\n2,1.7\n")).names == ("column 1", "column 2")


def test_a_header_in_a_comment_line(write: Write) -> None:
    """`# t, alt` above the numbers is the header."""
    found = layout_of(write("# made here\n# t,alt\n0,1.5\n1,1.6\n2,1.7\n"))
    assert found.names == ("t", "alt")
    assert (found.above, found.comment) == (2, "#")


def test_two_header_rows_and_units(write: Write) -> None:
    """Group names hold until the next; the unit row is kept apart."""
    text = ",GPS,,Pack\ntime,speed,sats,volt\ns,km/h,,V\n0,1,9,12\n1,2,9,12\n2,3,9,11\n"
    found = layout_of(write(text))
    assert found.names == ("time", "GPS speed", "GPS sats", "Pack volt")
    assert found.units == ("s", "km/h", "", "V")


def test_names_no_two_the_same() -> None:
    """A name that comes again is numbered."""
    assert unique(["a", "a", "", "a"]) == ("a", "a (2)", "column 3", "a (3)")


def test_quoted_names_with_the_delimiter_in_them(write: Write) -> None:
    """Quotes keep a comma in a name."""
    found = layout_of(write('"t, s","alt, m"\n0,1.5\n1,1.6\n2,1.7\n'))
    assert found.names == ("t, s", "alt, m")


def test_a_trailing_delimiter_is_a_column_of_nothing(write: Write) -> None:
    """Rows that end in a comma have one empty column more."""
    found = layout_of(write("t,alt,\n0,1.5,\n1,1.6,\n2,1.7,\n"))
    assert kinds_by_name(found)["column 3"] == "empty"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-be", "cp1252"])
def test_the_encoding_is_found_out(encoding: str, write: Write) -> None:
    """With a mark or without; Latin letters above 127 too."""
    path = write("t_s,temp_°C\n0,1.5\n1,1.6\n2,1.7\n", encoding=encoding)
    assert layout_of(path).names == ("t_s", "temp_°C")


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    """The file is named."""
    with pytest.raises(DataFileProblem, match="cannot be read"):
        sample_of(tmp_path / "none.csv")


def test_zeros_are_binary(tmp_path: Path) -> None:
    """Many control signs are no text."""
    with pytest.raises(DataFileProblem, match="binary"):
        encoding_of(tmp_path, b"\x00\x01\x02\x03" * 50)

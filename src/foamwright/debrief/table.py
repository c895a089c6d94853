"""Reading the columns that are wanted out of a table of any size."""

import codecs
import contextlib
import os
import tempfile
import warnings
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from foamwright.debrief.layout import Layout, kinds_by_name, problem, split
from foamwright.physics.arrays import Grid

if TYPE_CHECKING:
    import polars as pl

LARGEST = 4 * 1024**3
"""Bytes of the largest log."""
MOST_VALUES = 600_000_000
"""Rows times columns that are held at once."""
SECONDS_A_DAY = 86400.0
CLOCK_PARTS = (
    r"(?P<a>\d{1,2}):(?P<b>\d{2})(?::(?P<c>\d{2}(?:[.,:]\d+)?)|(?P<d>[.,]\d+))?\s*"
    r"(?P<half>[AaPp]\.?[Mm]\.?)?"
)
NUMBER = r"([-+]?\d*[.,]?\d+(?:[eE][-+]?\d+)?)"


@dataclass(frozen=True, kw_only=True, slots=True)
class Wanted:
    """Which columns to read."""

    names: tuple[str, ...]
    exact: frozenset[str]
    """Those that keep all their digits; the others keep seven."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Columns:
    """Columns as written, numbers only."""

    values: Mapping[str, Grid]
    """By column name (rows,); not a number where a cell holds none."""
    rows: int
    """Rows in the file."""
    cut: bool
    """Whether the last line broke off."""


def checked_size(path: Path) -> int:
    """Return the bytes of a log; raises DataFileProblem where it is too large."""
    size = path.stat().st_size
    if size > LARGEST:
        what = f"is too large: {size / 1e9:.1f} GB"
        raise problem(path, what, f"at most {LARGEST / 1e9:.1f} GB; cut the log to one flight")
    return size


def breaks_off(path: Path, layout: Layout) -> bool:
    """Return whether the last line has no end and fewer cells than a row: a log cut short."""
    with path.open("rb") as file:
        file.seek(0, os.SEEK_END)
        file.seek(max(0, file.tell() - 65536) // 2 * 2)  # letters of two bytes stay whole
        text = codecs.getincrementaldecoder(layout.encoding)("replace").decode(file.read())
    if text.endswith(("\n", "\r")):
        return False
    return len(split(text.splitlines()[-1], layout.delimiter)) < len(layout.names)


@contextlib.contextmanager
def readable(path: Path, layout: Layout) -> Iterator[tuple[Path, str]]:
    """Yield a file that the reader of tables takes, and its delimiter.

    A text of two-byte letters, or one whose columns are set with runs of blanks, is written anew
    into a file that is gone afterwards.
    """
    if not layout.encoding.startswith("utf-16") and layout.delimiter != " ":
        yield path, layout.delimiter
        return
    blank = layout.delimiter == " "
    with tempfile.TemporaryDirectory(prefix="foamwright-") as room:
        copy = Path(room) / "log.csv"
        with (
            path.open(encoding=layout.encoding, errors="replace", newline="") as text,
            copy.open("w", encoding="utf-8", newline="") as out,
        ):
            for line in text:
                ending = "\n" if line.endswith(("\n", "\r")) else ""
                out.write("\t".join(line.split()) + ending if blank else line)
        yield copy, "\t" if blank else layout.delimiter


def wanted_types(layout: Layout, exact: frozenset[str]) -> Mapping[str, "pl.DataType"]:
    """Return the type every column is read as: text where its cells are more than a number."""
    import polars as pl  # noqa: PLC0415 - slow to import

    kinds = kinds_by_name(layout)
    types: dict[str, pl.DataType] = {}
    for name in layout.names:
        plain = kinds[name] == "number"
        types[name] = (pl.Float64() if name in exact else pl.Float32()) if plain else pl.String()
    return types


def scanned(path: Path, layout: Layout, wanted: Wanted, delimiter: str) -> "pl.DataFrame":
    """Return the wanted columns of a table; cells that are no number are empty.

    A quote that is never closed would swallow every row below it: quotes are letters then.
    """
    with warnings.catch_warnings(record=True) as told:
        warnings.simplefilter("always")
        frame = collected(path, layout, wanted, delimiter, quote='"')
    if any("malformed" in str(one.message) for one in told):
        return collected(path, layout, wanted, delimiter, quote=None)
    return frame


def collected(
    path: Path, layout: Layout, wanted: Wanted, delimiter: str, *, quote: str | None
) -> "pl.DataFrame":
    """Return the wanted columns, with a sign for quotes or with none."""
    import polars as pl  # noqa: PLC0415 - slow to import

    try:
        return (
            pl.scan_csv(
                path,
                has_header=False,
                schema=dict(wanted_types(layout, wanted.exact)),
                skip_lines=layout.above,
                separator=delimiter,
                quote_char=quote,
                comment_prefix=layout.comment or None,
                ignore_errors=True,  # a list of words for nothing would take as long again
                truncate_ragged_lines=True,
                decimal_comma=layout.decimal_comma,
                encoding="utf8" if layout.encoding.startswith("utf-") else "utf8-lossy",
                low_memory=True,
            )
            .select(list(wanted.names))
            .collect(engine="streaming")
        )
    except pl.exceptions.PolarsError as error:
        what = f"cannot be read as a table: {str(error).splitlines()[0][:120]}"
        raise problem(path, what, "a text with one row a line") from error


def seconds_of_day(texts: "pl.Series") -> Grid:
    """Return clock texts as seconds, days counted on where midnight passes."""
    parts = texts.str.extract_groups(CLOCK_PARTS).struct
    values = {
        key: parts.field(key)
        .str.replace(",", ".", literal=True)
        .str.replace(":", ".", literal=True)
        .cast(float, strict=False)
        .to_numpy()
        for key in "abcd"
    }
    half = parts.field("half").str.to_lowercase().str.slice(0, 1)
    hours = values["a"]
    hours = np.where((half == "p").fill_null(value=False).to_numpy(), hours % 12 + 12, hours)
    hours = np.where((half == "a").fill_null(value=False).to_numpy(), hours % 12, hours)
    whole = hours * 3600 + values["b"] * 60 + np.nan_to_num(values["c"])
    short = values["a"] * 60 + values["b"] + np.nan_to_num(values["d"])  # mm:ss.f
    seconds = np.where(np.isnan(values["c"]) & ~np.isnan(values["d"]), short, whole)
    if np.isnan(values["c"]).all() and np.isnan(values["d"]).all():
        seconds = short  # two parts and no fraction: minutes and seconds
    return midnights(seconds)


def midnights(seconds: Grid) -> Grid:
    """Return seconds of the day counted on over midnight."""
    known = np.isfinite(seconds)
    steps = np.diff(seconds[known], prepend=seconds[known][:1])
    out = seconds.copy()
    out[known] += SECONDS_A_DAY * np.cumsum(steps < -SECONDS_A_DAY / 2)
    return out


def finite(values: Grid) -> Grid:
    """Return values without infinities, which no sensor measures."""
    endless = np.isinf(values)
    return np.where(endless, np.nan, values) if endless.any() else values


def numbers_in(texts: "pl.Series", group: int) -> Grid:
    """Return the number at a place in cells that hold more than one, or a unit behind it."""
    found = texts.str.extract_all(NUMBER).list.get(group, null_on_oob=True)
    number = found.str.replace(",", ".", literal=True).cast(float, strict=False)
    return np.asarray(number.to_numpy(), dtype=float)


def columns_of(path: Path, layout: Layout, wanted: Wanted) -> Columns:
    """Return the columns that are wanted; pairs of numbers as `NAME/1` and `NAME/2`."""
    checked_size(path)
    with readable(path, layout) as (file, delimiter):
        frame = scanned(file, layout, wanted, delimiter)
    kinds = kinds_by_name(layout)
    values: dict[str, Grid] = {}
    for name in wanted.names:
        series, kind = frame[name], kinds[name]
        if kind == "number":
            values[name] = finite(series.fill_null(float("nan")).to_numpy())
        elif kind == "clock":
            values[name] = seconds_of_day(series)
        elif kind == "pair":
            values |= {f"{name}/{place}": numbers_in(series, place - 1) for place in (1, 2)}
        elif kind == "number unit":
            values[name] = numbers_in(series, 0)
    cut = breaks_off(path, layout)
    if cut:  # its last number may be half a number
        values = {name: column[:-1] for name, column in values.items()}
    return Columns(values=values, rows=frame.height - int(cut), cut=cut)

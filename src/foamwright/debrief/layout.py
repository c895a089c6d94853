"""How a table in a text file is laid out: encoding, delimiter, header, where the data begin."""

import codecs
import collections
import csv
import itertools
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from foamwright.debrief.logged_units import unit_named
from foamwright.problems import DataFileProblem, Finding

SAMPLE = 262_144
"""Bytes looked at."""
DELIMITERS = (",", ";", "\t", "|", " ")
COMMENTS = ("#", "//", "%")
MOST_COLUMNS = 2000
MOST_HEADER_LINES = 200
"""Lines before the first row of numbers."""
LOOKED_AT = 150
"""Lines of data from which it is told what the cells of a column are."""
EMPTY = frozenset({"", "nan", "null", "none", "n/a", "na", "-", "--", "---", "inf", "-inf"})
"""What stands for no value, in lower case."""

POINT = re.compile(r"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?")
COMMA = re.compile(r"[-+]?(\d+,?\d*|,\d+)([eE][-+]?\d+)?")
CLOCK = re.compile(
    r"(\d{4}-\d{1,2}-\d{1,2}[T ])?\d{1,2}:\d{2}(:\d{2}([.,:]\d+)?|[.,]\d+)?\s*"
    r"([AaPp]\.?[Mm]\.?)?\s*(Z|UTC|[-+]\d{2}:?\d{2})?"
    r"|\d{1,2}[./]\d{1,2}[./]\d{2,4}[T ]+\d{1,2}:\d{2}(:\d{2}([.,]\d+)?)?\s*([AaPp][Mm])?"
)
DATE = re.compile(r"\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4}")
PAIR = re.compile(r"[-+]?\d{1,3}\.\d+[ ;,/]+[-+]?\d{1,3}\.\d+")
WITH_UNIT = re.compile(r"[-+]?\d+[.,]?\d*\s*([A-Za-z%°/µ²]+\d?)")


@dataclass(frozen=True, kw_only=True, slots=True)
class Layout:
    """How to read a table."""

    encoding: str
    """Of the text."""
    delimiter: str
    """Between two cells; a blank stands for any run of blanks."""
    decimal_comma: bool
    """Whether 1,5 is one and a half."""
    comment: str
    """What begins a comment line; empty if none was seen."""
    above: int
    """Lines before the first row of data."""
    names: tuple[str, ...]
    """Column names, header rows joined, no two the same."""
    units: tuple[str, ...]
    """As written in a row of units; empty where there is none."""
    cells: tuple[str, ...]
    """What the cells of each column are: number, clock, date, pair, `number unit`, text, empty."""
    cell_units: tuple[str, ...]
    """The unit written in the cells themselves, empty where there is none."""


def problem(path: Path, what: str, expected: str = "", line: int | None = None) -> DataFileProblem:
    """Return the problem with a log."""
    return DataFileProblem((Finding(what=what, expected=expected, file=path, line=line),))


def sample_of(path: Path) -> bytes:
    """Return the start of a file; raises DataFileProblem where it cannot be read or is empty."""
    try:
        with path.open("rb") as file:
            found = file.read(SAMPLE)
    except OSError as error:
        raise problem(path, f"cannot be read: {error.strerror or error}") from error
    if not found.strip():
        raise problem(path, "is empty", "give a log with a header line and rows of numbers")
    return found


def encoding_of(path: Path, start: bytes) -> str:
    """Return the encoding of a text; raises DataFileProblem where it is no text."""
    for mark, name in (
        (codecs.BOM_UTF8, "utf-8-sig"),
        (codecs.BOM_UTF16_LE, "utf-16-le"),
        (codecs.BOM_UTF16_BE, "utf-16-be"),
    ):
        if start.startswith(mark):
            return name
    even, odd = start[0:4000:2].count(0), start[1:4000:2].count(0)
    half = max(len(start[0:4000:2]), 1)
    if odd > 0.4 * half and even < 0.05 * half and is_written(start, "utf-16-le"):
        return "utf-16-le"
    if even > 0.4 * half and odd < 0.05 * half and is_written(start, "utf-16-be"):
        return "utf-16-be"
    controls = sum(start.count(bytes((code,))) for code in (*range(9), *range(14, 32)))
    if controls > 2 + 0.002 * len(start):
        raise problem(
            path, "is no text: it holds binary data", "export the log as CSV, GPX or NMEA"
        )
    try:
        codecs.getincrementaldecoder("utf-8")().decode(start)
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def is_written(start: bytes, encoding: str) -> bool:
    """Return whether bytes are mostly plain letters in an encoding."""
    text = codecs.getincrementaldecoder(encoding)("replace").decode(start[:4000])
    return sum(sign.isprintable() or sign in "\r\n\t" for sign in text) > 0.98 * len(text)


def kind_of(cell: str, *, comma: bool) -> str:
    """Return what a cell holds."""
    text = cell.strip().strip('"').strip()
    if text.lower() in EMPTY:
        return "empty"
    for kind, pattern in (
        ("number", COMMA if comma else POINT),
        ("clock", CLOCK),
        ("date", DATE),
        ("pair", PAIR),
    ):
        if pattern.fullmatch(text):
            return kind
    unit = WITH_UNIT.fullmatch(text)
    return "number unit" if unit and unit_named(unit[1]) else "text"


def split(line: str, delimiter: str) -> list[str]:
    """Return the cells of a line; a blank delimiter takes runs of blanks."""
    if delimiter == " ":
        return line.split()
    return next(csv.reader([line], delimiter=delimiter, skipinitialspace=True), [])


@dataclass(frozen=True, kw_only=True, slots=True)
class Shape:
    """What a delimiter makes of the lines of a sample."""

    delimiter: str
    comma: bool
    width: int
    """Cells of most lines."""
    share: float
    """Share of their cells that are values."""


def shape_with(lines: Sequence[str], delimiter: str) -> Shape | None:
    """Return what a delimiter makes of the last lines of a sample; none if it never occurs."""
    rows = [split(line, delimiter) for line in lines]
    widths = collections.Counter(len(row) for row in rows if len(row) > 1)
    if not widths:
        return None
    width, often = max(widths.items(), key=lambda item: (item[1], item[0]))
    cells = [cell for row in rows if len(row) == width for cell in row]
    shares = {
        comma: sum(kind_of(cell, comma=comma) != "text" for cell in cells) / len(cells)
        for comma in ((False,) if delimiter == "," else (False, True))
    }
    comma = max(shares, key=lambda key: (shares[key], not key))
    return Shape(
        delimiter=delimiter, comma=comma, width=width, share=shares[comma] * often / len(rows)
    )


def shape_of(path: Path, lines: Sequence[str]) -> Shape:
    """Return the delimiter that makes the best table of a sample."""
    tail = lines[-min(len(lines), 60) :] if len(lines) > 5 else lines[-3:]
    found = [shape for sign in DELIMITERS if (shape := shape_with(tail, sign)) is not None]
    best = max(found, key=lambda shape: (round(shape.share, 2), shape.width), default=None)
    if best is None or best.share < 0.2:
        what = "holds no table: no delimiter parts its lines into columns of numbers"
        raise problem(path, what, "columns parted by comma, semicolon, tab, bar or blanks")
    if best.width > MOST_COLUMNS:
        raise problem(path, f"has {best.width} columns", f"{MOST_COLUMNS} at most")
    return best


def is_data(cells: Sequence[str], shape: Shape) -> bool:
    """Return whether cells are a row of data: as wide as most, more values than words."""
    if not shape.width - 2 <= len(cells) <= shape.width + 1:
        return False
    kinds = [kind_of(cell, comma=shape.comma) for cell in cells]
    values = sum(kind in {"number", "clock", "pair", "number unit"} for kind in kinds)
    words = kinds.count("text")
    return values > 0 and values >= words


def is_comment(line: str) -> str:
    """Return what makes a line a comment, or nothing."""
    return next((sign for sign in COMMENTS if line.lstrip().startswith(sign)), "")


def is_units(cells: Sequence[str]) -> bool:
    """Return whether cells are a row of units."""
    written = [cell.strip(" \t()[]{}\"'") for cell in cells if cell.strip(" \t()[]{}\"'")]
    return bool(written) and sum(bool(unit_named(cell)) for cell in written) > 0.6 * len(written)


def padded(cells: Sequence[str], width: int) -> list[str]:
    """Return exactly so many cells, stripped."""
    return [
        cell.strip().strip('"').strip()
        for cell in itertools.islice(itertools.chain(cells, itertools.repeat("")), width)
    ]


def held_on(last: str, cell: str) -> str:
    """Return a cell, or the last one where it is empty."""
    return cell or last


def joined(rows: Sequence[Sequence[str]], width: int) -> list[str]:
    """Return one name a column from header rows; group names hold until the next one."""
    names = [""] * width
    for row in rows:
        cells = padded(row, width)
        if row is not rows[-1]:
            cells = list(itertools.accumulate(cells, held_on))
        names = [f"{name} {cell}".strip() for name, cell in zip(names, cells, strict=True)]
    return names


def unique(names: Sequence[str]) -> tuple[str, ...]:
    """Return names no two of which are the same; a column without one is numbered."""
    found: list[str] = []
    for place, name in enumerate(names, start=1):
        wanted = name or f"column {place}"
        ways = (wanted if n == 1 else f"{wanted} ({n})" for n in itertools.count(1))
        found.append(next(way for way in ways if way not in found))
    return tuple(found)


def header_of(lines: Sequence[str], first: int, shape: Shape) -> tuple[list[str], list[str]]:
    """Return names and units from the lines directly above the first row of data."""
    rows: list[list[str]] = []
    units = [""] * shape.width
    for number in range(first - 1, max(first - 6, -1), -1):
        line = lines[number]
        sign = is_comment(line)
        text = line.lstrip()[len(sign) :] if sign else line
        cells = split(text.strip("\r\n"), shape.delimiter)
        near = 0 if sign else 1  # a comment is a header only where it fits exactly
        fits = abs(len(cells) - shape.width) <= near and any(cell.strip() for cell in cells)
        if not fits or (sign and rows):
            if rows:
                break
            continue
        if is_units(cells) and not rows and not any(units):
            units = [cell.strip("()[]{} ") for cell in padded(cells, shape.width)]
        else:
            rows.insert(0, cells)
    return joined(rows, shape.width), units


def first_data(lines: Sequence[str], shape: Shape) -> int | None:
    """Return the index of the first row of data that is followed by another or by nothing."""
    near = lines[: MOST_HEADER_LINES + 20]
    data = [not is_comment(line) and is_data(split(line, shape.delimiter), shape) for line in near]
    for index, is_one in enumerate(data[:MOST_HEADER_LINES]):
        after = [
            flag
            for flag, line in zip(data[index + 1 :], near[index + 1 :], strict=True)
            if line.strip() and not is_comment(line)
        ][:3]
        if is_one and sum(after) >= min(len(after), 2):
            return index
    return None


def cells_of(rows: Sequence[Sequence[str]], shape: Shape) -> tuple[list[str], list[str]]:
    """Return what the cells of each column are, and the unit written in them."""
    kinds, units = [], []
    for column in zip(*(padded(row, shape.width) for row in rows), strict=True):
        held = collections.Counter(kind_of(cell, comma=shape.comma) for cell in column)
        held.pop("empty", None)
        kind = held.most_common(1)[0][0] if held else "empty"
        kinds.append(kind)
        matches = [WITH_UNIT.fullmatch(cell) for cell in column] if kind == "number unit" else []
        written = {match[1] for match in matches if match}
        units.append(written.pop() if len(written) == 1 else "")
    return kinds, units


def looked_at(lines: Sequence[str]) -> Sequence[str]:
    """Return the lines by which cells are told: the first ones, and some from all the others."""
    stride = len(lines) // LOOKED_AT | 1  # odd, so that no pattern of even rows hides
    return [*lines[:LOOKED_AT], *lines[LOOKED_AT::stride]]


def layout_of(path: Path) -> Layout:
    """Return how the table in a file is laid out; raises DataFileProblem with the line."""
    start = sample_of(path)
    encoding = encoding_of(path, start)
    text = codecs.getincrementaldecoder(encoding)("replace").decode(start)
    lines = text.lstrip("\ufeff").splitlines()
    if len(start) == SAMPLE and len(lines) > 1:
        lines.pop()
    written = [line for line in lines if line.strip() and not is_comment(line)]
    if not written:
        raise problem(path, "holds no row of data", "a header line and rows of numbers")
    shape = shape_of(path, written)
    first = first_data(lines, shape)
    if first is None:
        what = "holds no row of numbers below its header"
        raise problem(path, what, "rows of numbers under the names", line=len(lines))
    names, units = header_of(lines, first, shape)
    rows = [split(line, shape.delimiter) for line in looked_at(lines[first:]) if line.strip()]
    kinds, cell_units = cells_of([row for row in rows if is_data(row, shape)], shape)
    return Layout(
        encoding=encoding,
        delimiter=shape.delimiter,
        decimal_comma=shape.comma,
        comment=next((sign for line in lines if (sign := is_comment(line))), ""),
        above=first,
        names=unique(names),
        units=tuple(units),
        cells=tuple(kinds),
        cell_units=tuple(cell_units),
    )


def kinds_by_name(layout: Layout) -> Mapping[str, str]:
    """Return what the cells of each column are, by its name."""
    return dict(zip(layout.names, layout.cells, strict=True))

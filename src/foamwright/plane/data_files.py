"""Files of numbers beside the plane file: section outlines, blades, propeller coefficients."""

import itertools
from collections.abc import Iterator
from pathlib import Path

from foamwright.problems import DataFileProblem, Finding

LARGEST = 2_000_000
"""Largest data file read [bytes]."""

TURNING_BACK = 1e-3
"""How far points may run back along the chord: round noses do, by a hair [chord]."""

THINNEST = 0.003
"""Least mean thickness of a section [chord]; a sheet needs no file."""

Row = tuple[float, ...]


def problem(file: Path, line: int | None, what: str, expected: str) -> DataFileProblem:
    """Return the problem with a data file."""
    return DataFileProblem((Finding(what=what, expected=expected, file=file, line=line),))


def text_of(file: Path) -> str:
    """Return a data file's text."""
    if not file.is_file():
        raise problem(
            file, None, "there is no such file", "write its name as it lies beside the plane file"
        )
    if file.stat().st_size > LARGEST:
        raise problem(file, None, "is far too large for such a file", "2 MB at most")
    try:
        return file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise problem(file, None, "is no UTF-8 text", "save it as UTF-8") from error


def numbers(file: Path, line: int, cells: list[str], wanted: str) -> Row:
    """Return cells as finite numbers."""
    try:
        row = tuple(float(cell) for cell in cells)
    except ValueError as error:
        raise problem(file, line, f"'{' '.join(cells)}' is no row of numbers", wanted) from error
    if any(not abs(value) < 1e9 for value in row):
        raise problem(file, line, "a number is not finite", wanted)
    return row


def table_rows(file: Path, columns: tuple[str, ...]) -> Iterator[Row]:
    """Yield the rows of a comma-separated file that has these columns, among others."""
    wanted = "columns " + ", ".join(columns)
    places: list[int] = []
    for number, text in enumerate(text_of(file).splitlines(), start=1):
        cells = [cell.strip() for cell in text.split(",")]
        if not text.strip() or text.lstrip().startswith("#"):
            continue
        if not places:
            missing = [name for name in columns if name not in cells]
            if missing:
                raise problem(file, number, f"no column {', '.join(missing)}", wanted)
            places = [cells.index(name) for name in columns]
            continue
        if len(cells) <= max(places):
            raise problem(file, number, "the row is too short", wanted)
        yield numbers(file, number, [cells[place] for place in places], wanted)


def read_coordinates(file: Path) -> tuple[Row, ...]:
    """Return a section outline: x and y over the chord, from the trailing edge over the top.

    A first line that is no pair of numbers is the section's name.
    """
    wanted = "two numbers a line, x and y over the chord, 0 to 1"
    rows: list[Row] = []
    for number, text in enumerate(text_of(file).splitlines(), start=1):
        cells = text.replace(",", " ").split()
        if not cells:
            continue
        if not rows and (len(cells) != 2 or not is_number(cells[0])):
            continue
        if len(cells) != 2:
            raise problem(file, number, f"'{text.strip()}' is no pair of numbers", wanted)
        rows.append(numbers(file, number, cells, wanted))
    if len(rows) < 10:
        raise problem(file, None, f"holds {len(rows)} points", "ten at least; " + wanted)
    along = [row[0] for row in rows]
    if not (-0.05 <= min(along) <= 0.05 and 0.95 <= max(along) <= 1.05):
        found = f"x runs from {min(along):g} to {max(along):g}"
        raise problem(file, None, found, "from 0 at the leading edge to 1: divide by the chord")
    return from_above(file, rows)


def from_above(file: Path, rows: list[Row]) -> tuple[Row, ...]:
    """Return an outline's points with the upper side first; refuse what is no outline."""
    wanted = "list them from the trailing edge over the top to the nose and back below"
    nose = min(range(len(rows)), key=lambda index: rows[index][0])
    first, second = rows[: nose + 1], rows[nose:]
    if len(first) < 4 or len(second) < 4 or min(rows[0][0], rows[-1][0]) < 0.9:
        raise problem(file, None, "the points do not run around the section", wanted)
    for side in (first[::-1], second):
        turns = next((b for a, b in itertools.pairwise(side) if b[0] < a[0] - TURNING_BACK), None)
        if turns is not None:
            raise problem(file, None, f"the points turn back at x = {turns[0]:g}", wanted)
    gap = mean_height(first) - mean_height(second)
    if abs(gap) < THINNEST:
        raise problem(file, None, "the section has no thickness", wanted)
    return tuple(rows if gap > 0 else rows[::-1])


def mean_height(side: list[Row]) -> float:
    """Return the mean height of one side along the chord."""
    area = sum(0.5 * (a[1] + b[1]) * (b[0] - a[0]) for a, b in itertools.pairwise(side))
    return area / (side[-1][0] - side[0][0])


def is_number(text: str) -> bool:
    """Return whether a text is a number."""
    try:
        float(text)
    except ValueError:
        return False
    return True


def read_blade(file: Path) -> tuple[Row, ...]:
    """Return a blade: r/R, c/R and blade angle in degrees, from the hub out."""
    rows = tuple(table_rows(file, ("r_over_R", "c_over_R", "beta_deg")))
    if len(rows) < 4:
        raise problem(file, None, f"holds {len(rows)} stations", "four at least")
    for before, after in itertools.pairwise(rows):
        if not 0.0 < before[0] < after[0] <= 1.001:
            raise problem(file, None, "r_over_R does not rise from 0 to 1", "order the rows")
    for radius, chord, angle in rows:
        if not (0.0 < chord <= 0.7 and -10.0 <= angle <= 80.0):
            what = f"at r/R = {radius:g} a chord of {chord:g} R at {angle:g} degrees is no blade"
            raise problem(file, None, what, "c_over_R is chord over radius, beta_deg in degrees")
    if rows[-1][0] < 0.9:
        raise problem(file, None, f"ends at r/R = {rows[-1][0]:g}", "measure out to the tip")
    return rows


RIGHT_COEFFICIENTS = "CT = T/(rho n^2 D^4), CP = P/(rho n^3 D^5), n in revolutions a second"


def read_coefficients(file: Path) -> tuple[Row, ...]:
    """Return propeller coefficients: J = V/(n D), CT and CP by revolutions and diameter."""
    rows = tuple(table_rows(file, ("J", "CT", "CP")))
    if len(rows) < 6:
        raise problem(file, None, f"holds {len(rows)} rows", "six at least, from rest on")
    if min(row[0] for row in rows) < 0:
        raise problem(file, None, "J is negative", "J = V/(n D), from 0 on")
    rest = min(rows)
    if rest[0] > 0.3 or len({row[0] for row in rows}) < 4:
        raise problem(file, None, f"begins at J = {rest[0]:g}", "four J at least, from rest on")
    if not (0.01 <= rest[1] <= 0.5 and 0.005 <= rest[2] <= 0.5):
        what = f"CT = {rest[1]:g} and CP = {rest[2]:g} nearly at rest are no propeller's"
        raise problem(file, None, what, RIGHT_COEFFICIENTS)
    if max(rows)[1] >= rest[1]:
        raise problem(file, None, "thrust does not fall as J rises", RIGHT_COEFFICIENTS)
    return rows

"""Files of numbers: taken when right, refused with file and line when not."""

import math
from collections.abc import Callable
from pathlib import Path

import pytest

from foamwright.plane.data_files import read_blade, read_coefficients, read_coordinates
from foamwright.problems import DataFileProblem, Finding


def four_digit_symmetric(thickness: float = 0.12, points: int = 15) -> list[tuple[float, float]]:
    """Return a symmetric four-digit section by its published polynomial (NACA report 460)."""
    upper = []
    for number in range(points):
        x = 0.5 * (1.0 + math.cos(math.pi * number / (points - 1)))
        root = 0.2969 * math.sqrt(x) - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4
        upper.append((x, 5.0 * thickness * root))
    return [*upper, *((x, -y) for x, y in reversed(upper[:-1]))]


def outline(name: str = "symmetric 12\n") -> str:
    """Return a section outline as text."""
    return name + "\n".join(f" {x:.6f}  {y:.6f}" for x, y in four_digit_symmetric())


def refused(reader: Callable[[Path], object], file: Path, text: str) -> Finding:
    """Return what is wrong with a text."""
    file.write_text(text, encoding="utf-8")
    with pytest.raises(DataFileProblem) as caught:
        reader(file)
    (finding,) = caught.value.findings
    assert finding.file == file
    return finding


@pytest.mark.parametrize("name", ["symmetric 12\n", "", "NACA 0012\n\n", "0012\n"])
def test_an_outline_is_read_with_or_without_its_name(tmp_path: Path, name: str) -> None:
    """Thickest point of the 12 % section: 0.060 either side near 30 % of the chord."""
    file = tmp_path / "section.dat"
    file.write_text(outline(name), encoding="utf-8")
    rows = read_coordinates(file)
    assert len(rows) == 29
    assert rows[0][0] == 1.0
    assert max(y for _, y in rows) == pytest.approx(0.06, abs=1e-3)
    assert min(y for _, y in rows) == pytest.approx(-0.06, abs=1e-3)


def test_an_outline_in_millimetres_is_refused(tmp_path: Path) -> None:
    """The chord must be one; it is said from where to where x runs."""
    text = "\n".join(f"{170 * x} {170 * y}" for x, y in four_digit_symmetric())
    finding = refused(read_coordinates, tmp_path / "s.dat", text)
    assert "170" in finding.what
    assert "divide by the chord" in finding.expected


@pytest.mark.parametrize("bad", ["0.5", "0.5 oops", "0.5 nan", "0.1 0.2 0.3"])
def test_a_broken_row_of_an_outline_is_named_by_its_line(tmp_path: Path, bad: str) -> None:
    """The sixth line of the file."""
    lines = outline().split("\n")
    lines[5] = bad
    assert refused(read_coordinates, tmp_path / "s.dat", "\n".join(lines)).line == 6


def test_too_few_points_are_no_outline(tmp_path: Path) -> None:
    """Ten at least."""
    finding = refused(read_coordinates, tmp_path / "s.dat", "name\n1 0\n0 0\n1 0\n")
    assert "3 points" in finding.what


@pytest.mark.parametrize("reader", [read_coordinates, read_blade, read_coefficients])
def test_a_file_that_cannot_be_read_is_one_problem(
    tmp_path: Path, reader: Callable[[Path], object]
) -> None:
    """Missing, empty, not text, far too large."""
    file = tmp_path / "numbers"
    with pytest.raises(DataFileProblem, match="no such file"):
        reader(file)
    assert refused(reader, file, "").what
    file.write_bytes(b"\xff\xfe\x00\x01")
    with pytest.raises(DataFileProblem, match="UTF-8"):
        reader(file)
    with file.open("wb") as out:
        out.truncate(50_000_000)
    with pytest.raises(DataFileProblem, match="too large"):
        reader(file)


BLADE = """\
# measured with a protractor
r_over_R, c_over_R, beta_deg, note
0.20, 0.14, 35.0, hub
0.40, 0.18, 27.0,
0.70, 0.15, 18.0,
1.00, 0.05, 12.0, tip
"""


def test_a_blade_is_read_by_the_names_of_its_columns(tmp_path: Path) -> None:
    """Other columns and comments are passed over."""
    file = tmp_path / "blade.csv"
    file.write_text(BLADE, encoding="utf-8")
    rows = read_blade(file)
    assert rows[2] == (0.70, 0.15, 18.0)
    assert len(rows) == 4


def test_a_blade_out_of_order_or_short_of_a_column_is_refused(tmp_path: Path) -> None:
    """Radii must rise; every column must be there; every row must be whole."""
    file = tmp_path / "blade.csv"
    assert "rise" in refused(read_blade, file, BLADE.replace("0.70,", "0.30,")).what
    missing = refused(read_blade, file, BLADE.replace("beta_deg", "angle"))
    assert (missing.line, missing.what) == (2, "no column beta_deg")
    assert refused(read_blade, file, BLADE.replace("0.40, 0.18, 27.0,", "0.40, 0.18")).line == 4
    assert refused(read_blade, file, BLADE.replace("27.0", "inf")).line == 4


COEFFICIENTS = "J,CT,CP\n0.0,0.12,0.06\n0.1,0.11,0.06\n0.2,0.10,0.06\n0.3,0.09,0.05\n"


def test_coefficients_are_read(tmp_path: Path) -> None:
    """Six rows at least, advance ratio first."""
    file = tmp_path / "propeller.csv"
    file.write_text(COEFFICIENTS + "0.5,0.06,0.04\n0.7,0.02,0.02\n", encoding="utf-8")
    rows = read_coefficients(file)
    assert rows[0] == (0.0, 0.12, 0.06)
    assert len(rows) == 6


def test_bad_coefficients_are_refused(tmp_path: Path) -> None:
    """Too few rows, an advance ratio below zero, a word for a number."""
    file = tmp_path / "propeller.csv"
    assert "4 rows" in refused(read_coefficients, file, COEFFICIENTS).what
    more = COEFFICIENTS + "0.5,0.06,0.04\n-0.7,0.02,0.02\n"
    assert "negative" in refused(read_coefficients, file, more).what
    assert refused(read_coefficients, file, more.replace("-0.7", "fast")).line == 7

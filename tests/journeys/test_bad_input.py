"""What happens to a builder who mistypes: one clear problem with file, line and key each time."""

from pathlib import Path

import pytest

from foamwright.plane.document import load
from foamwright.problems import Finding, PlaneFileProblem

PLANE = """\
name = "Mudlark"
layout = "plank"

[airframe]
foam = "EPP"
bare_mass = "80 g"

[[airframe.surfaces]]
name = "wing"
role = "wing"

[[airframe.surfaces.stations]]
y = "0 mm"
leading_edge = "60 mm"
chord = "170 mm"
thickness = "9 %"

[[airframe.surfaces.stations]]
y = "300 mm"
leading_edge = "80 mm"
chord = "170 mm"

[[items]]
name = "motor"
stock = "motor 1806 2300"
at = { x = "20 mm" }

[[items]]
name = "pack"
kind = "pack"
cells = 3
capacity = "650 mAh"
mass = "57 g"
at = { x = "45 mm" }
"""


GIVES = "15.2 g/dm²"
"""80 g of foam, 18 g of motor and 57 g of pack on 10.2 dm2."""


def told(folder: Path, text: str) -> tuple[Finding, ...]:
    """Return everything that is wrong with a text; each finding names the file."""
    file = folder / "plane.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(PlaneFileProblem) as caught:
        load(folder)
    assert all(finding.file == file for finding in caught.value.findings)
    return caught.value.findings


def test_the_plane_itself_is_good(tmp_path: Path) -> None:
    """So that every fault below is the only one."""
    (tmp_path / "plane.toml").write_text(PLANE, encoding="utf-8")
    assert load(tmp_path).plane.name == "Mudlark"


@pytest.mark.parametrize(
    ("change", "key", "hint"),
    [
        pytest.param(
            ('bare_mass = "80 g"', 'bare_mass = "80 mm"'),
            "airframe.bare_mass",
            "71 g",
            id="wrong unit",
        ),
        pytest.param(
            ('bare_mass = "80 g"', 'bare_mass = "80"'),
            "airframe.bare_mass",
            "80 g",
            id="no unit",
        ),
        pytest.param(
            ('bare_mass = "80 g"', "bare_mass = 80"),
            "airframe.bare_mass",
            "80 g",
            id="bare number",
        ),
        pytest.param(
            ('bare_mass = "80 g"', "bare_mass = nan"),
            "airframe.bare_mass",
            "71 g",
            id="not a number",
        ),
        pytest.param(
            ('bare_mass = "80 g"', 'bare_mass = "nan g"'),
            "airframe.bare_mass",
            "71 g",
            id="not a number, with a unit",
        ),
        pytest.param(
            ('mass = "57 g"', 'mass = "-57 g"'),
            "items.pack.mass",
            "negative",
            id="negative mass",
        ),
        pytest.param(
            ('mass = "57 g"', 'mass = "30 g"'),
            "items.pack.mass",
            "56.5 g",
            id="lighter than its label",
        ),
        pytest.param(
            ('bare_mass = "80 g"', 'bare_mas = "80 g"'),
            "airframe.bare_mas",
            "bare_mass",
            id="unknown key",
        ),
        pytest.param(
            ('stock = "motor 1806 2300"', 'stock = "motor 1806 fast"'),
            "items.motor.stock",
            "motor 1806",
            id="unknown stock name",
        ),
        pytest.param(
            ('stock = "motor 1806 2300"', 'stock = "motor 1806 2300"\nkvv = "2250 rpm/V"'),
            "items.motor.kvv",
            "did you mean kv?",
            id="unknown key of an item whose kind the stock tells",
        ),
        pytest.param(
            ('capacity = "650 mAh"', 'capacity = "65000 mAh"'),
            "items.pack.capacity",
            "check the unit",
            id="a hundred times too much",
        ),
        pytest.param(
            ('kind = "pack"', 'kind = "packet"'),
            "items.pack.kind",
            "pack",
            id="unknown kind",
        ),
        pytest.param(
            ('y = "300 mm"', 'y = "0 mm"'),
            "airframe.surfaces.wing.stations.1.y",
            "root to tip",
            id="stations out of order",
        ),
        pytest.param(
            ('at = { x = "45 mm" }', 'at = { x = "4.5 m" }'),
            "items.pack.at.x",
            "m",
            id="far outside the plane",
        ),
        pytest.param(
            ('bare_mass = "80 g"', 'bare_mass = "80 g"\nbare_balance = { x = "300 mm" }'),
            "airframe.bare_balance.x",
            "60.0 mm to 250 mm",
            id="impossible balance",
        ),
        pytest.param(
            ('name = "motor"', 'name = "pack"'),
            "items.pack.name",
            "its own name",
            id="two of one name",
        ),
        pytest.param(
            ('role = "wing"', 'role = "wing"\ncoordinates = "missing.dat"'),
            "airframe.surfaces.wing.coordinates",
            "missing.dat",
            id="missing coordinates",
        ),
        pytest.param(
            ('layout = "plank"', 'layout = "blank"'),
            "layout",
            "plank",
            id="unknown layout",
        ),
    ],
)
def test_one_slip_is_one_finding_with_line_and_key(
    tmp_path: Path, change: tuple[str, str], key: str, hint: str
) -> None:
    """The line is that of the slip; what would be right is in the sentence."""
    old, new = change
    assert PLANE.count(old) == 1
    text = PLANE.replace(old, new)
    (finding,) = told(tmp_path, text)
    assert finding.key == key
    assert hint in finding.sentence()
    last = new.rsplit("\n", maxsplit=1)[-1]
    here = [number for number, line in enumerate(text.split("\n"), start=1) if line == last]
    assert finding.line in here


def test_centimetres_are_refused_with_what_was_meant(tmp_path: Path) -> None:
    """17 by 60 in mm fields: never converted silently; 170 and 600 mm are proposed."""
    text = PLANE.replace('"170 mm"', '"17 mm"').replace('"300 mm"', '"30 mm"')
    (finding,) = told(tmp_path, text)
    assert "170 mm? 600 mm?" in finding.expected
    assert GIVES in finding.expected
    assert finding.key == "airframe.surfaces.wing.stations"
    assert finding.line is not None


def test_all_slips_are_told_at_once(tmp_path: Path) -> None:
    """Three slips, three lines; nobody has to run it three times."""
    text = PLANE.replace('"80 g"', '"80"').replace('"650 mAh"', '"650 mm"')
    found = told(tmp_path, text.replace('leading_edge = "80 mm"', 'leading_edge = "80 g"'))
    assert [finding.line for finding in sorted(found, key=lambda f: f.line or 0)] == [6, 20, 32]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('name = "Mudlark\n', 1),
        ("name = Mudlark\n", 1),
        (PLANE.replace('foam = "EPP"', 'foam "EPP"'), 5),
        (PLANE + 'name = "again"\n', 35),
        ("a = [1,\n2", 2),
    ],
)
def test_what_is_not_toml_is_told_with_its_line(tmp_path: Path, text: str, line: int) -> None:
    """Where the parser stumbled."""
    (finding,) = told(tmp_path, text)
    assert "not TOML" in finding.what
    assert finding.line == line


def test_files_that_are_no_text_are_one_problem(tmp_path: Path) -> None:
    """Missing, empty, a picture, 50 MB of nothing, brackets without end."""
    file = tmp_path / "plane.toml"
    with pytest.raises(PlaneFileProblem, match=r"no plane\.toml"):
        load(tmp_path)
    with pytest.raises(PlaneFileProblem, match="no such file"):
        load(file)
    assert {finding.key for finding in told(tmp_path, "")} == {"name", "layout", "airframe"}
    file.write_bytes(b"\x89PNG\r\n\x1a\n\x00\xff")
    with pytest.raises(PlaneFileProblem, match="UTF-8"):
        load(file)
    with file.open("wb") as out:
        out.truncate(50_000_000)
    with pytest.raises(PlaneFileProblem, match="50 MB"):
        load(file)
    (finding,) = told(tmp_path, "a = " + "[" * 100_000)
    assert finding.what


@pytest.mark.parametrize(
    "text",
    [
        "items = 3\n" + PLANE.replace("[[items]]", "[[things]]"),
        PLANE.replace("[[items]]", "[[airframe.items]]"),
        PLANE + "[[items]]\n",
        "variants = 3\n" + PLANE,
        PLANE.replace("[airframe]", "[[airframe]]"),
        PLANE.replace('name = "motor"', "name = 1979-05-27"),
        PLANE.replace("cells = 3", 'cells = "3"'),
        PLANE.replace("cells = 3", "cells = true"),
    ],
)
def test_wrong_shapes_are_findings_not_crashes(tmp_path: Path, text: str) -> None:
    """Tables for lists, numbers for tables, dates for names: told, with a key."""
    assert all(finding.key for finding in told(tmp_path, text))

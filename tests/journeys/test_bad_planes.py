"""A plane file with a slip in it, asked about on the command line.

Whatever the slip: exit code 2, nothing on standard output, a line on standard error for each
finding with file, line and key, nothing written, no sign that acts on the terminal.
"""

import json
import tempfile
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.cli.main import main
from foamwright.plane.document import load
from foamwright.problems import Problem

EXAMPLES = Path(__file__).parents[2] / "examples"
REEDLING = (EXAMPLES / "reedling" / "plane.toml").read_text(encoding="utf-8")
WINDROW = (EXAMPLES / "windrow" / "plane.toml").read_text(encoding="utf-8")

Change = tuple[str, str]


def run(folder: Path, *options: str) -> Result:
    """Return how asking about a folder ends."""
    return CliRunner().invoke(main, ["ask", str(folder), *options], prog_name="foamwright")


def refused(folder: Path, *options: str) -> list[str]:
    """Return the lines of a refusal, and see that it was one."""
    before = {path: path.stat().st_mtime_ns for path in folder.rglob("*")}
    result = run(folder, *options)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "Traceback" not in result.stderr
    assert {path: path.stat().st_mtime_ns for path in folder.rglob("*")} == before
    assert all(sign == "\n" or ord(sign) >= 32 for sign in result.stderr)
    lines = result.stderr.strip().splitlines()
    assert lines
    assert all(len(line) < 2000 for line in lines)
    return lines


def changed(text: str, *changes: Change) -> str:
    """Return a plane file with slips in it."""
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


def written(folder: Path, text: str) -> Path:
    """Return a folder with that plane file."""
    (folder / "plane.toml").write_text(text, encoding="utf-8")
    return folder


SLIPS: tuple[tuple[Change, tuple[str, ...]], ...] = (
    (('"112 ± 1 g"', '"112 mm"'), ("airframe.bare_mass", "'mm' measures something else", "71 g")),
    (('"112 ± 1 g"', '"112 grm"'), ("airframe.bare_mass", "unknown unit 'grm'")),
    (('"112 ± 1 g"', '"112"'), ("airframe.bare_mass", "has no unit", '"112 g"?')),
    (('"112 ± 1 g"', "112"), ("airframe.bare_mass", "has no unit", '"112 g"?')),
    (('"112 ± 1 g"', "112 g"), ("is not TOML", "in quotes")),
    (('"112 ± 1 g"', "nan"), ("airframe.bare_mass", "nan is no quantity")),
    (('"112 ± 1 g"', '"nan g"'), ("airframe.bare_mass", "no number with a unit")),
    (('"112 ± 1 g"', '"1e999 g"'), ("airframe.bare_mass", "no finite number")),
    (('"112 ± 1 g"', '"-112 g"'), ("airframe.bare_mass", "is negative")),
    (('"112 ± 1 g"', '"112 ± -1 g"'), ("airframe.bare_mass", "negative spread")),
    (('"112 ± 1 g"', '"112,5 g"'), ("airframe.bare_mass", '"112.5 g"')),
    (('"112 ± 1 g"', '"112 kg"'), ("airframe.bare_mass", '"112 g"')),
    (('"112 ± 1 g"', f'"112 {"g " * 100_000}"'), ("airframe.bare_mass", "far too long")),
    (('"112 ± 1 g"', f'"112 a{" " * 100_000}x"'), ("airframe.bare_mass", "far too long")),
    (('"motor 1806 2300"', '"motor 1806 2301x"'), ("motor.stock", "nearest: motor 1806 2300")),
    (('"motor 1806 2300"', '"servo 5 g"'), ("items.motor.stock", "no motor 'servo 5 g'")),
    (('y = "400 mm"', 'y = "0 mm"'), ("wing.stations.1.y", "from root to tip")),
    (('x = "305 ± 2 mm"', 'x = "905 mm"'), ("bare_balance.x", "0 mm to 695 mm")),
    (('"41 ± 1 g"', '"14 g"'), ("items.pack.mass", "too light for 3S 450 mAh")),
    (('dihedral = "4 deg"', 'coordinates = "no.dat"'), ("wing.coordinates", "no such file")),
    (('dihedral = "4 deg"', 'coordinates = "/etc/hosts"'), ("wing.coordinates", "beside")),
    (('dihedral = "4 deg"', 'coordinates = "../x.dat"'), ("wing.coordinates", "beside")),
    (('finish = "taped"', 'finnish = "taped"'), ("airframe.finnish", "did you mean finish?")),
    (('protrudes = "12 mm"', 'protudes = "12 mm"'), ("camera.protudes", "protrudes?")),
    (('name = "GPS"', 'name = "camera"'), ("items.camera.name", "two items are called 'camera'")),
    (('name = "tail"', 'name = "wing"'), ("surfaces.wing.name", "another surface")),
    (("count = 2", f"count = 1{'0' * 20}"), ("servos.count", "50 at most")),
    (("count = 2", f"count = 1{'0' * 5000}"), ("is not TOML", "4300 digits")),
    (('name = "camera"', r'name = "cam\nera"'), (r"items.cam\nera.name", "type it on one line")),
    (('name = "camera"', r'name = "\u001b[31mcam"'), (r"items.\x1b[31mcam.name", "line")),
    (('"112 ± 1 g"', r'"112 \u001b[2Jg"'), ("airframe.bare_mass", r"\x1b[2Jg")),
    (('finish = "taped"', r'"\u001b[2J" = 1'), (r"airframe.\x1b[2J", "no key")),
    (('"tail aft"', '"tail-aft"'), ("layout", "did you mean tail aft?")),
    (('kind = "camera"', 'kind = "kamera"'), ("items.camera.kind", "did you mean camera?")),
    (('[variants."two cells"]', "[variants]\nx = 3\n[other]"), ("variants.x", "header such as")),
)


@pytest.mark.parametrize(("change", "says"), SLIPS, ids=[says[0] for _, says in SLIPS])
def test_a_slip_is_told_in_one_message(
    tmp_path: Path, change: Change, says: tuple[str, ...]
) -> None:
    """What is wrong and what would be right are in one of the lines; all name the file."""
    lines = refused(written(tmp_path, changed(REEDLING, change)))
    assert all(line.startswith(str(tmp_path / "plane.toml")) for line in lines)
    assert any(all(text in line for text in says) for line in lines)


def test_all_slips_of_a_file_are_told_at_once(tmp_path: Path) -> None:
    """Four slips in four tables, four lines, each with its number in the file."""
    text = changed(
        REEDLING,
        ('"112 ± 1 g"', '"112"'),
        ('finish = "taped"', 'finnish = "taped"'),
        ('dihedral = "4 deg"', 'dihedral = "4 g"'),
        ('stock = "esc 20 A"', 'stock = "esc"'),
    )
    lines = refused(written(tmp_path, text))
    assert len(lines) == 4
    rows = text.splitlines()
    for slip in ('"112"', "finnish", '"4 g"', 'stock = "esc"'):
        number = next(n for n, row in enumerate(rows, 1) if slip in row)
        assert any(f"plane.toml, line {number}: " in line for line in lines)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "layout: is missing"),
        (b"hello world\n", "line 1: is not TOML"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\xff\xfe", "UTF-8"),
        (b"\x00" * 1000, "is not TOML"),
        (b"a = " + b"[" * 50_000 + b"]" * 50_000, "without end"),
        (b"a." * 30_000 + b"a = 1", "without end"),
        (REEDLING.encode("utf-16"), "UTF-8"),
    ],
    ids=["empty", "prose", "photograph", "zeros", "brackets", "dots", "UTF-16"],
)
def test_a_file_that_is_no_plane_is_told(tmp_path: Path, content: bytes, says: str) -> None:
    """Whatever lies there under that name."""
    (tmp_path / "plane.toml").write_bytes(content)
    assert any(says in line for line in refused(tmp_path))


def test_a_file_of_fifty_megabytes_is_not_read(tmp_path: Path) -> None:
    """One line, at once."""
    with (tmp_path / "plane.toml").open("wb") as out:
        out.truncate(50_000_000)
    (line,) = refused(tmp_path)
    assert "50 MB" in line


def test_a_folder_without_a_plane_is_told_what_makes_one(tmp_path: Path) -> None:
    """The command that makes one is named."""
    (line,) = refused(tmp_path)
    assert "there is no plane.toml" in line
    assert "foamwright new" in line


def test_an_unknown_variant_is_told_with_those_there_are(tmp_path: Path) -> None:
    """Both variants of the glider by name."""
    (line,) = refused(written(tmp_path, REEDLING), "--variant", "three cells")
    assert "'two cells', 'no GPS'" in line
    assert refused(tmp_path, "--variant", "\x1b[2J")


def test_a_broken_stock_of_ones_own_is_told(tmp_path: Path) -> None:
    """The stock file is named, not the plane file."""
    written(tmp_path, REEDLING)
    (tmp_path / "stock.toml").write_text('[[entry]]\nname = "x"\n', encoding="utf-8")
    (line,) = refused(tmp_path)
    assert "stock.toml, line 1" in line
    assert "has no kind" in line
    (tmp_path / "stock.toml").write_bytes(b"\xff\xfe")
    assert "stock.toml" in refused(tmp_path)[0]


def test_a_slip_in_ones_own_stock_says_where_it_came_from(tmp_path: Path) -> None:
    """The plane file does not hold the wrong mass; the entry's name is told."""
    written(tmp_path, changed(REEDLING, ('stock = "esc 20 A"\nmass = "9 ± 1 g"', 'stock = "mine"')))
    entry = '[[entry]]\nname = "mine"\nkind = "esc"\nmass = "9"\n'
    (tmp_path / "stock.toml").write_text(entry, encoding="utf-8")
    (line,) = refused(tmp_path)
    assert "items.ESC.mass" in line
    assert "from the stock: 'mine'" in line


KEYSTROKES = tuple("\x00\x1b\"'[]{}=.,#\n 0-9eé±")
VALUES = ('"0 mm"', '"-5 mm"', '"0 g"', '"50 %"', "0", "-1", "true", '"x"', "[]", "{}", "nan")


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_any_slip_of_the_hand_is_a_plane_or_a_problem(data: st.DataObject) -> None:
    """Keys struck at random, values swapped, lines lost or doubled: never an error of our own."""
    text = data.draw(st.sampled_from([REEDLING, WINDROW]))
    for _ in range(data.draw(st.integers(1, 3))):
        rows = text.split("\n")
        place = data.draw(st.integers(0, len(rows) - 1))
        kind = data.draw(st.sampled_from(["lost", "doubled", "struck", "swapped"]))
        if kind == "lost":
            del rows[place]
        elif kind == "doubled":
            rows.insert(data.draw(st.integers(0, len(rows) - 1)), rows[place])
        elif kind == "struck":
            cut = data.draw(st.integers(0, len(rows[place])))
            rows[place] = rows[place][:cut] + data.draw(st.sampled_from(KEYSTROKES))
        else:
            key, equals, _ = rows[place].partition(" = ")
            rows[place] = key + (equals and equals + data.draw(st.sampled_from(VALUES)))
        text = "\n".join(rows)
    with tempfile.TemporaryDirectory() as folder:
        told = ""
        try:
            assert load(written(Path(folder), text)).plane.name
        except Problem as problem:
            told = str(problem)
            assert told
    assert all(sign == "\n" or ord(sign) >= 32 for sign in told)


def test_names_that_look_like_markup_are_only_names(tmp_path: Path) -> None:
    """Square brackets are letters: the page shows them as written."""
    text = changed(REEDLING, ('name = "Reedling"', 'name = "[red]Reed[/x]"'))
    text = changed(text, ('name = "camera"', 'name = "[bold]camera[/nope]"'))
    result = run(written(tmp_path, text), "--samples", "32")
    assert result.exit_code == 0, result.stderr
    assert "[red]Reed[/x]" in result.stdout


def test_centimetres_in_millimetre_fields_are_refused_not_converted(tmp_path: Path) -> None:
    """A plank of 170 x 600 mm entered as 17 and 60: the sizes meant and 18.1 g/dm2 are offered.

    Computed by hand: 185 g on 10.2 dm2, the pack's 57 g from its label among them.
    """
    text = changed(WINDROW, ('chord = "170 mm"', 'chord = "17 mm"'))
    (line,) = refused(written(tmp_path, changed(text, ('y = "300 mm"', 'y = "30 mm"'))))
    assert "airframe.surfaces.wing.stations" in line
    for meant in ("170 mm", "600 mm", "18.1 g/dm²", "cm"):
        assert meant in line


def test_ounces_in_a_gram_field_are_refused_not_converted(tmp_path: Path) -> None:
    """46 g of foam entered as 1.62: 45.9 g and the loading with it are offered.

    Computed by hand: 82 g of gear, 57 g of pack and 45.9 g are 184.9 g on 10.2 dm2.
    """
    (line,) = refused(written(tmp_path, changed(WINDROW, ('"46 ± 1 g"', '"1.62 g"'))))
    assert "airframe.bare_mass" in line
    for meant in ("45.9 g", "ounces", "185 g", "18.1 g/dm²"):
        assert meant in line


def test_an_unweighed_pack_is_estimated_and_asked_for(tmp_path: Path) -> None:
    """Described only as 3S 650 mAh it counts 50 to 63 g, not nothing; one weighing is asked for.

    Bare equipment and foam are 128 g, so all up 178 to 191 g.
    """
    result = run(written(tmp_path, WINDROW), "weight", "balance", "--json", "--samples", "256")
    assert result.exit_code == 0, result.stderr
    weight, balance = json.loads(result.stdout)["answers"]
    mass = next(f for f in weight["figures"] if f["name"] == "all_up_mass")
    assert 0.178 <= mass["value"] <= 0.191
    assert any("pack" in text for text in [*weight["assumed"], *balance["assumed"]])
    margin = next(f for f in balance["figures"] if f["name"] == "static_margin")
    # With a weightless pack the plane would come out at -13 % of the chord.
    assert 0.04 < margin["value"] < 0.16

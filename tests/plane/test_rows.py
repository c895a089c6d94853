"""Lists of small tables in a plane file: changed in place, remarks kept."""

import tomllib
from pathlib import Path

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from foamwright.plane.document import load
from foamwright.plane.keeping import keep
from foamwright.plane.rows import are_rows, laid_out, relisted
from foamwright.problems import PlaneFileProblem

EXAMPLES = Path(__file__).parent.parent.parent / "examples"

TEXT = """# above
stations = [
  # the root, measured twice
  { y = "0 mm", chord = "150 mm", twist = "1 deg" },  # with a caliper
  { y = "400 mm", chord = "110 mm" },
  # nothing beyond
]
"""

ROWS: list[dict[str, object]] = [
    {"y": "0 mm", "chord": "148.2 ± 1 mm"},
    {"y": "240 mm", "chord": "130 mm"},
    {"y": "398 mm", "chord": "111 mm", "camber": "2 %"},
]


@pytest.mark.parametrize("count", [1, 2, 3])
def test_a_list_is_changed_in_place(count: int) -> None:
    """As many rows as wanted, every key as wanted, and every remark where it was."""
    document = tomlkit.parse(TEXT)
    stations = document["stations"]
    assert isinstance(stations, list)
    relisted(stations, ROWS[:count])
    text = tomlkit.dumps(document)
    assert tomllib.loads(text)["stations"] == ROWS[:count]
    for remark in ("# above", "# the root, measured twice", "# with a caliper"):
        assert remark in text


def test_what_is_the_same_is_left_as_it_is_written() -> None:
    """Nothing changed: not a letter."""
    document = tomlkit.parse(TEXT)
    stations = document["stations"]
    assert isinstance(stations, list)
    relisted(stations, tomllib.loads(TEXT)["stations"])
    assert tomlkit.dumps(document) == TEXT


def test_tables_written_one_by_one_stay_so() -> None:
    """`[[stations]]` headers are as good a way to write a list."""
    document = tomlkit.parse('[[stations]]\ny = "0 mm" # root\n\n[[stations]]\ny = "400 mm"\n')
    stations = document["stations"]
    assert isinstance(stations, list)
    relisted(stations, ROWS)
    text = tomlkit.dumps(document)
    assert tomllib.loads(text)["stations"] == ROWS
    assert text.count("[[stations]]") == 3
    assert "# root" in text


VALUES = st.one_of(st.booleans(), st.integers(-5, 5), st.text(max_size=8))
NAMES = st.text("abcdefgh_", min_size=1, max_size=4)


@given(
    rows=st.lists(st.dictionaries(NAMES, VALUES, min_size=1, max_size=4), min_size=1, max_size=4)
)
def test_any_rows_are_read_back(rows: list[dict[str, object]]) -> None:
    """Quotes, backslashes and line ends in a text included; one line for each row."""
    document = tomlkit.document()
    document["rows"] = laid_out(rows)
    text = tomlkit.dumps(document)
    assert tomllib.loads(text)["rows"] == rows
    assert len(text.strip().split("\n")) == len(rows) + 2


@pytest.mark.parametrize("value", ["text", [], [1, 2], [{"a": 1}, 2], {"a": 1}, None])
def test_other_values_are_no_rows(value: object) -> None:
    """They are written as they always were."""
    assert not are_rows(value)
    assert laid_out(value) == value


WING = [
    {"y": "0 mm", "leading_edge": "204.1 ± 1.2 mm", "chord": "151 ± 1 mm", "thickness": "12 mm"},
    {"y": "230 ± 1 mm", "leading_edge": "213 ± 1.2 mm", "chord": "132 ± 1 mm"},
    {"y": "402 ± 1 mm", "leading_edge": "224 ± 1.2 mm", "chord": "111 ± 1 mm"},
]


@pytest.mark.parametrize("variant", [None, "two cells"])
def test_stations_are_kept_in_the_plane_or_in_a_variant(
    tmp_path: Path, variant: str | None
) -> None:
    """All other lines stay; the other one does not change."""
    file = tmp_path / "plane.toml"
    before = (EXAMPLES / "reedling" / "plane.toml").read_text(encoding="utf-8")
    file.write_text(before, encoding="utf-8")
    keep(load(file, variant), {"airframe.surfaces.wing.stations": WING}, variant)
    stations = load(file, variant).plane.airframe.surfaces[0].stations
    assert [s.chord.text for s in stations] == [row["chord"] for row in WING]
    other = load(file, None if variant else "two cells").plane.airframe.surfaces[0].stations
    assert len(other) == (2 if variant else 3)
    text = file.read_text(encoding="utf-8")
    lost = [line for line in before.splitlines() if line not in text.splitlines()]
    assert len(lost) == (0 if variant else 2)
    assert "[[airframe.surfaces.stations]]" not in text


def test_a_new_surface_is_added_whole(tmp_path: Path) -> None:
    """With its stations one to a line."""
    file = tmp_path / "plane.toml"
    file.write_text(
        (EXAMPLES / "anvil" / "plane.toml").read_text(encoding="utf-8"), encoding="utf-8"
    )
    keep(load(file), {"airframe.surfaces.front": {"role": "canard", "stations": WING}})
    front = load(file).plane.airframe.surfaces[-1]
    assert (front.name, front.role, len(front.stations)) == ("front", "canard", 3)
    assert '\n  { y = "230 ± 1 mm",' in file.read_text(encoding="utf-8")


def test_stations_that_are_none_leave_the_file_alone(tmp_path: Path) -> None:
    """Tip before root: refused with the line, nothing written."""
    file = tmp_path / "plane.toml"
    before = (EXAMPLES / "reedling" / "plane.toml").read_text(encoding="utf-8")
    file.write_text(before, encoding="utf-8")
    with pytest.raises(PlaneFileProblem, match="root to tip"):
        keep(load(file), {"airframe.surfaces.wing.stations": WING[::-1]})
    assert file.read_text(encoding="utf-8") == before

"""Keeping changes: comments stay, entries come and go, variants are added, nothing half-written."""

import shutil
import tomllib
from pathlib import Path

import pytest

from foamwright.plane.document import load
from foamwright.plane.keeping import keep
from foamwright.problems import CallProblem, PlaneFileProblem, WriteProblem

EXAMPLES = Path(__file__).parent.parent.parent / "examples"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a copy of an example plane."""
    return Path(shutil.copytree(EXAMPLES / "windrow", tmp_path / "windrow"))


def text(folder: Path) -> str:
    """Return the plane file."""
    return (folder / "plane.toml").read_text(encoding="utf-8")


def comments(written: str) -> list[str]:
    """Return every remark of a file."""
    return [line[line.index("#") :] for line in written.splitlines() if "#" in line]


def test_a_value_changes_and_remarks_stay(folder: Path) -> None:
    """One key of the plane is written; every remark is where it was."""
    before = text(folder)
    keep(load(folder), {"airframe.bare_mass": "155 ± 2 g"})
    assert load(folder).plane.airframe.bare_mass is not None
    assert tomllib.loads(text(folder))["airframe"]["bare_mass"] == "155 ± 2 g"
    assert comments(text(folder)) == comments(before)


def test_an_entry_comes_and_goes(folder: Path) -> None:
    """A whole part is added under its name, and taken out by the same name."""
    count = len(load(folder).plane.items)
    entry = {"kind": "ballast", "mass": "10 ± 0.5 g", "at": {"x": "15 mm"}}
    keep(load(folder), {"items.lead": entry})
    items = load(folder).plane.items
    assert len(items) == count + 1
    assert items[-1].name == "lead"
    keep(load(folder), {"items.lead": None})
    assert len(load(folder).plane.items) == count


def test_an_entry_that_is_there_is_not_added_again(folder: Path) -> None:
    """Two parts of one name would be one too many."""
    before = text(folder)
    name = load(folder).plane.items[0].name
    with pytest.raises(CallProblem, match="another name"):
        keep(load(folder), {f"items.{name}": {"kind": "ballast", "mass": "1 g"}})
    assert text(folder) == before


def test_a_variant_is_added_with_whole_keys(folder: Path) -> None:
    """A new variant holds its dotted keys, reads back, and takes entries away where told."""
    plane = load(folder).plane
    name = plane.items[-1].name
    keep(load(folder), {"airframe.bare_mass": "140 g", f"items.{name}": None}, "bare")
    found = load(folder, "bare")
    assert "bare" in found.variants
    assert name not in [item.name for item in found.plane.items]
    assert name in [item.name for item in load(folder).plane.items]


def test_a_variant_grows_key_by_key(folder: Path) -> None:
    """A second change of the same variant leaves the first where it is."""
    keep(load(folder), {"airframe.bare_mass": "140 g"}, "light")
    keep(load(folder), {"site.wind": "1 m/s"}, "light")
    table = tomllib.loads(text(folder))["variants"]["light"]
    assert table == {"airframe.bare_mass": "140 g", "site.wind": "1 m/s"}


@pytest.mark.parametrize("variant", [None, "odd"])
def test_what_is_no_plane_is_not_written(folder: Path, variant: str | None) -> None:
    """A change that makes it no plane leaves the file as it was, in a variant too."""
    before = text(folder)
    with pytest.raises(PlaneFileProblem):
        keep(load(folder), {"airframe.bare_mass": "140"}, variant)
    assert text(folder) == before
    assert [p.name for p in folder.iterdir() if p.name.startswith(".")] == []


@pytest.mark.parametrize("name", ["", "  ", "a\tb", "n" * 61])
def test_a_variant_wants_a_name(folder: Path, name: str) -> None:
    """A name that cannot be read is refused."""
    before = text(folder)
    with pytest.raises(PlaneFileProblem, match="no name for a variant"):
        keep(load(folder), {"site.wind": "1 m/s"}, name)
    assert text(folder) == before


def test_a_file_changed_meanwhile_wins(folder: Path) -> None:
    """Somebody else's change is not written over."""
    loaded = load(folder)
    (folder / "plane.toml").write_text(text(folder) + "\n# mine\n", encoding="utf-8")
    with pytest.raises(WriteProblem, match="changed since"):
        keep(loaded, {"site.wind": "1 m/s"})
    assert text(folder).endswith("# mine\n")


def test_a_first_variant_makes_its_table(folder: Path) -> None:
    """A plane without variants gets them."""
    start = text(folder).partition("[variants")[0]
    (folder / "plane.toml").write_text(start, encoding="utf-8")
    assert load(folder).variants == ()
    keep(load(folder), {"site.wind": "1 m/s"}, "still air")
    assert load(folder).variants == ("still air",)
    assert text(folder).startswith(start.rstrip())

"""Plane files read, and rewritten with comments kept."""

import hashlib
from collections.abc import Callable
from pathlib import Path

import pytest

from foamwright.plane.document import LoadedPlane, load, save
from foamwright.problems import CallProblem, PlaneFileProblem, WriteProblem

Loading = Callable[[str], LoadedPlane]


def test_a_folder_and_its_file_are_the_same_plane(loading: Loading, text: str) -> None:
    """Either may be named; both know where they came from."""
    by_folder = loading(text)
    by_file = load(by_folder.file)
    assert by_folder.plane == by_file.plane
    assert by_folder.file == by_folder.folder / "plane.toml"
    assert by_folder.plane.name == "plank"
    assert by_folder.digest == hashlib.sha256(text.encode()).hexdigest()


def test_what_came_from_the_stock_is_marked(loading: Loading, text: str) -> None:
    """A pack's mass follows from its label: 4 + 3 (0.6 + 26 x 0.65) = 56.5 g."""
    servos, pack, ballast = loading(text).plane.items
    assert pack.mass is not None
    assert pack.mass.value * 1e3 == pytest.approx(56.5, abs=0.6)
    assert "mass" in pack.from_stock
    assert "capacity" not in pack.from_stock
    assert servos.mass is not None
    assert servos.mass.text == "5 g"
    assert ballast.from_stock == ()


def test_the_raw_plane_is_without_stock_and_variants(loading: Loading, text: str) -> None:
    """It is what the builder wrote, so that changes can be merged anew."""
    raw = loading(text).raw
    assert "variants" not in raw
    assert isinstance(raw["items"], list)
    assert "mass" not in raw["items"][1]


def test_a_stock_of_the_users_own_is_merged(tmp_path: Path, text: str) -> None:
    """A file stock.toml beside the plane adds entries."""
    (tmp_path / "stock.toml").write_text(
        '[[entry]]\nname = "barn servo"\nkind = "servo"\nmass = "7 g"\n', encoding="utf-8"
    )
    named = text.replace('kind = "servo"\nmass = "5 g"', 'stock = "barn servo"')
    (tmp_path / "plane.toml").write_text(named, encoding="utf-8")
    servos = load(tmp_path).plane.items[0]
    assert servos.kind == "servo"
    assert servos.mass is not None
    assert servos.mass.text == "7 g"
    assert servos.from_stock == ("mass",)


def test_a_save_keeps_comments_and_everything_else(loading: Loading, text: str) -> None:
    """Only the changed line differs."""
    loaded = loading(text)
    save(loaded, {"airframe.bare_mass": "48 g", "items.nose ballast.at.x": "12 mm"})
    now = loaded.file.read_text(encoding="utf-8")
    assert "# A plank of 600 mm." in now
    pairs = zip(text.split("\n"), now.split("\n"), strict=True)
    changed = [after for before, after in pairs if before != after]
    assert changed == ['bare_mass = "48 g"', 'at = { x = "12 mm", z = "2 mm" }']
    mass = load(loaded.file).plane.airframe.bare_mass
    assert mass is not None
    assert mass.value == pytest.approx(0.048)


def test_a_save_adds_and_takes_away_keys(loading: Loading, text: str) -> None:
    """None takes a key away; a key that was not there is added, its table with it."""
    loaded = loading(text)
    save(loaded, {"items.pack.reach": None, "items.pack.mass": "60 g", "site.wind": "3 m/s"})
    again = load(loaded.file).plane
    assert again.items[1].reach is None
    assert again.items[1].mass is not None
    assert again.items[1].from_stock == ()
    assert again.site.wind is not None
    assert "# one each side" in loaded.file.read_text(encoding="utf-8")


def test_windows_line_ends_survive_a_save(tmp_path: Path, text: str) -> None:
    """No line changes its end but those that change."""
    file = tmp_path / "plane.toml"
    file.write_bytes(text.replace("\n", "\r\n").encode())
    save(load(file), {"airframe.bare_mass": "48 g"})
    written = file.read_bytes()
    assert written.count(b"\r\n") == text.count("\n")
    assert written.count(b"\n") == written.count(b"\r\n")


def test_a_file_changed_meanwhile_is_not_overwritten(loading: Loading, text: str) -> None:
    """The other change stays."""
    loaded = loading(text)
    loaded.file.write_text(text + "# mine\n", encoding="utf-8")
    with pytest.raises(WriteProblem, match="changed since"):
        save(loaded, {"airframe.bare_mass": "48 g"})
    assert loaded.file.read_text(encoding="utf-8") == text + "# mine\n"


def test_a_save_that_would_break_the_plane_writes_nothing(loading: Loading, text: str) -> None:
    """Neither a bad value nor a key that leads nowhere leaves a trace, not even a spare file."""
    loaded = loading(text)
    with pytest.raises(PlaneFileProblem):
        save(loaded, {"airframe.bare_mass": "48"})
    with pytest.raises(PlaneFileProblem):
        save(loaded, {"items.nobody.mass": "48 g"})
    with pytest.raises(CallProblem):
        save(loaded, {"airframe.foam.colour": "white"})
    assert loaded.file.read_text(encoding="utf-8") == text
    assert [path.name for path in loaded.folder.iterdir()] == ["plane.toml"]


def test_a_save_keeps_the_mode_of_the_file(loading: Loading, text: str) -> None:
    """Who could read it before can read it after."""
    loaded = loading(text)
    loaded.file.chmod(0o640)
    save(loaded, {"airframe.bare_mass": "48 g"})
    assert loaded.file.stat().st_mode & 0o777 == 0o640


def test_a_variant_that_takes_items_away_keeps_the_lines(tmp_path: Path, text: str) -> None:
    """A fault in an item behind the one that went is told at its own line."""
    bad = text.replace('items."nose ballast"', 'items."pack"').replace('"60 g"', '"60 mm"')
    file = tmp_path / "plane.toml"
    file.write_text(bad, encoding="utf-8")
    with pytest.raises(PlaneFileProblem) as caught:
        load(file, "no ballast")
    (finding,) = caught.value.findings
    assert finding.line == bad.split("\n").index('mass = "60 mm"') + 1


def test_an_unknown_stock_name_hides_only_its_own_missing_kind(loading: Loading, text: str) -> None:
    """The kind would have come with the entry; a kind elsewhere is a slip of its own."""
    wrong = text.replace('kind = "servo"', 'stock = "servo 400 g"')
    with pytest.raises(PlaneFileProblem) as caught:
        loading('kind = "plane"\n' + wrong)
    keys = {finding.key for finding in caught.value.findings}
    assert keys == {"kind", "items.servos.stock"}

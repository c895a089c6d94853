"""The same plane with keys changed: merged, checked and located anew."""

from collections.abc import Callable
from pathlib import Path

import pytest

from foamwright.plane.document import LoadedPlane, load
from foamwright.plane.gear import Pack
from foamwright.plane.variants import overridden
from foamwright.problems import CallProblem, PlaneFileProblem

Loading = Callable[[str], LoadedPlane]


def pack_of(loaded: LoadedPlane) -> Pack:
    """Return the pack of a plane."""
    (found,) = [item for item in loaded.plane.items if isinstance(item, Pack)]
    return found


def test_the_stock_is_merged_anew(loading: Loading, text: str) -> None:
    """3S 450 mAh weighs 4 + 3 (0.6 + 26 x 0.45) = 41 g (common practice, no source)."""
    loaded = loading(text)
    smaller = overridden(loaded, {"items.pack.capacity": "450 mAh"})
    mass = pack_of(smaller).mass
    assert mass is not None
    assert mass.value == pytest.approx(0.0409, abs=6e-4)
    assert pack_of(loaded).capacity != pack_of(smaller).capacity
    assert smaller.digest == loaded.digest


def test_a_changed_plane_is_checked_anew(loading: Loading, text: str) -> None:
    """An override is no way around a check; the line is that of the key in the file."""
    with pytest.raises(PlaneFileProblem) as caught:
        overridden(loading(text), {"items.pack.at.x": "90 mm"})
    (finding,) = caught.value.findings
    assert finding.key == "items.pack.at.x"
    assert finding.line == text.split("\n").index('at = { x = "33 mm" }') + 1


def test_lines_hold_when_an_item_before_is_gone(loading: Loading, text: str) -> None:
    """The ballast is the third item in the file, the second in the changed plane."""
    unserved = {"items.servos": None, "airframe.surfaces.wing.controls.elevon.servo": None}
    with pytest.raises(PlaneFileProblem) as caught:
        overridden(loading(text), {**unserved, "items.nose ballast.mass": "60 mm"})
    (finding,) = caught.value.findings
    assert finding.key == "items.nose ballast.mass"
    assert finding.line == text.split("\n").index('mass = "60 g"') + 1


def test_items_come_and_go(loading: Loading, text: str) -> None:
    """None takes one away, a table brings one."""
    tail = {"kind": "ballast", "mass": "4 g", "at": {"x": "250 mm"}}
    found = overridden(loading(text), {"items.nose ballast": None, "items.tail weight": tail})
    assert [item.name for item in found.plane.items] == ["servos", "pack", "tail weight"]


def test_variants_of_the_file_are_merged(loading: Loading, text: str) -> None:
    """Dotted keys and nested tables both; the plain plane stays the default."""
    loaded = loading(text)
    assert loaded.variants == ("small pack", "no ballast")
    assert loaded.variant is None
    smaller = load(loaded.folder, "small pack")
    capacity = pack_of(smaller).capacity
    assert capacity is not None
    assert capacity.value == pytest.approx(0.45 * 3600)
    assert smaller.variant == "small pack"
    assert len(load(loaded.file, "no ballast").plane.items) == 2


def test_an_unknown_variant_lists_those_there_are(loading: Loading, text: str) -> None:
    """A wrong call, not a wrong file."""
    folder = loading(text).folder
    with pytest.raises(CallProblem) as caught:
        load(folder, "big pack")
    assert caught.value.expected == "variants: 'small pack', 'no ballast'"


def test_a_variant_that_leads_nowhere_names_its_key(tmp_path: Path, text: str) -> None:
    """The file and the key; with the nearest name."""
    file = tmp_path / "plane.toml"
    file.write_text(text.replace('"items.pack.capacity"', '"items.pak.capacity"'))
    with pytest.raises(PlaneFileProblem) as caught:
        load(file, "small pack")
    (finding,) = caught.value.findings
    assert finding.file == file
    assert "items.pak.capacity" in finding.key
    assert "pack" in finding.expected

"""What was weighed takes the place of what was planned, and of nothing else."""

from collections.abc import Callable
from pathlib import Path

import pytest

from foamwright.plane.bench import validated
from foamwright.plane.document import LoadedPlane, load
from foamwright.plane.gear import Pack
from foamwright.plane.weighed import each, latest, weighed_keys


def note(folder: Path, *weighings: tuple[str, str, str]) -> None:
    """Write bench notes: day, item, mass."""
    text = "".join(
        f'[[weighings]]\ndate = 2026-05-{day}\nitem = "{item}"\nmass = "{mass}"\n'
        for day, item, mass in weighings
    )
    (folder / "bench.toml").write_text(text, encoding="utf-8")


def mass_of(loaded: LoadedPlane, name: str) -> tuple[float, float | None]:
    """Return an item's mass and spread [g]."""
    (item,) = (item for item in loaded.plane.items if item.name == name)
    assert item.mass is not None
    spread = item.mass.spread
    return round(item.mass.value * 1e3, 6), None if spread is None else round(spread * 1e3, 6)


@pytest.fixture
def folder(text: str, loading: Callable[[str], LoadedPlane]) -> Path:
    """Return the folder of the plank."""
    return loading(text).folder


def test_a_weighing_replaces_the_plan(folder: Path) -> None:
    """With its own spread; the plan can still be had."""
    note(folder, ("01", "nose ballast", "63 ± 0.5 g"), ("01", "bare foam", "48 ± 1 g"))
    loaded = load(folder)
    assert mass_of(loaded, "nose ballast") == (63.0, 0.5)
    assert loaded.plane.airframe.bare_mass is not None
    assert loaded.plane.airframe.bare_mass.value == pytest.approx(0.048)
    assert mass_of(load(folder, as_planned=True), "nose ballast") == (60.0, None)


def test_the_last_weighing_counts(folder: Path) -> None:
    """By its day, wherever it stands in the file."""
    note(folder, ("09", "nose ballast", "63 g"), ("02", "nose ballast", "50 g"))
    assert mass_of(load(folder), "nose ballast")[0] == 63.0


def test_pieces_on_the_scale_are_shared() -> None:
    """Two servos of 9.8 ± 0.4 g together are 4.9 ± 0.2 g each."""
    text = '[[weighings]]\ndate = 2026-05-01\nitem = "servos"\nmass = "9.8 ± 0.4 g"\npieces = 2\n'
    (weighing,) = validated(text, Path("bench.toml")).weighings
    assert each(weighing) == "4.9 g ± 0.2 g"
    assert latest(validated(text, Path("bench.toml"))) == {"servos": weighing}


def test_a_weighing_of_an_unknown_part_or_of_all_changes_no_key(folder: Path) -> None:
    """The whole plane is no key of the file; a part may have been taken out since."""
    note(folder, ("01", "all", "250 g"), ("01", "old camera", "9 g"))
    loaded = load(folder)
    assert weighed_keys(loaded.notes.bench, loaded.raw) == {}
    assert loaded.raw == load(folder, as_planned=True).raw


def test_a_weighed_part_keeps_what_the_stock_knew_of_it(folder: Path) -> None:
    """The pack has only a label: its resistance comes from the stock with or without a scale."""

    def pack(loaded: LoadedPlane) -> Pack:
        (found,) = (item for item in loaded.plane.items if isinstance(item, Pack))
        return found

    before = pack(load(folder))
    assert "mass" in before.from_stock
    note(folder, ("01", "pack", "58 g"))
    after = pack(load(folder))
    assert "mass" not in after.from_stock
    assert after.mass is not None
    assert after.mass.value == pytest.approx(0.058)
    assert after.price == before.price
    assert after.size == before.size


def test_a_variant_with_another_part_does_not_take_the_weighing_over(folder: Path) -> None:
    """The small pack was never on the scale; what the variant leaves alone was."""
    note(folder, ("01", "pack", "58 g"), ("01", "nose ballast", "63 g"))
    planned = mass_of(load(folder, "small pack", as_planned=True), "pack")
    varied = load(folder, "small pack")
    assert mass_of(varied, "pack") == planned
    assert mass_of(varied, "nose ballast")[0] == 63.0
    without = load(folder, "no ballast")
    assert {item.name for item in without.plane.items} == {"servos", "pack"}
    assert mass_of(without, "pack")[0] == 58.0

"""Brandless part classes: complete, readable, and made from labels where they are not listed."""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter

from foamwright.plane.filling import frozen
from foamwright.plane.gear import AnyItem
from foamwright.plane.stock import Stock, shipped, stock
from foamwright.problems import PlaneFileProblem
from foamwright.quantity import read
from foamwright.sources import SOURCES

ITEM: TypeAdapter[AnyItem] = TypeAdapter(AnyItem)

MATERIAL = {
    "density": "density",
    "compressive_strength": "stress",
    "tensile_strength": "stress",
    "shear_strength": "stress",
    "modulus": "stress",
}
"""Keys of a foam, which is no item, with their dimensions."""

WANTED = {
    *("motor", "propeller", "pack", "esc", "servo", "flight controller", "receiver"),
    *("video transmitter", "camera", "gps", "regulator", "connector", "wire", "rod", "tape"),
    *("glue", "magnet", "foam", "mount", "linkage", "antenna", "beeper"),
}


TRADE_WORDS = {
    *("antenna", "awg", "bead", "beeper", "bullet", "camera"),
    *("capacitor", "carbon", "cell", "compass", "connector", "contact"),
    *("controller", "current", "cyano", "digital", "epo", "epoxy"),
    *("epp", "eps", "esc", "extension", "filament", "film"),
    *("flight", "foam", "for", "ghz", "glue", "gps"),
    *("hatch", "horn", "hot", "joint", "laminating", "linear"),
    *("linkage", "magnet", "metal", "mhz", "micro", "mini"),
    *("motor", "mount", "nano", "other", "own", "pack"),
    *("packing", "plate", "plywood", "polyurethane", "propeller", "pushrod"),
    *("pwm", "receiver", "red", "regulator", "rod", "safe"),
    *("sensor", "serial", "servo", "slot", "steel", "switching"),
    *("tape", "transmitter", "tube", "typical", "unit", "video"),
    *("vinyl", "wings", "wire", "with", "xps"),
}
"""What names of parts may be made of: kinds, materials, plug families, units."""


def grams(known: Stock, name: str, kind: str | None = None) -> tuple[float, float]:
    """Return mass and spread of an entry in grams."""
    mass = read(known.entry(name, kind)["mass"], "mass")
    assert mass.spread is not None
    return mass.value * 1e3, mass.spread * 1e3


def test_every_kind_a_builder_needs_is_there() -> None:
    """From the motor to the glue."""
    assert set(stock().kinds()) >= WANTED


@pytest.mark.parametrize("name", sorted(shipped()))
def test_an_entry_is_a_valid_item_with_a_spread_on_its_mass(name: str) -> None:
    """Keys are those of the gear; mass and price carry a spread; the tag is a source."""
    entry = shipped()[name]
    assert entry["tag"] in SOURCES
    assert entry["about"]
    if entry["kind"] == "foam":
        for key, dimension in MATERIAL.items():
            assert read(entry[key], dimension).spread
        return
    written = {key: value for key, value in entry.items() if key not in ("about", "tag")}
    item = ITEM.validate_python(frozen(written))
    for quantity in (item.mass, item.price):
        assert quantity is not None
        assert quantity.spread is not None
        assert 0.0 < quantity.spread <= 0.6 * quantity.value or quantity.value == 0.0


def test_names_are_made_of_trade_words_and_numbers() -> None:
    """A word that is not on the list is a brand until somebody puts it there."""
    words = {word for name in shipped() for word in re.findall(r"[a-z]{3,}", name)}
    assert words - TRADE_WORDS == set()


@pytest.mark.parametrize(
    ("cells", "masses"),
    [
        (2, (21, 29, 39, 49, 57, 73, 83, 120)),
        (3, (29, 41, 57, 72, 84, 107, 123, 177)),
        (4, (38, 53, 74, 95, 110, 142, 162, 235)),
    ],
)
def test_packs_weigh_what_packs_of_that_label_weigh(cells: int, masses: tuple[int, ...]) -> None:
    """Table of usual packs, 300 to 2200 mAh with leads and plug; common practice, no source."""
    capacities = (300, 450, 650, 850, 1000, 1300, 1500, 2200)
    for capacity, mass in zip(capacities, masses, strict=True):
        found, spread = grams(stock(), f"{cells}S {capacity}")
        assert found == pytest.approx(mass, abs=1.5)
        assert 0.04 * found < spread < 0.15 * found


MOTORS = {
    "motor 1103 8000": ((3.5, 4.5), (130, 250), (0.4, 0.7), (5, 7)),
    "motor 1104 7500": ((5, 6.5), (120, 220), (0.4, 0.7), (6, 8)),
    "motor 1404 3800": ((8.5, 10), (120, 320), (0.4, 0.8), (9, 13)),
    "motor 1806 2300": ((16, 20), (110, 170), (0.4, 0.8), (12, 18)),
    "motor 2204 2300": ((21, 26), (80, 120), (0.5, 0.9), (14, 20)),
    "motor 2205 2300": ((26, 30), (55, 90), (0.7, 1.3), (22, 30)),
    "motor 2206 2450": ((29, 32), (50, 80), (0.8, 1.5), (25, 34)),
    "motor 2306 2450": ((31, 34), (45, 80), (0.9, 1.8), (28, 38)),
    "motor 2207 2450": ((32, 36), (40, 75), (1.0, 1.8), (30, 40)),
    "motor 2212 1000": ((45, 58), (65, 120), (0.4, 0.8), (12, 20)),
}
"""Mass [g], resistance [mohm], no-load current [A], ten-second current [A]: the range met.

Common practice, no source; the masses of the 2206 (31 g) and 2306 (32 g) are printed in reviews.
"""


@pytest.mark.parametrize("name", MOTORS)
def test_a_motor_lies_in_the_range_of_its_class(name: str) -> None:
    """All four numbers, and the printed Kv is believed to 5 % at best."""
    entry = stock().entry(name)
    keys = ("mass", "resistance", "no_load_current", "burst_current")
    dimensions = ("mass", "resistance", "current", "current")
    factors = (1e3, 1e3, 1.0, 1.0)
    for key, dimension, factor, (low, high) in zip(
        keys, dimensions, factors, MOTORS[name], strict=True
    ):
        assert low <= read(entry[key], dimension).value * factor <= high
    kv = read(entry["kv"], "speed constant")
    assert kv.spread is not None
    assert kv.spread >= 0.05 * kv.value


def test_a_motor_made_from_its_label_agrees_with_the_listed_ones() -> None:
    """The fits (mass from stator volume, 15 %; resistance from Kv and mass) hold for the list."""
    for name in MOTORS:
        listed = read(shipped()[name]["mass"], "mass").value
        kv = int(name.split()[2]) + 1  # not listed, so it is made from the label
        made = stock().entry(f"{name.split()[1]} {kv}")
        assert made["about"] == "made from its label"
        assert read(made["mass"], "mass").value == pytest.approx(listed, rel=0.3)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("3S 450", "pack 3S 450"),
        ("pack 3s 450", "pack 3S 450"),
        ("Motor  2204 2300", "motor 2204 2300"),
        ("2204 2300", "motor 2204 2300"),
        ("5x4.3x3", "propeller 5x4.3x3"),
        ("5 × 3", "propeller 5x3"),
        ("ESC 20 A", "esc 20 A"),
        ("20 A", "esc 20 A"),
        ("5 g", "servo 5 g"),
    ],
)
def test_a_name_is_found_however_it_is_spelled(written: str, name: str) -> None:
    """Case, spaces and the kind in front do not matter."""
    assert stock().entry(written)["name"] == name


@pytest.mark.parametrize(
    ("written", "kind", "key", "text"),
    [
        ("3S 700", "pack", "capacity", "700 ± 28 mAh"),
        ("700mAh 3S", "pack", "capacity", "700 ± 28 mAh"),
        ("motor 1806 2500", "motor", "stator_diameter", "18 mm"),
        ("2306-1900KV", "motor", "kv", "1900 ± 114 rpm/V"),
        ("propeller 6.5x4", "propeller", "diameter", "6.5 in"),
        ("propeller 5045", "propeller", "pitch", "4.5 in"),
        ("propeller 5045x3", "propeller", "blades", "3"),
    ],
)
def test_what_is_not_listed_is_made_from_its_label(
    written: str, kind: str, key: str, text: str
) -> None:
    """And says so."""
    entry = stock().entry(written)
    assert (entry["kind"], str(entry[key])) == (kind, text)
    assert entry["about"] == "made from its label"
    assert ITEM.validate_python(frozen({"name": "x", **stock().item(written)})).mass is not None


def test_four_digits_are_a_propeller_only_where_one_is_wanted() -> None:
    """A 2212 may be a motor without its Kv."""
    assert stock().entry("5045", "propeller")["diameter"] == "5 in"
    for written, kind in (("5045", None), ("2212", None), ("2212", "motor")):
        with pytest.raises(PlaneFileProblem):
            stock().entry(written, kind)


@given(st.integers(1, 6), st.integers(100, 5000))
def test_a_pack_from_its_label_follows_the_formula(cells: int, capacity: int) -> None:
    """4 + S (0.6 + 26 Ah) g within 10 %, without the 4 g of the plug for one cell."""
    found, spread = grams(stock(), f"{cells}S {capacity}")
    usual = (4.0 if cells > 1 else 0.0) + cells * (0.6 + 26e-3 * capacity)
    assert found == pytest.approx(usual, rel=0.04, abs=0.51)
    assert spread == pytest.approx(0.1 * usual, rel=0.8)


@pytest.mark.parametrize(
    ("written", "kind", "nearest"),
    [
        ("moter 2204 2300", None, "motor 2204 2300"),
        ("servo 6 g", "servo", "servo 5 g"),
        ("esc 25 A", "esc", "esc 20 a"),
        ("3S 450", "motor", "motor"),
    ],
)
def test_an_unknown_name_is_told_with_the_nearest_ones(
    written: str, kind: str | None, nearest: str
) -> None:
    """One finding; a name of another kind is not taken."""
    with pytest.raises(PlaneFileProblem) as caught:
        stock().entry(written, kind)
    (finding,) = caught.value.findings
    assert nearest in finding.expected.lower()


def test_what_is_typical_is_uncertain_by_a_third() -> None:
    """An item of which only the kind is known has a wide spread, so that a weighing pays."""
    known = stock()
    for kind in WANTED - {"foam"}:
        mass = read(known.typical(kind)["mass"], "mass")
        assert mass.spread is not None
        assert mass.spread == pytest.approx(0.3 * mass.value, rel=0.07)
    assert known.typical("ballast") == {"kind": "ballast"}


def test_a_users_own_stock_wins_key_by_key(tmp_path: Path) -> None:
    """The scale knows better than the shipped figure; the rest stays."""
    file = tmp_path / "stock.toml"
    file.write_text(
        '[[entry]]\nname = "Pack 3S 450"\nkind = "pack"\nmass = "43 ± 0.5 g"\n'
        '[[entry]]\nname = "the big servo"\nkind = "servo"\nmass = "20 ± 1 g"\n',
        encoding="utf-8",
    )
    known = stock(file)
    assert grams(known, "3S 450") == pytest.approx((43.0, 0.5))
    assert known.entry("3S 450")["capacity"] == shipped()["pack 3s 450"]["capacity"]
    assert grams(known, "the big servo", "servo") == pytest.approx((20.0, 1.0))
    assert grams(stock(), "3S 450") != pytest.approx((43.0, 0.5))


@pytest.mark.parametrize(
    ("text", "says", "line"),
    [
        ("[[entry]]\nkind = 'pack'\n", "has no name", 1),
        ("[[entry]]\nname = 'a'\nkind = 'pack'\n\n[[entry]]\nname = 'b'\n", "has no kind", 5),
        ("entry = 3\n", "no list of part classes", None),
        ("[[entry]\n", "not TOML", 1),
    ],
)
def test_a_broken_stock_file_is_told_with_its_line(
    tmp_path: Path, text: str, says: str, line: int | None
) -> None:
    """One clear finding each."""
    file = tmp_path / "stock.toml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(PlaneFileProblem) as caught:
        stock(file)
    (finding,) = caught.value.findings
    assert says in finding.what
    assert (finding.file, finding.line) == (file, line)


def test_a_search_finds_by_words_and_leaves_the_typical_out() -> None:
    """All words have to fit; stand-ins are nothing to buy."""
    names = [entry["name"] for entry in stock().search("pack", ("3s",))]
    assert "pack 3S 450" in names
    assert not any("2S" in str(name) for name in names)
    assert not any(str(e["name"]).startswith("typical") for e in stock().search(None, ()))
    assert stock().search("pack", ("3s", "rocket")) == ()


def test_near_names_are_told_as_they_are_written() -> None:
    """4S, not 4s: what is told can be copied into the file."""
    with pytest.raises(PlaneFileProblem) as caught:
        stock().entry("99S 3", "pack")
    expected = caught.value.findings[0].expected
    assert "pack 3S " in expected or "pack 4S " in expected or "pack 2S " in expected
    assert expected.removeprefix("nearest: ").split(", ")[0] in {
        str(entry["name"]) for entry in stock().entries.values()
    }

"""What validation finds, in words: the key as the builder writes it, and what would be right."""

from collections.abc import Callable

import pytest

from foamwright.plane.document import LoadedPlane
from foamwright.plane.findings import KINDS_OF_ITEMS, choices, key_of, known_keys, origin, short
from foamwright.problems import PlaneFileProblem

Loading = Callable[[str], LoadedPlane]

RAW: dict[str, object] = {
    "name": "x",
    "airframe": {"surfaces": [{"name": "wing", "stations": [{}, {}]}]},
    "items": [{"name": "pack", "kind": "pack", "stock": "pack 3S 450"}, {"kind": "rod"}],
}


def test_entries_are_called_by_their_names() -> None:
    """By number only where they have none."""
    assert key_of(RAW, ("items", 0, "mass")) == "items.pack.mass"
    assert key_of(RAW, ("items", 1, "mass")) == "items.1.mass"
    path = ("airframe", "surfaces", 0, "stations", 1, "chord")
    assert key_of(RAW, path) == "airframe.surfaces.wing.stations.1.chord"
    assert key_of(RAW, ("items", 9, "mass")) == "items.9.mass"


def test_keys_known_at_a_place_are_those_of_its_record() -> None:
    """An item's by its kind, a station's, the plane's; never the key that reading sets."""
    assert "cells" in known_keys(RAW, ("items", 0, "cels"))
    assert "cells" not in known_keys(RAW, ("items", 1, "cels"))
    assert "from_stock" not in known_keys(RAW, ("items", 1, "from"))
    assert "foremost" in known_keys(RAW, ("items", 0, "reach", "foremos"))
    assert "twist" in known_keys(RAW, ("airframe", "surfaces", 0, "stations", 1, "twst"))
    assert "layout" in known_keys(RAW, ("layuot",))
    assert known_keys(RAW, ("nowhere", "at", "all")) == ()


def test_words_to_choose_from_are_known() -> None:
    """Where a key takes only some; none where it takes any."""
    assert "plank" in choices(RAW, ("layout",))
    assert choices(RAW, ("items", 0, "condition")) == ("good", "ordinary", "tired")
    assert choices(RAW, ("name",)) == ()


def test_a_key_from_the_stock_says_so() -> None:
    """The builder looks for it in vain in the own file."""
    assert origin(RAW, ("items", 0, "mass")) == " (from the stock: 'pack 3S 450')"
    assert origin(RAW, ("items", 0, "stock")) == ""
    assert origin(RAW, ("items", 1, "mass")) == ""
    assert origin(RAW, ("name",)) == ""


def test_every_kind_of_item_is_listed_once() -> None:
    """Kinds with keys of their own and plain ones together."""
    assert len(set(KINDS_OF_ITEMS)) == len(KINDS_OF_ITEMS)
    assert {"motor", "rod", "video transmitter", "other"} <= set(KINDS_OF_ITEMS)


def test_long_values_are_cut() -> None:
    """A whole table is not repeated in a message."""
    assert short("x") == "'x'"
    assert len(short(["mass"] * 1000)) <= 60


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (("layout = ", "lay_out = "), ("layout", 'add it, one of "tail aft"')),
        (('"plank"\n\n', '"plnk"\n\n'), ("layout", "did you mean plank?")),
        (('"EPP"', '"wood"'), ("airframe.foam", 'one of "EPS", "EPP", "EPO", "XPS"')),
        (('"plank"\n\n', "3\n\n"), ("layout", "3 is not one of the words known here")),
        (('name = "plank"', "name = 3"), ("name", "in quotes")),
        (("count = 2", 'count = "2"'), ("items.servos.count", "without quotes")),
        (("count = 2", 'owned = "yes"'), ("items.servos.owned", "true or false")),
        (('at = { x = "33 mm" }', 'at = "33 mm"'), ("items.pack.at", "in braces")),
        (('kind = "pack"', 'kind = "pakc"'), ("items.pack.kind", "did you mean pack?")),
        (('kind = "ballast"\n', ""), ("items.nose ballast.kind", '"ballast"')),
        (("cells = 3", "cels = 3"), ("items.pack.cels", "did you mean cells?")),
        (('chord = "170 mm", ', ""), ("airframe.surfaces.wing.stations.0.chord", "add chord")),
        (("cells = 3", "zebra = 3"), ("items.pack.zebra", "take it out")),
        (('mass = "5 g"', "mass = { x = 5 }"), ("items.servos.mass", "71 g")),
    ],
)
def test_slips_are_told_at_their_key(
    loading: Loading, text: str, change: tuple[str, str], told: tuple[str, str]
) -> None:
    """Among the findings is one at that key that says so."""
    assert change[0] in text
    with pytest.raises(PlaneFileProblem) as caught:
        loading(text.replace(*change, 1))
    found = {finding.key: finding.sentence() for finding in caught.value.findings}
    assert told[1] in found[told[0]]


def test_a_slip_in_a_variant_is_told_on_the_variants_line(loading: Loading, text: str) -> None:
    """Not on the line that it overrides, and as the key that it changes."""
    from foamwright.plane.document import load  # noqa: PLC0415 - once

    file = loading(text).file
    bad = text.replace('"items.pack.capacity" = "450 mAh"', '"items.pack.capacity" = "450"')
    file.write_text(bad, encoding="utf-8")
    with pytest.raises(PlaneFileProblem) as caught:
        load(file, "small pack")
    (finding,) = caught.value.findings
    line = next(n for n, row in enumerate(bad.splitlines(), 1) if '"450"' in row)
    assert finding.line == line
    assert finding.key == "items.pack.capacity"

"""Plain numbers and names: inside their limits nothing is said, outside one thing."""

from collections.abc import Callable

import pytest

from foamwright.plane.document import LoadedPlane
from foamwright.plane.limits import limits, outside, twins
from foamwright.problems import PlaneFileProblem

Loading = Callable[[str], LoadedPlane]


def test_a_good_plane_has_none(loading: Loading, text: str) -> None:
    """The plank of these tests."""
    assert limits(loading(text).plane) == []


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 0, 7, -3, 10**30])
def test_what_is_outside_is_told_with_the_limits(value: float) -> None:
    """Numbers that are none, too small, too large, far too large."""
    ((path, what, expected),) = outside(("blades",), value, (2, 6), "blades")
    assert path == ("blades",)
    assert what.endswith("is no number of blades")
    assert expected == "2 or more, 6 at most"


@pytest.mark.parametrize("value", [None, 2, 4.0, 6])
def test_what_is_inside_or_not_written_is_not_told(value: float | None) -> None:
    """Both ends belong to it."""
    assert list(outside(("blades",), value, (2, 6), "blades")) == []


def test_names_are_told_at_the_second_of_two() -> None:
    """The first keeps its name; an empty one is told as empty."""
    found = list(twins(("items",), ["a", "b", "a", " "], "item"))
    assert [(path, what) for path, what, _ in found] == [
        (("items", 2, "name"), "'a' is the name of another item already"),
        (("items", 3, "name"), "is empty"),
    ]


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (("count = 2", "count = 0"), "items.servos.count"),
        (("count = 2", "count = 1000000000000000000000"), "items.servos.count"),
        (("count = 2", "spares = -1"), "items.servos.spares"),
        (("cells = 3", "cells = 40"), "items.pack.cells"),
        (("cells = 3", "cells = 3\nc_label = nan"), "items.pack.c_label"),
        (("650 mAh", "0 mAh"), "items.pack.capacity"),
        (('rearmost = "60 mm"', 'rearmost = "10 mm"'), "items.pack.reach.rearmost"),
        (('name = "fin"', 'name = "wing"'), "airframe.surfaces.wing.name"),
        (('name = "plank"', 'name = " "'), "name"),
        (('name = "nose ballast"', 'name = ""'), "items..name"),
        (('layout = "plank"', 'layout = "plank"\ncurrency = "euro"'), "currency"),
        (
            ("[airframe]", '[targets]\nmargin_low = "9 %"\nmargin_high = "5 %"\n[airframe]'),
            "targets.margin_high",
        ),
    ],
)
def test_each_slip_is_told_at_its_key(
    loading: Loading, text: str, change: tuple[str, str], key: str
) -> None:
    """With its line, and what would be right."""
    assert change[0] in text
    with pytest.raises(PlaneFileProblem) as caught:
        loading(text.replace(*change, 1))
    assert key in [finding.key for finding in caught.value.findings]
    assert all(finding.line and finding.expected for finding in caught.value.findings)


def test_propellers_and_radios_have_limits_too(loading: Loading, text: str) -> None:
    """Blades and megahertz."""
    more = (
        '\n[[items]]\nname = "prop"\nkind = "propeller"\nstock = "propeller 5x3"\nblades = 1\n'
        '\n[[items]]\nname = "rx"\nkind = "receiver"\nmass = "2 g"\nfrequency = 2.4\n'
    )
    with pytest.raises(PlaneFileProblem) as caught:
        loading(text.replace("\n[variants", more + "\n[variants", 1))
    keys = [finding.key for finding in caught.value.findings]
    assert keys == ["items.prop.blades", "items.rx.frequency"]


@pytest.mark.parametrize("pairs", [0, -7, 28, 10**12])
def test_pole_pairs_no_motor_has_are_told(loading: Loading, text: str, pairs: int) -> None:
    """Fourteen magnets are seven pairs; 28 pairs are magnets counted."""
    item = f'[[items]]\nname = "motor"\nkind = "motor"\npole_pairs = {pairs}\n\n[[items]]'
    with pytest.raises(PlaneFileProblem) as raised:
        loading(text.replace("[[items]]", item, 1))
    (finding,) = raised.value.findings
    assert finding.key == "items.motor.pole_pairs"
    assert finding.what.endswith("is no number of pole pairs")
    assert finding.expected == "1 or more, 24 at most"

"""What the numbers of a plane must be to each other; each fault one finding at its key."""

from collections.abc import Callable
from pathlib import Path

import pytest

from foamwright.plane.checks import OUNCE, extent, half_wing, label_mass, listed_mass
from foamwright.plane.document import LoadedPlane
from foamwright.plane.gear import Pack
from foamwright.problems import Finding, PlaneFileProblem

Loading = Callable[[str], LoadedPlane]


def refused(loading: Loading, text: str) -> Finding:
    """Return the one thing that is wrong with a text."""
    with pytest.raises(PlaneFileProblem) as caught:
        loading(text)
    (finding,) = caught.value.findings
    assert finding.line is not None
    return finding


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (('y = "300 mm"', 'y = "0 mm"'), ("wing.stations.1.y", "root to tip")),
        (('y = "0 mm"', 'y = "-10 mm"'), ("wing.stations.0.y", "right half")),
        (('z = "90 mm"', 'z = "4 mm"'), ("fin.stations.1.z", "root to tip")),
        (('chord = "50 mm"', 'chord = "0 mm"'), ("fin.stations.1.chord", "outside")),
        (('thickness = "9 %"', 'thickness = "90 mm"'), ("wing.stations.0.thickness", "9 %")),
        (('role = "wing"', 'role = "tail"'), ("surfaces", "role 'wing'")),
        (('servo = "servos"', 'servo = "servo"'), ("elevon.servo", "no item 'servo'")),
        (('end = "95 %"', 'end = "5 %"'), ("elevon.start", "in order")),
        (('end = "95 %"', 'end = "120 %"'), ("elevon.start", "in order")),
        (('fraction = "20 %"', 'fraction = "95 %"'), ("chord_fraction", "2 to 80 %")),
        (('x = "10 mm"', 'x = "900 mm"'), ("items.nose ballast.at.x", "0 mm to 295 mm")),
        (('x = "33 mm"', 'x = "70 mm"'), ("items.pack.at.x", "20 mm to 60 mm")),
        (('x = "161 mm"', 'x = "400 mm"'), ("airframe.bare_balance.x", "0 mm to 295 mm")),
        (('x = "265 mm"', 'x = "0 mm"'), ("bodies.pod.stations", "x rising")),
        (('name = "nose ballast"', 'name = "pack"'), ("items.pack.name", "its own name")),
        (('name = "nose ballast"', 'name = "v1.2"'), ("name", "no dot")),
        (("count = 2", "count = 0"), ("items.servos", "1 or more")),
    ],
)
def test_each_fault_is_one_finding_at_its_key(
    loading: Loading, text: str, change: tuple[str, str], told: tuple[str, str]
) -> None:
    """One change to a good plane, one finding."""
    assert change[0] in text
    found = refused(loading, text.replace(*change, 1))
    assert told[0] in found.key
    assert told[1] in found.sentence()


def test_a_surface_needs_root_and_tip(loading: Loading, text: str) -> None:
    """One station is no surface."""
    tip = '  { z = "90 mm", leading_edge = "245 mm", chord = "50 mm" },\n'
    assert "root and tip" in refused(loading, text.replace(tip, "")).expected


def test_several_faults_are_told_at_once(loading: Loading, text: str) -> None:
    """All findings in one go, each with its own line."""
    bad = text.replace('servo = "servos"', 'servo = "none"').replace('x = "33 mm"', 'x = "70 mm"')
    with pytest.raises(PlaneFileProblem) as caught:
        loading(bad.replace('x = "10 mm"', 'x = "900 mm"'))
    found = caught.value.findings
    assert len(found) == 3
    assert len({finding.line for finding in found}) == 3


@pytest.mark.parametrize(
    ("cells", "charge", "grams"),
    [
        (3, "450 mAh", 41),
        (3, "650 mAh", 57),
        (2, "300 mAh", 21),
        (4, "850 mAh", 95),
        (1, "300 mAh", 8.4),
    ],
)
def test_usual_pack_masses(cells: int, charge: str, grams: float) -> None:
    """4 + S (0.6 + 26 Ah) grams, rounded; common practice, no source."""
    written = {"name": "p", "kind": "pack", "cells": cells, "capacity": charge}
    pack = Pack.model_validate(written)
    assert label_mass(pack) * 1e3 == pytest.approx(grams, abs=1.0)


@pytest.mark.parametrize(("grams", "taken"), [(33, False), (36, True), (57, True), (70, True)])
def test_a_pack_weighs_at_least_what_its_label_allows(
    loading: Loading, text: str, grams: float, *, taken: bool
) -> None:
    """3S 650 mAh is 56.5 g by its label; 60 % of that is 33.9 g."""
    weighed = text.replace("cells = 3", f'cells = 3\nmass = "{grams} g"')
    if taken:
        assert loading(weighed).plane.items[1].mass is not None
    else:
        found = refused(loading, weighed)
        assert found.key == "items.pack.mass"
        assert "about 56.5 g" in found.expected


def test_sizes_and_masses_of_the_plank(loading: Loading, text: str) -> None:
    """By hand: 0.17 x 0.6 = 0.102 m2; 46 + 10 + 57 + 60 g; nose to trailing edge of the fin."""
    plane = loading(text).plane
    area, span = half_wing(plane.airframe.surfaces[0])
    assert area == pytest.approx(0.102)
    assert span == pytest.approx(0.6)
    assert listed_mass(plane) * 1e3 == pytest.approx(173, abs=1.0)
    assert extent(plane) == pytest.approx((0.0, 0.295))


CENTIMETRES = (
    ('"170 mm"', '"17 mm"'),
    ('y = "300 mm"', 'y = "30 mm"'),
)
"""17 cm and 60 cm, written in millimetres."""

HEAVIER = (('mass = "60 g"', 'mass = "16 g"'), ('"46 ± 1 g"', '"102 g"'))
"""128 g without the pack of 57 g: 185 g in all, on 10.2 dm2 that is 18.1 g/dm2."""


OUNCES = (
    ('"46 ± 1 g"', '"4.5 g"'),
    ('mass = "60 g"', 'mass = "0 g"'),
    ('mass = "5 g"', 'mass = "0 g"'),
)
"""Foam and gear of 4.5 oz, 128 g, in one number and written in grams."""


def replaced(text: str, *changes: tuple[str, str]) -> str:
    """Return a text with all of some changes made; each must be there to be made."""
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return text


def test_centimetres_written_as_millimetres_are_refused(loading: Loading, text: str) -> None:
    """The sizes that were meant are proposed, with the wing loading they would give."""
    found = refused(loading, replaced(text, *HEAVIER, *CENTIMETRES))
    assert "stations" in found.key
    assert "170 mm?" in found.expected
    assert "600 mm?" in found.expected
    assert "18.1 g/dm²" in found.expected


def test_inches_written_as_millimetres_are_refused(loading: Loading, text: str) -> None:
    """6.7 in and 23.6 in are 170 mm and 600 mm."""
    inches = (('"170 mm"', '"6.7 mm"'), ('y = "300 mm"', 'y = "11.8 mm"'))
    found = refused(loading, replaced(text, *HEAVIER, *inches))
    assert "170 mm?" in found.expected
    assert "inches" in found.expected


def test_ounces_written_as_grams_are_refused(loading: Loading, text: str) -> None:
    """Foam and gear of 4.5 oz are 128 g, 185 g with the pack; on 10.2 dm2 18.1 g/dm2."""
    found = refused(loading, replaced(text, *OUNCES))
    assert found.key == "airframe.bare_mass"
    assert f"{4.5 * 1e3 * OUNCE:.0f} g?" in found.expected
    assert "18.1 g/dm²" in found.expected


def test_both_at_once_are_each_refused_with_both_mended(loading: Loading, text: str) -> None:
    """17 by 60 and 6.5 oz in all: every proposal shows what it gives once both are mended."""
    with pytest.raises(PlaneFileProblem) as caught:
        loading(replaced(text, *OUNCES, *CENTIMETRES))
    first, second = caught.value.findings
    assert "170 mm? 600 mm?" in first.expected
    assert "128 g?" in second.expected
    assert "184 g" in second.expected or "185 g" in second.expected
    assert "18.1 g/dm²" in first.expected
    assert "18.1 g/dm²" in second.expected


def test_a_wrong_scale_hides_what_follows_from_it(loading: Loading, text: str) -> None:
    """With the wing in centimetres the balance lies behind it: only the cause is told."""
    far = replaced(text, *HEAVIER, *CENTIMETRES, ('x = "265 mm"', 'x = "26.5 mm"'))
    assert "170 mm?" in refused(loading, far).expected


def test_a_missing_file_of_numbers_is_told(loading: Loading, text: str, tmp_path: Path) -> None:
    """At the key that names it; a file that is there but wrong with its own line."""
    named = text.replace('role = "wing"', 'role = "wing"\ncoordinates = "wing.dat"')
    found = refused(loading, named)
    assert found.key == "airframe.surfaces.wing.coordinates"
    assert "wing.dat: there is no such file" in found.what
    (tmp_path / "wing.dat").write_text("wing\n1 0\n0.5 oops\n", encoding="utf-8")
    assert "wing.dat, line 3" in refused(loading, named).what


def test_money_in_another_currency_is_refused(loading: Loading, text: str) -> None:
    """Nothing is converted: a budget in dollars is no budget in euros."""
    with pytest.raises(PlaneFileProblem, match=r"budget.*'120 USD' is no EUR"):
        loading(text + '\n[targets]\nbudget = "120 USD"\n')

"""Masses add up, an unknown one is estimated and named, pairs and twins count."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.problems import PlaneFileProblem

Computed = Callable[..., ComputablePlane]

REEDLING = (
    (112.0, 305.0),
    (18.0, 360.0),
    (3.5, 365.0),
    (2.5, 376.0),
    (9.0, 262.0),
    (41.0, 120.0),
    (2.0, 180.0),
    (6.0, 205.0),
    (10.0, 272.0),
    (8.0, 252.0),
    (3.5, 22.0),
    (4.0, 120.0),
    (7.0, 420.0),
    (14.0, 280.0),
    (12.0, 240.0),
)
"""Grams and millimetres of the whole mass list, added by hand to 252.5 g at 264.6 mm."""


def test_the_masses_of_the_glider_add_up(computed: Computed) -> None:
    """252.5 g, and the centre of gravity of the list, as on a sheet of paper."""
    masses = computed("reedling").masses
    total = sum(grams for grams, _ in REEDLING)
    moment = sum(grams * place for grams, place in REEDLING)
    assert total == pytest.approx(252.5)
    assert np.median(masses.all_up) * 1e3 == pytest.approx(total, abs=0.3)
    assert np.median(masses.centre[:, 0]) * 1e3 == pytest.approx(moment / total, abs=0.3)


def test_spreads_add_in_quadrature(computed: Computed) -> None:
    """Standard deviation of the sum: root of the squares of what was written."""
    written = (1, 1, 0.5, 0.3, 1, 1, 0.5, 0.5, 0.6, 0.6, 0.3, 0.5, 0.5, 1, 3)
    masses = computed("reedling").masses
    assert np.std(masses.all_up) * 1e3 == pytest.approx(np.hypot.reduce(written), rel=0.1)


def test_a_pack_without_a_mass_is_estimated_never_nothing(computed: Computed) -> None:
    """3S 650: 57 g within 50 to 63, named as an estimate; 0 g would call the plane tail heavy."""
    masses = computed("windrow").masses
    pack = masses.named("pack").mass * 1e3
    assert np.median(pack) == pytest.approx(57.0, abs=1.0)
    assert np.quantile(pack, 0.05) > 49.0
    assert np.quantile(pack, 0.95) < 65.0
    assert pack.min() > 40.0
    assert masses.estimated == ("pack",)
    assert any(text.startswith("pack:") and "not weighed" in text for text in masses.assumed)


def test_weighing_it_takes_it_off_the_list(computed: Computed) -> None:
    """Weighed, it is assumed no more and the sum is narrower."""
    before = computed("windrow").masses
    after = computed("windrow", {"items.pack.mass": "58 ± 0.5 g"}).masses
    assert after.estimated == ()
    assert np.std(after.all_up) < 0.75 * np.std(before.all_up)
    assert np.median(after.all_up - before.all_up) * 1e3 == pytest.approx(1.0, abs=0.3)


def test_glue_and_wire_nobody_listed_are_added(computed: Computed) -> None:
    """8 % of the rest, once, aloud; where they are listed nothing is added."""
    listed = computed("reedling").masses
    bare = computed("reedling", {"items.glue, tape and wire": None}).masses
    rest = np.median(listed.all_up - listed.named("glue, tape and wire").mass)
    assert np.median(bare.named("glue, tape and wire").mass) == pytest.approx(0.08 * rest, rel=0.03)
    assert any("glue, tape and wire not listed" in text for text in bare.assumed)
    assert not any("glue" in text for text in listed.assumed)


def test_a_pair_hangs_on_both_sides(computed: Computed) -> None:
    """Two servos at ±120 mm do not pull sideways; one at 120 mm does, by 5 g x 120 / 247.5."""
    pair = computed("reedling").masses
    one = computed("reedling", {"items.aileron servos.count": 1}).masses
    assert abs(np.median(pair.centre[:, 1])) < 2e-4
    assert pair.named("aileron servos").apart == pytest.approx(0.12)
    assert np.median(one.centre[:, 1]) == pytest.approx(5 * 0.12 / 247.5, abs=2e-4)


def test_an_item_without_a_place_is_named(computed: Computed) -> None:
    """It counts in the sum, sits where the foam balances, and is asked for."""
    masses = computed("reedling", {"items.GPS.at": None}).masses
    assert masses.unplaced == ("GPS",)
    assert np.median(masses.all_up) * 1e3 == pytest.approx(252.5, abs=0.3)


def test_a_part_nobody_can_guess_is_asked_for(computed: Computed) -> None:
    """Ballast without a mass is no ballast of nothing: it is asked for, not taken as 0."""
    plane = computed("reedling", {"items.lead": {"kind": "ballast", "at": {"x": "10 mm"}}})
    with pytest.raises(PlaneFileProblem, match=r"items\.lead: has no mass"):
        _ = plane.masses

"""What do the rules say at this mass and speed?"""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.questions import rules
from foamwright.questions.case import Case
from foamwright.questions.thresholds import of_region

CaseOf = Callable[[str], Case]

GRAMS = 252.5
"""The mass list of the glider, added by hand."""


@pytest.fixture(scope="module")
def weighed(reedling: Case) -> Case:
    """Return the glider weighed to the last digit, finished, at 249.7 g."""
    keys: dict[str, object] = {"airframe.bare_mass": "112 ± 0 g"}
    for item in reedling.plane.items:
        assert item.mass is not None
        keys[f"items.{item.name}.mass"] = f"{item.mass.value * 1e3} ± 0 g"
    glue = 12.0 - (GRAMS - 249.7)
    keys["items.glue, tape and wire.mass"] = f"{glue:.1f} ± 0 g"
    return reedling.changed(keys)


def test_the_figures_are_named_for_good(reedling: Case) -> None:
    """Others read these names; the one most planes break is told first."""
    found = rules.measure(reedling).figures
    assert [(f.name, f.label, f.unit, f.dimension) for f in found] == [
        ("top_speed", "level top speed", "m s^-1", "speed"),
        ("all_up_mass", "all-up mass", "kg", "mass"),
        ("kinetic_energy", "energy at top speed", "J", "energy"),
    ]
    assert [f.limit_high for f in found] == [19.0, 0.250, 80.0]
    assert all(f.limit_low is None for f in found)


def test_the_energy_is_half_m_v_squared(reedling: Case) -> None:
    """Of each sample."""
    energy = 0.5 * reedling.computed.masses.all_up * reedling.computed.full_throttle.top_speed**2
    assert rules.measure(reedling).named("kinetic_energy").value == pytest.approx(np.median(energy))


def test_249_7_g_pass_in_the_eu_and_fail_in_the_us(weighed: Case) -> None:
    """Below 250 g (2019/947), above 0.55 lb = 249.476 g (14 CFR 48.15(b)); every sample alike."""
    mass = rules.measure(weighed).named("all_up_mass")
    assert mass.value == pytest.approx(0.2497, abs=1e-7)
    assert mass.value is not None
    assert mass.limit_high is not None
    assert mass.value < mass.limit_high == 0.250
    over = rules.answer(weighed.changed({"region": "US"}))
    assert (over.verdict, over.probability) == ("no", 0.0)
    assert over.figures[0].limit_high == pytest.approx(0.2494758)
    assert "14 CFR 48.15(b)" in over.because
    slow = rules.answer(weighed.changed({"items.propeller.stock": "propeller 3x1"}))
    top = slow.figures[[f.name for f in slow.figures].index("top_speed")]
    assert slow.probability is not None
    assert top.high is None or top.high < 19.0
    assert slow.verdict == "yes"


def test_a_light_fast_plane_is_not_in_the_freest_class(case: CaseOf) -> None:
    """Below 250 g but far over 68.4 km/h: subcategory A3, with the place to read it."""
    answer = rules.answer(case("windrow"))
    told = {f.name: f for f in answer.figures}
    assert (told["all_up_mass"].high or 1.0) < 0.250
    assert (told["top_speed"].low or 0.0) > 19.0
    assert answer.verdict == "no"
    assert "UAS.OPEN.020(5)(a)" in answer.because
    assert "A3" in answer.because
    assert answer.figures[0].name == "top_speed"


@pytest.mark.parametrize(("bare", "word"), [("90 g", "yes"), ("150 g", "no")])
def test_the_mass_decides_in_the_us(reedling: Case, bare: str, word: str) -> None:
    """22 g less and 38 g more than it weighs; no speed is asked for there."""
    keys: dict[str, object] = {"region": "US", "airframe.bare_mass": bare}
    assert rules.answer(reedling.changed(keys)).verdict == word


def test_an_unfinished_drive_matters_where_speed_does(reedling: Case) -> None:
    """Open in the EU, answered in the US."""
    bare = reedling.changed({"items.motor": None})
    assert rules.answer(bare).verdict == "open"
    assert any("motor" in key for key in rules.answer(bare).missing)
    lone = rules.answer(bare.changed({"region": "US"}))
    assert lone.probability == 1.0
    speeds = [f.value for f in lone.figures if f.name == "top_speed"]
    assert speeds == [None]


@pytest.mark.parametrize("region", ["EU", "US", "UK"])
def test_every_threshold_of_the_region_is_cited(reedling: Case, region: str) -> None:
    """With its citation in brackets; what is not read says how it is held; never legal advice."""
    answer = rules.answer(reedling.changed({"region": region}))
    for threshold in of_region(region):
        assert f"[{threshold.citation}" in answer.because
        assert threshold.held == "read" or f", {threshold.held}]" in answer.because
    assert f"region {region}" in answer.assumed
    assert "No legal advice" in answer.cautions[0]
    assert "law in force where you fly" in answer.cautions[0]


def test_every_remedy_does_what_it_says(reedling: Case) -> None:
    """Each change applied again gives the effect that was told."""
    american = reedling.changed({"region": "US"})
    keys = {change.do: change.keys for change in rules.changes(american)}
    answer = rules.answer(american)
    assert answer.remedies
    for remedy in answer.remedies:
        after = rules.measure(american.changed(keys[remedy.do]))
        chance, mass, speed = remedy.effect
        assert chance.after == after.probability
        assert mass.after == after.named("all_up_mass").value
        assert speed.after == after.named("top_speed").value


def test_no_remedy_is_offered_where_none_reaches(case: CaseOf) -> None:
    """A delta of 415 g at 117 km/h comes below nothing by a small change."""
    assert rules.answer(case("anvil")).remedies == ()

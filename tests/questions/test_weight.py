"""Is it light enough?"""

import numpy as np
import pytest

from foamwright.questions import exchange, weight
from foamwright.questions.case import Case

GRAMS = 252.5
"""The mass list of the glider, added by hand."""

AREA = 0.400 * (0.150 + 0.110)
"""Both halves of its wing [m2]: 10.4 dm2."""


def test_the_figures_are_named_for_good(reedling: Case) -> None:
    """Others read these names."""
    found = weight.measure(reedling).figures
    assert [(f.name, f.label, f.unit, f.dimension) for f in found] == [
        ("all_up_mass", "all-up mass", "kg", "mass"),
        ("wing_loading", "wing loading", "kg m^-2", "wing loading"),
        ("empty_mass", "without the pack", "kg", "mass"),
    ]
    assert [(f.limit_low, f.limit_high) for f in found] == [(None, 0.260)] + [(None, None)] * 2


@pytest.mark.parametrize(
    ("line", "word"), [("280 g", "yes"), ("252.5 g", "unsure"), ("230 g", "no")]
)
def test_the_mass_line_decides(reedling: Case, line: str, word: str) -> None:
    """Far above the sum, on it, far below it."""
    assert weight.answer(reedling.changed({"targets.mass_line": line})).verdict == word


def test_the_sums_are_those_on_paper(reedling: Case) -> None:
    """All of it, all but the pack's 41 g, and all of it over the wing's area."""
    found = weight.measure(reedling)
    assert found.named("all_up_mass").value == pytest.approx(GRAMS / 1e3, abs=0.3e-3)
    assert found.named("empty_mass").value == pytest.approx((GRAMS - 41.0) / 1e3, abs=0.5e-3)
    assert found.named("wing_loading").value == pytest.approx(GRAMS / 1e3 / AREA, rel=2e-3)


def test_the_chance_is_the_share_below_the_line(reedling: Case) -> None:
    """Counted by hand."""
    masses = reedling.computed.masses.all_up
    assert weight.measure(reedling).probability == np.count_nonzero(masses <= 0.260) / 256


def test_the_heaviest_things_are_told(reedling: Case) -> None:
    """Foam, pack, motor."""
    assert weight.answer(reedling).because == (
        "Heaviest are bare foam 112 g, pack 41.0 g, motor 18.0 g."
    )


def test_a_remedy_does_what_it_says(reedling: Case) -> None:
    """The plane without its GPS, weighed again, is the one told."""
    answer = weight.answer(reedling.changed({"targets.mass_line": "250 g"}))
    remedy = next(entry for entry in answer.remedies if "GPS" in entry.do)
    without = weight.measure(
        reedling.changed({"targets.mass_line": "250 g", "items.GPS": None}),
    )
    chance, mass = remedy.effect
    assert (chance.figure, chance.after) == ("probability", without.probability)
    assert (mass.figure, mass.after) == ("all_up_mass", without.named("all_up_mass").value)


def test_no_remedy_is_offered_where_none_reaches(reedling: Case) -> None:
    """150 g are out of reach for every small change; 400 g need none."""
    for line in ("150 g", "400 g"):
        assert weight.answer(reedling.changed({"targets.mass_line": line})).remedies == ()


def test_the_smaller_pack_is_the_next_one_down(reedling: Case) -> None:
    """450 mAh to 300 mAh: lighter by about the 12 g that such packs differ."""
    change = exchange.other_packs(reedling, smaller=True)[0]
    lighter = weight.measure(reedling.changed(change.keys)).named("all_up_mass").value or 0.0
    assert 0.008 < GRAMS / 1e3 - lighter < 0.016


def test_an_estimated_mass_makes_the_answer_provisional(reedling: Case) -> None:
    """A pack known by its label only: told, assumed, and to be weighed."""
    guessed = reedling.changed({"items.pack.mass": None, "items.pack.stock": None})
    labelled = guessed.changed({"items.pack.cells": 3, "items.pack.capacity": "450 mAh"})
    answer = weight.answer(labelled)
    assert answer.provisional
    assert not weight.answer(reedling).provisional
    weighing = weight.heaviest_estimate(labelled)
    assert [change.do.split(" (")[0] for change in weighing] == ["Weigh pack"]
    assert weight.heaviest_estimate(reedling) == []
    assert " g assumed)" in weighing[0].do
    ounces = weight.heaviest_estimate(labelled.changed({"units": "imperial"}))
    assert " oz assumed)" in ounces[0].do
    assert ounces[0].keys == weighing[0].keys

"""S11: a pack that fits a box of foam on edge, not flat."""

from pathlib import Path

import numpy as np
import pytest

from foamwright.jobs.ask import Settings, case_of, opened
from foamwright.questions import fit
from foamwright.questions.case import Case

BOXCAR = Path(__file__).parent / "planes" / "boxcar"


@pytest.fixture(scope="module")
def flat() -> Case:
    """Return the pack laid flat in a fuselage 34 mm wide and 52 mm tall."""
    return opened(BOXCAR, Settings())[1]


@pytest.fixture(scope="module")
def on_edge(flat: Case) -> Case:
    """Return the same pack on edge."""
    return flat.changed({"items.pack.lies": "on edge"})


def value(case: Case, name: str) -> float:
    """Return a figure's median."""
    found = fit.measure(case).named(name).value
    assert found is not None
    return found


def test_flat_it_is_refused(flat: Case) -> None:
    """31 mm of 34: 1.5 mm of skin at each side where EPS wants 3 (common practice, no source)."""
    told = fit.answer(flat)
    assert told.verdict in ("no", "unlikely")
    assert value(flat, "skin_min") == pytest.approx(1.5e-3, abs=0.1e-3)
    assert "1.50 mm of skin at the side" in told.because


def test_flat_it_takes_two_thirds_of_the_stiffness(flat: Case) -> None:
    """It keeps 32 % of the stiffness and 24 % of the top edge's strength, worked by hand."""
    assert value(flat, "stiffness_kept") == pytest.approx(0.32, abs=0.01)
    assert value(flat, "edge_strength_kept") == pytest.approx(0.24, abs=0.01)


def test_the_way_out_is_on_edge(flat: Case) -> None:
    """The first remedy turns the pack, and its chance is computed."""
    first = fit.answer(flat).remedies[0]
    assert first.do == "Lay pack on edge"
    chance = first.effect[0]
    assert chance.figure == "probability"
    assert (chance.before or 0.0) < 0.1
    assert (chance.after or 0.0) > 0.95


def test_on_edge_it_is_allowed(on_edge: Case) -> None:
    """6.5 mm of skin, 58 % of the stiffness and 47 % of the edge left, worked by hand."""
    assert fit.answer(on_edge).verdict == "yes"
    assert value(on_edge, "skin_min") == pytest.approx(6.5e-3, abs=0.1e-3)
    assert value(on_edge, "stiffness_kept") == pytest.approx(0.58, abs=0.01)
    assert value(on_edge, "edge_strength_kept") == pytest.approx(0.47, abs=0.01)


def test_on_edge_it_asks_for_rods_and_round_corners(on_edge: Case) -> None:
    """Two 1.5 mm rods or tape along both top edges; corners of 3 mm; cut only once."""
    told = fit.answer(on_edge)
    assert "two 1.5 mm carbon rods or glass tape along both top edges" in told.because
    assert any("3 mm" in caution for caution in told.cautions)
    assert any("cannot be uncut" in caution for caution in told.cautions)


def test_a_pocket_that_ends_under_the_trailing_edge_is_told(on_edge: Case) -> None:
    """The wing's trailing edge is at 350 mm: an end at 352 mm is where bodies break."""
    moved = on_edge.changed({"items.pack.at.x": "321 mm"})
    rules = [r for r in fit.answer(moved).rules if r.rule == "in line with the trailing edge"]
    assert [r.holds for r in rules] == [False]
    assert not rules[0].must


def test_written_pockets_take_their_foam_off_the_mass(on_edge: Case) -> None:
    """A hole of 21 x 30 mm over 64 mm in foam of 20 kg/m3 is 0.8 g."""
    cut = on_edge.changed({"items.pack.pocket": "top"})
    before, after = (c.computed.masses.all_up for c in (on_edge, cut))
    hole = 0.021 * 0.0305 * 0.064
    assert np.median(before - after) == pytest.approx(20.0 * hole, rel=0.02)
    assert value(on_edge, "foam_removed_mass") == pytest.approx(20.0 * hole, rel=0.02)


def test_a_part_larger_than_the_body_says_which_rule_binds(flat: Case) -> None:
    """40 mm in 34: it breaks through, and the places where it would not are looked for."""
    told = fit.answer(flat.changed({"items.pack.size.width": "40 mm"}))
    assert told.verdict == "no"
    assert "breaks 3.50 mm through the side" in told.because
    assert told.remedies[0].do == "Lay pack on edge"


def test_a_part_outside_the_foam_is_told(flat: Case) -> None:
    """At x = 510 mm there is no foam any more."""
    told = fit.answer(flat.changed({"items.pack.at.x": "510 mm"}))
    assert told.verdict == "no"
    assert "outside the foam" in told.because


def test_a_missing_size_is_asked_for(flat: Case) -> None:
    """Nothing is guessed about a box nobody measured."""
    unknown = {"kind": "other", "mass": "5 g", "at": {"x": "200 mm"}}
    told = fit.answer(flat.changed({"items.thing": unknown}))
    assert told.verdict == "open"
    assert told.missing == ("items.thing.size",)


def test_same_case_same_answer(flat: Case) -> None:
    """Nothing random is left in it."""
    assert fit.answer(flat) == fit.answer(case_of_again())


def case_of_again() -> Case:
    """Return the same plane read anew."""
    loaded, case = opened(BOXCAR, Settings())
    return case_of(loaded, case.computed.draws)

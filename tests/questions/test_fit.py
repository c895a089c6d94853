"""Does the gear fit in the foam?"""

import numpy as np
import pytest

from foamwright.questions import fit
from foamwright.questions.case import Case


def value(case: Case, name: str) -> float:
    """Return a figure's median."""
    found = fit.measure(case).named(name).value
    assert found is not None
    return found


def test_the_examples_can_be_built(reedling: Case, windrow: Case, anvil: Case) -> None:
    """Their builders asked before they cut."""
    for case in (reedling, windrow, anvil):
        assert fit.answer(case).verdict in ("yes", "likely")


def test_the_verdict_hangs_on_the_tightest_hard_rule(reedling: Case) -> None:
    """The chance is the share of samples with room to spare everywhere."""
    measured = fit.measure(reedling)
    assert measured.probability == pytest.approx(np.mean(measured.deciding >= 0.0))
    assert measured.key_figure is not None
    assert measured.key_figure.name == "margin"


def test_a_wider_part_fits_less(reedling: Case) -> None:
    """Monotonous in the width of the pack."""
    chances = [
        fit.measure(
            reedling.changed(
                {"items.pack.size": {"length": "58 mm", "width": "30 mm", "height": f"{wide} mm"}}
            )
        ).probability
        or 0.0
        for wide in (14, 24, 28, 32)
    ]
    assert chances == sorted(chances, reverse=True)
    assert chances[-1] < 0.05


def test_the_foam_that_comes_out_is_volume_times_density(reedling: Case) -> None:
    """28 kg/m3 of EPO: common practice, no source."""
    volume = sum(p.volume for p in reedling.computed.fit.pockets)
    assert value(reedling, "foam_removed_mass") == pytest.approx(28.0 * volume)


def test_written_pockets_move_the_balance(reedling: Case) -> None:
    """Foam taken out ahead of the balance point moves it aft."""
    cut = reedling.changed({"items.pack.pocket": "top"})
    shift = cut.computed.masses.centre[:, 0] - reedling.computed.masses.centre[:, 0]
    assert 0.0 < np.median(shift) < 2e-3
    assert "taken off" in " ".join(cut.computed.masses.assumed)


def test_an_item_without_a_place_leaves_it_open(reedling: Case) -> None:
    """And is asked for by its key."""
    told = fit.answer(reedling.changed({"items.receiver.at": None}))
    assert told.verdict == "open"
    assert "items.receiver.at" in told.missing


def test_a_weakened_body_is_told_with_its_cure(anvil: Case) -> None:
    """Rods are recomputed, not promised."""
    told = fit.answer(anvil)
    assert "two 1.5 mm carbon rods" in told.because
    assert "times as stiff" in told.because


def test_every_rule_is_listed_with_its_source(reedling: Case) -> None:
    """Broken ones first."""
    rules = fit.answer(reedling).rules
    assert {"skin", "stiffness kept", "video transmitter from receiver"} <= {r.rule for r in rules}
    assert [r.holds for r in rules] == sorted(r.holds for r in rules)

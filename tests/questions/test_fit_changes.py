"""What could make the gear fit."""

import numpy as np

from foamwright.questions import fit
from foamwright.questions.case import Case
from foamwright.questions.fit_changes import best_way, changes, least_skin
from foamwright.questions.fit_checks import Check, checks


def hard(case: Case) -> tuple[Check, ...]:
    """Return the hard rules that some samples break."""
    return tuple(c for c in checks(case) if c.told.must and float(np.min(c.margin)) < 0.0)


def test_a_standing_servo_is_laid_down(anvil: Case) -> None:
    """The first way that leaves skin is the least trouble."""
    standing = anvil.changed({"items.elevon servos.lies": "flat"})
    item = next(i for i in standing.plane.items if i.name == "elevon servos")
    found = best_way(standing, item)
    assert found is not None
    assert found.change.keys == {"items.elevon servos.lies": "on edge"}


def test_an_overlap_moves_one_of_the_two(reedling: Case) -> None:
    """To a place with skin where nothing else is."""
    crowded = reedling.changed({"items.receiver.at.x": "205 mm"})
    offered = changes(crowded, hard(crowded))
    assert any("receiver" in change.do for change in offered)
    keys: dict[str, object] = {}
    for change in offered:
        keys |= change.keys
    after = fit.measure(crowded.changed(keys))
    assert after.named("overlaps").value == 0.0


def test_a_propeller_in_foam_is_mounted_higher(reedling: Case) -> None:
    """Motor and propeller rise together by what is missing."""
    low = reedling.changed({"items.propeller.at.z": "60 mm", "items.motor.at.z": "60 mm"})
    told = fit.answer(low)
    rise = next(r for r in told.remedies if "higher" in r.do)
    before, after = (rise.effect[1].before, rise.effect[1].after)
    assert rise.effect[1].figure == "rules_broken"
    assert (before or 0.0) > (after or 0.0)


def test_a_part_that_cannot_fit_stands_out(reedling: Case) -> None:
    """A servo thicker than the wing is let out of it, and that is recomputed."""
    thick = reedling.changed(
        {
            "items.aileron servos.size": {"length": "23 mm", "width": "16 mm", "height": "16 mm"},
            "items.aileron servos.protrudes": None,
        }
    )
    item = next(i for i in thick.plane.items if i.name == "aileron servos")
    found = best_way(thick, item)
    assert found is not None
    assert "out of the foam" in found.change.do
    pockets = thick.changed(found.change.keys).computed.fit.pockets
    skin = min(p.skin for p in pockets if p.item == "aileron servos")
    assert skin >= least_skin(thick)


def test_nothing_is_offered_where_everything_fits(reedling: Case) -> None:
    """No broken rule, no change."""
    assert changes(reedling, ()) == []

"""Rules held against planes."""

import numpy as np
import pytest

from foamwright.questions.case import Case
from foamwright.questions.fit_checks import Check, checks


def broken(case: Case, rule: str) -> list[Check]:
    """Return the broken checks of one rule."""
    return [c for c in checks(case) if c.told.rule == rule and not c.told.holds]


def test_broken_hard_rules_come_first(reedling: Case) -> None:
    """Then the broken soft ones, then what holds."""
    found = checks(reedling.changed({"items.aileron servos.lies": "flat"}))
    order = [(c.told.holds, not c.told.must) for c in found]
    assert order == sorted(order)
    assert order[0] == (False, False)


def test_two_parts_in_one_place_overlap(reedling: Case) -> None:
    """The receiver put where the flight controller sits."""
    assert broken(reedling, "overlap") == []
    found = broken(reedling.changed({"items.receiver.at.x": "205 mm"}), "overlap")
    assert found[0].items == ("receiver", "flight controller")
    assert (found[0].margin < 0.0).mean() > 0.95


@pytest.mark.parametrize(
    ("keys", "rule"),
    [
        ({"items.propeller.at.z": "45 mm"}, "propeller beside foam"),
        ({"airframe.bodies.fuselage.hatches.bay.width": "12 mm"}, "hatch"),
        ({"airframe.bodies.fuselage.hatches.bay.rearmost": "100 mm"}, "hatch"),
        ({"items.flight controller.pocket": "inside"}, "plug in reach"),
        ({"items.ESC.cooling": "buried"}, "air"),
        ({"items.GPS.at.x": "20 mm"}, "GPS from camera"),
        ({"items.receiver.at.x": "100 mm"}, "video transmitter from receiver"),
        ({"items.propeller.at.x": "-5 mm"}, "camera view"),
        ({"items.propeller.at.x": "280 mm"}, "propeller from fingers"),
    ],
)
def test_each_rule_finds_what_breaks_it(reedling: Case, keys: dict[str, object], rule: str) -> None:
    """One change, one rule broken that may have held before."""
    assert broken(reedling.changed(keys), rule)


def test_carbon_under_a_gps_is_told(reedling: Case) -> None:
    """A rod 10 mm under the patch disturbs it."""
    rod = {
        "kind": "rod",
        "mass": "2 g",
        "diameter": "2 mm",
        "at": {"x": "400 mm"},
        "starts": {"x": "350 mm", "z": "-6 mm"},
        "ends": {"x": "450 mm", "z": "-6 mm"},
    }
    assert broken(reedling.changed({"items.boom rod": rod}), "GPS from carbon")
    assert not broken(reedling, "GPS from carbon")


def test_a_pack_over_a_gps_hides_the_sky(anvil: Case) -> None:
    """The GPS under the pack sees nothing."""
    keys = {"items.GPS.at": {"x": "95 mm", "z": "-14 mm"}, "items.GPS.pocket": "bottom"}
    assert broken(anvil.changed(keys), "sky above")


def test_a_pocket_against_the_leading_edge_is_told(reedling: Case) -> None:
    """A servo 12 mm long that begins 3 mm behind the edge."""
    assert broken(reedling.changed({"items.aileron servos.at.x": "226 mm"}), "leading edge")


def test_a_pocket_against_the_hinge_is_told(reedling: Case) -> None:
    """One that ends at the aileron."""
    assert broken(
        reedling.changed({"items.aileron servos.at": {"x": "300 mm", "y": "250 mm"}}), "hinge line"
    )


def test_margins_are_of_every_sample(reedling: Case) -> None:
    """Or one number where nothing is uncertain."""
    for check in checks(reedling):
        assert check.margin.shape in ((1,), (reedling.computed.samples,))
        assert np.isfinite(check.margin).all()
        assert check.told.source

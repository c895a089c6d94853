"""One flight read as a whole."""

import numpy as np
import pytest
from tests.debrief.simulator import MASS, RESISTANCE, Plan, circles, fly, with_holes

from foamwright.debrief.analysis import analyse
from foamwright.debrief.outcome import Facts
from foamwright.debrief.recording import Recording


def whole(seed: int = 2) -> Recording:
    """Return circles, a dash and a glide in one flight."""
    turning = circles(170)
    bank, throttle = turning.bank.copy(), turning.throttle.copy()
    bank[110:] = 0.0
    throttle[115:140], throttle[140:] = 1.0, 0.0
    return fly(Plan(throttle=throttle, bank=bank, seed=seed))


def test_a_flight_of_everything_tells_everything() -> None:
    """Wind, top speed, glide, drag area, resistance and charge are all there, in band order."""
    found = analyse(whole(), Facts(mass=MASS, cells=3))
    assert found.wind is not None
    (missing,) = found.not_said
    assert missing.startswith("the current in level flight")
    names = {one.name for one in found.observations}
    assert {"top_speed", "glide_ratio", "pack_resistance"} <= names
    told = {one.name for one in found.figures}
    assert names | {"mean_airspeed", "charge_used", "drag_area", "drag_area_power"} <= told
    assert all(one.low <= one.value <= one.high for one in found.figures)
    assert all(one.sd > 0.0 for one in found.observations)


def test_one_glide_teaches_once() -> None:
    """Its drag area is a figure beside the glide ratio, no second observation of the same rows."""
    found = analyse(whole(), Facts(mass=MASS))
    glides = [one for one in found.observations if one.name == "glide_ratio"]
    assert "drag_area" not in {one.name for one in found.observations}
    assert len([one for one in found.figures if one.name == "drag_area"]) == len(glides) > 0


def test_observations_name_a_segment_that_exists() -> None:
    """All but the resistance, which is of the whole log, point to a segment."""
    found = analyse(whole(), Facts(mass=MASS))
    known = {one.name for one in found.segments}
    for one in found.observations:
        assert one.segment in known or one.name == "pack_resistance"


def test_the_resistance_is_passed_on() -> None:
    """It is that of the simulated pack within 10 %."""
    seen = {one.name: one.value for one in analyse(whole(), Facts()).observations}
    assert seen["pack_resistance"] == pytest.approx(RESISTANCE, rel=0.1)


def test_a_straight_flight_says_what_it_cannot_tell() -> None:
    """No wind, so no speed through the air, and both are said."""
    found = analyse(fly(Plan(throttle=np.full(60, 1.0), bank=np.zeros(60))), Facts())
    assert found.wind is None
    assert any(word.startswith("the wind") for word in found.not_said)
    assert any("speeds through the air" in word for word in found.not_said)
    assert "top_speed" not in {one.name for one in found.observations}


def test_missing_rows_are_said() -> None:
    """With 22 % missing the holes are told, and the charge is a floor."""
    found = analyse(with_holes(whole(), 0.22), Facts())
    assert any("% of the time" in word for word in found.not_said)
    charge = next(one for one in found.figures if one.name == "charge_used")
    assert "at least" in charge.label


def test_the_charger_speaks_in_the_findings() -> None:
    """A charge put back that is off by a third is a finding."""
    total = next(one for one in analyse(whole(), Facts()).figures if one.name == "charge_used")
    found = analyse(whole(), Facts(charge_put_back=1.33 * total.value))
    assert "current sensor" in found.findings[0].what

"""How slow can it go, and at what speed do I land?"""

import numpy as np
import pytest

from foamwright.questions import landing
from foamwright.questions.case import Case

WEIGHT = 0.2525 * 9.80665
AREA = 0.400 * (0.150 + 0.110)
DENSITY = 101325.0 * (1.0 - 2.25577e-5 * 120.0) ** 5.25588 / (287.053 * 288.15)
"""At 120 m in the standard atmosphere's pressure and the day's 15 degrees (ISO 2533) [kg m^-3]."""


def value(case: Case, name: str) -> float:
    """Return a figure's median."""
    found = landing.measure(case).named(name).value
    assert found is not None
    return found


def test_the_figures_are_named_for_good(reedling: Case) -> None:
    """Others read these names."""
    found = landing.measure(reedling).figures
    assert [(f.name, f.label, f.unit, f.dimension) for f in found] == [
        ("stall_speed", "stall speed", "m s^-1", "speed"),
        ("approach_speed", "approach, 1.3 times stall", "m s^-1", "speed"),
        ("stall_speed_45", "stall speed banked 45 degrees", "m s^-1", "speed"),
        ("glide_ratio", "best glide ratio", "-", "number"),
        ("glide_speed", "speed of best glide", "m s^-1", "speed"),
        ("sink_rate", "least sink, motor off", "m s^-1", "speed"),
        ("maximum_lift", "largest lift coefficient", "-", "number"),
    ]
    assert [(f.limit_low, f.limit_high) for f in found] == [(None, 7.5)] + [(None, None)] * 6


@pytest.mark.parametrize(("wish", "word"), [("10 m/s", "yes"), ("4 m/s", "no")])
def test_the_wish_decides(reedling: Case, wish: str, word: str) -> None:
    """Far above and far below its stall."""
    assert landing.answer(reedling.changed({"targets.stall_speed": wish})).verdict == word


def test_it_stalls_where_the_largest_lift_carries_its_weight(reedling: Case) -> None:
    """sqrt(2 W / (rho S CLmax)) with the weight, wing and air on paper."""
    by_hand = np.sqrt(2.0 * WEIGHT / (DENSITY * AREA * value(reedling, "maximum_lift")))
    assert value(reedling, "stall_speed") == pytest.approx(by_hand, rel=0.01)


def test_approach_and_bank_follow_from_the_stall(reedling: Case) -> None:
    """1.3 times it, common practice; 2^(1/4) times it where lift carries 1/cos 45 the weight."""
    stall = value(reedling, "stall_speed")
    assert value(reedling, "approach_speed") == pytest.approx(1.3 * stall)
    assert value(reedling, "stall_speed_45") == pytest.approx(2.0**0.25 * stall)


def test_mass_raises_the_stall_by_its_root(reedling: Case) -> None:
    """A tenth more mass at the same balance, 4.9 % more speed (trim moves it a little)."""
    more = 0.02525
    place = float(np.median(reedling.computed.masses.centre[:, 0]))
    ballast: dict[str, object] = {
        "items.lead": {
            "kind": "ballast",
            "mass": f"{more * 1e3:.2f} ± 0.1 g",
            "at": {"x": f"{place * 1e3:.1f} mm"},
        }
    }
    heavy = value(reedling.changed(ballast), "stall_speed")
    assert heavy / value(reedling, "stall_speed") == pytest.approx(np.sqrt(1.1), abs=0.005)


def test_thin_air_raises_the_stall(reedling: Case) -> None:
    """At 2000 m the pressure is 79.5 kPa (ISO 2533): 12.1 % more speed than at 120 m, same day."""
    high = reedling.changed({"site.elevation": "2000 m"})
    ratio = value(high, "stall_speed") / value(reedling, "stall_speed")
    assert ratio == pytest.approx(np.sqrt(99891.0 / 79495.0), abs=0.012)


def test_glide_and_sink_belong_together(reedling: Case) -> None:
    """Least sink is no more than the sink at best glide, and not absurdly less."""
    at_glide = value(reedling, "glide_speed") / value(reedling, "glide_ratio")
    assert 0.7 * at_glide < value(reedling, "sink_rate") < 1.05 * at_glide


def test_no_glide_is_flown_below_the_stall(reedling: Case) -> None:
    """Best glide needs a wing that still flies."""
    assert value(reedling, "glide_speed") > value(reedling, "stall_speed")


def test_every_remedy_does_what_it_says(reedling: Case) -> None:
    """The plane without its GPS, asked again, is the one told."""
    slow = {"targets.stall_speed": "6.6 m/s"}
    answer = landing.answer(reedling.changed(slow))
    remedy = next(entry for entry in answer.remedies if "GPS" in entry.do)
    after = landing.measure(reedling.changed({**slow, "items.GPS": None}))
    chance, stall, approach = remedy.effect
    assert chance.after == after.probability
    assert stall.after == after.named("stall_speed").value
    assert approach.after == after.named("approach_speed").value


def test_no_remedy_is_offered_where_none_reaches(reedling: Case) -> None:
    """3 m/s is out of reach by a few grams; 12 m/s need nothing."""
    for wish in ("3 m/s", "12 m/s"):
        assert landing.answer(reedling.changed({"targets.stall_speed": wish})).remedies == ()


def test_the_reason_tells_the_speeds_to_keep_in_mind(reedling: Case) -> None:
    """Approach and the stall in a turn; the true stall is found at height."""
    answer = landing.answer(reedling)
    assert answer.because.startswith(f"Come in at {value(reedling, 'approach_speed'):.2f} m/s")
    assert "already stalls at" in answer.because
    assert "at height" in answer.cautions[0]

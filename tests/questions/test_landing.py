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
        ("approach_banked", "approach banked 30 degrees", "m s^-1", "speed"),
        ("elevator_speed", "slowest the elevator holds", "m s^-1", "speed"),
        ("elevator_left", "up elevator left at the stall", "rad", "angle"),
        ("flare_distance", "float in the flare", "m", "elevation"),
        ("stop_distance", "slide on grass", "m", "elevation"),
        ("approach_gusts", "approach in gusts", "m s^-1", "speed"),
        ("ground_speed_into", "slowest on the screen into the wind", "m s^-1", "speed"),
        ("ground_speed_with", "slowest on the screen with the wind", "m s^-1", "speed"),
        ("go_around_throttle", "throttle for level flight at approach", "-", "fraction"),
        (
            "go_around_climb",
            "climb at approach, full throttle, pack nearly flown",
            "m s^-1",
            "speed",
        ),
    ]
    assert [(f.limit_low, f.limit_high) for f in found][:7] == [(None, 7.5)] + [(None, None)] * 6


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


def test_the_screen_shows_less_into_the_wind_and_more_with_it(reedling: Case) -> None:
    """Airspeed in gusts less and plus the wind; half of half the wind is added for its gusts."""
    windy = reedling.changed({"site.wind": "4 ± 0.1 m/s"})
    gusty = value(windy, "approach_gusts")
    assert gusty == pytest.approx(1.3 * value(windy, "stall_speed") + 0.25 * 4.0, rel=0.03)
    assert value(windy, "ground_speed_into") == pytest.approx(gusty - 4.0, rel=0.03)
    assert value(windy, "ground_speed_with") == pytest.approx(gusty + 4.0, rel=0.03)
    assert "let the screen show no less than" in landing.answer(windy).because


def test_a_wind_nobody_wrote_is_no_wind_and_said(reedling: Case) -> None:
    """No speeds over the ground are told then."""
    calm = reedling.changed({"site.wind": None})
    measured = landing.measure(calm)
    assert "ground_speed_into" not in [f.name for f in measured.figures]
    assert "still air: write site.wind" in measured.assumed
    assert "screen" not in landing.answer(calm).because


def test_wind_on_the_nose_shortens_the_landing(reedling: Case) -> None:
    """Float and slide."""
    calm, windy = (reedling.changed({"site.wind": f"{v} ± 0.1 m/s"}) for v in (0.5, 4))
    for name in ("flare_distance", "stop_distance"):
        assert value(windy, name) < value(calm, name)


def test_an_elevator_without_travel_cannot_hold_the_stall(reedling: Case) -> None:
    """One degree up runs out long before; it is said, and the slowest speed is above the stall."""
    stiff = reedling.changed({"airframe.surfaces.tail.controls.elevator.throw_up": "1 deg"})
    assert value(stiff, "elevator_left") < 0.0
    assert value(stiff, "elevator_speed") > value(stiff, "stall_speed")
    assert "elevator runs out" in landing.answer(stiff).because


def test_the_last_turn_is_flown_faster(reedling: Case) -> None:
    """1/sqrt(cos 30) is 1.0746."""
    ratio = value(reedling, "approach_banked") / value(reedling, "approach_speed")
    assert ratio == pytest.approx(1.0746, abs=1e-4)


def test_there_is_climb_left_to_go_around(reedling: Case) -> None:
    """Never more than straight up, throttle below full; none told without a drive."""
    assert 0.0 < value(reedling, "go_around_throttle") < 1.0
    assert 0.0 < value(reedling, "go_around_climb") <= value(reedling, "approach_speed")
    glider = landing.measure(reedling.changed({"items.motor": None}))
    assert "go_around_climb" not in [f.name for f in glider.figures]


def test_a_plane_too_heavy_for_its_drive_is_told_to_keep_its_speed(reedling: Case) -> None:
    """A third of the thrust is not enough for six times the mass."""
    heavy = reedling.changed(
        {"items.lead": {"kind": "ballast", "mass": "1300 g", "at": {"x": "250 mm"}}}
    )
    assert value(heavy, "go_around_climb") < 0.0
    assert "cannot climb away" in landing.answer(heavy).because

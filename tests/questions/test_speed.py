"""How fast will it go?"""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.questions import speed
from foamwright.questions.case import Case

CaseOf = Callable[[str], Case]

INCH = 0.0254
GRAVITY = 9.80665


def value(case: Case, name: str) -> float:
    """Return a speed figure's median."""
    found = speed.measure(case).named(name).value
    assert found is not None
    return found


def test_the_figures_are_named_for_good(reedling: Case) -> None:
    """Others read these names."""
    found = speed.measure(reedling).figures
    assert [(f.name, f.label, f.unit, f.dimension) for f in found] == [
        ("top_speed", "level top speed", "m s^-1", "speed"),
        ("top_speed_current", "current at that speed", "A", "current"),
        ("static_thrust", "thrust standing still", "N", "pull"),
        ("thrust_to_weight", "thrust standing still over weight", "-", "number"),
        ("climb_rate", "fastest climb", "m s^-1", "speed"),
        ("propeller_rpm", "propeller at top speed", "s^-1", "rotation speed"),
        ("pitch_speed", "pitch speed at that rpm", "m s^-1", "speed"),
    ]
    assert [(f.limit_low, f.limit_high) for f in found] == [(24.0, None)] + [(None, None)] * 6


@pytest.mark.parametrize(("wish", "word"), [("15 m/s", "yes"), ("45 m/s", "no")])
def test_the_wish_decides(reedling: Case, wish: str, word: str) -> None:
    """Far below and far above what it reaches."""
    assert speed.answer(reedling.changed({"targets.top_speed": wish})).verdict == word


def test_the_median_is_an_even_chance(reedling: Case) -> None:
    """Half the planes are faster than the middle one."""
    wish = {"targets.top_speed": f"{value(reedling, 'top_speed'):.4f} m/s"}
    assert speed.measure(reedling.changed(wish)).probability == pytest.approx(0.5, abs=0.01)


def test_pitch_speed_is_pitch_times_revolutions(reedling: Case) -> None:
    """A 5x3 moves on 3 inches a turn without slip."""
    expected = 3.0 * INCH * value(reedling, "propeller_rpm")
    assert value(reedling, "pitch_speed") == pytest.approx(expected)


def test_thrust_to_weight_is_that(reedling: Case) -> None:
    """Over 252.5 g times standard gravity."""
    expected = value(reedling, "static_thrust") / (0.2525 * GRAVITY)
    assert value(reedling, "thrust_to_weight") == pytest.approx(expected, rel=0.01)


def test_the_motor_turns_no_faster_than_its_pack_lets_it(reedling: Case) -> None:
    """Kv 2300 at 3 full cells of 4.2 V, without any load."""
    assert value(reedling, "propeller_rpm") < 2300.0 * 3 * 4.2 / 60.0


def test_more_mass_costs_climb_but_hardly_any_top_speed(reedling: Case) -> None:
    """Fast and flat the drag of lift is small; a climb lifts every gram."""
    heavy = reedling.changed({"airframe.bare_mass": "152 g"})
    assert value(heavy, "top_speed") == pytest.approx(value(reedling, "top_speed"), rel=0.02)
    assert value(heavy, "static_thrust") == pytest.approx(value(reedling, "static_thrust"))
    assert value(heavy, "climb_rate") < 0.95 * value(reedling, "climb_rate")


def test_every_remedy_does_what_it_says(reedling: Case) -> None:
    """Each change applied again gives the effect that was told."""
    keys = {change.do: change.keys for change in speed.changes(reedling)}
    answer = speed.answer(reedling)
    assert answer.remedies
    for remedy in answer.remedies:
        after = speed.measure(reedling.changed(keys[remedy.do]))
        chance, top, current = remedy.effect
        assert chance.after == after.probability
        assert top.after == after.named("top_speed").value
        assert current.after == after.named("top_speed_current").value


def test_no_remedy_is_offered_where_none_reaches(reedling: Case) -> None:
    """No propeller makes a foam glider break 400 km/h; 10 m/s need none."""
    for wish in ("110 m/s", "10 m/s"):
        assert speed.answer(reedling.changed({"targets.top_speed": wish})).remedies == ()


def test_fairing_is_no_remedy_for_a_clean_plane(reedling: Case) -> None:
    """Offered for a taped one only."""

    def fairs(case: Case) -> bool:
        return any("Fair and seal" in change.do for change in speed.changes(case))

    assert fairs(reedling)
    assert not fairs(reedling.changed({"airframe.finish": "clean"}))


def test_a_plane_too_heavy_to_fly_has_no_top_speed(reedling: Case) -> None:
    """Said as it is, with no number made up, and the chance is none."""
    weak = reedling.changed({"items.propeller.stock": "propeller 2x1"})
    answer = speed.answer(weak)
    assert answer.verdict == "no"
    assert answer.figures[0].value is None
    assert "can hold level flight" in answer.because
    assert np.all(np.isfinite(weak.computed.full_throttle.static_thrust))


def test_a_guessed_propeller_makes_it_provisional(reedling: Case) -> None:
    """No bench reading stands behind it; and a fast plane hurts."""
    answer = speed.answer(reedling)
    assert answer.provisional
    assert "hurts" in answer.cautions[0]


def test_the_reason_names_what_sets_the_end(reedling: Case, case: CaseOf) -> None:
    """Past 85 % of its pitch speed the pitch does, below it the drag."""
    for plane in (reedling, case("anvil")):
        flight = plane.computed.full_throttle
        share = float(np.nanmedian(flight.top_speed / flight.pitch_speed))
        word = "the pitch of the propeller" if share > 0.85 else "power against drag"
        assert word in speed.answer(plane).because

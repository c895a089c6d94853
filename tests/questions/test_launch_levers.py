"""What would help a launch, each lever flown anew."""

import dataclasses
from collections.abc import Callable

import pytest

from foamwright.questions import launch
from foamwright.questions.answer import Remedy
from foamwright.questions.case import Case
from foamwright.questions.launch_levers import BREEZE, beyond_the_file, changes, levers

Open = Callable[[str], Case]


def ranked(case: Case) -> tuple[Remedy, ...]:
    """Return every lever that helps."""
    return levers(case, launch.measure(case))


def gained(case: Case) -> dict[str, float]:
    """Return the chance with each lever by its words."""
    return {remedy.do: remedy.effect[0].after or 0.0 for remedy in ranked(case)}


def lever(case: Case, words: str) -> float:
    """Return the chance with the one lever that has these words."""
    (found,) = (after for do, after in gained(case).items() if words in do)
    return found


def test_levers_come_best_first_and_all_help(case: Open) -> None:
    """From the same chance as the answer's."""
    plane = case("anvil")
    before = launch.measure(plane).probability
    chances = [remedy.effect[0] for remedy in ranked(plane)]
    after = [effect.after or 0.0 for effect in chances]
    assert after == sorted(after, reverse=True)
    assert all(effect.before == before for effect in chances)
    assert min(after) >= (before or 0.0) + 0.02


def test_the_answer_offers_the_best_three(case: Open) -> None:
    """In the same order."""
    plane = case("anvil")
    assert launch.answer(plane).remedies == ranked(plane)[:3]


@pytest.mark.parametrize(
    ("words", "keys"),
    [
        ("of wind", {"site.wind": "3 ± 0.5 m/s"}),
        ("on the run", {"thrower.speed": "10.5 ± 1 m/s"}),
        ("start at once", {"thrower.ramp": "0.05 s"}),
    ],
)
def test_a_lever_s_chance_is_what_the_changed_plane_answers(
    case: Open, words: str, keys: dict[str, object]
) -> None:
    """Asked anew at the same throttle: within the throws that the common step may turn."""
    plane = case("anvil")
    throttle = f"{100 * plane.computed.launch.throttle:.0f} %"
    asked = launch.measure(plane.changed({**keys, "thrower.throttle": throttle}))
    assert lever(plane, words) == pytest.approx(asked.probability, abs=0.01)


def test_less_mass_and_more_thrust_are_offered_to_a_heavy_plane(case: Open) -> None:
    """Both as numbers one can aim for: 15 % of the mass, a third more thrust."""
    plane = case("anvil")
    said = " ".join(one.do for one in beyond_the_file(plane))
    assert "Take 60" in said
    assert "standing still" in said
    assert lever(plane, "Take 60") > (launch.measure(plane).probability or 0.0) + 0.05


def test_wind_that_blows_already_is_not_waited_for(case: Open) -> None:
    """Nor a stabiliser switched on that is on, nor a run where a rubber pulls."""
    plane = case("anvil")
    on = {"site.wind": f"{BREEZE} m/s", "thrower.steers": "stabiliser"}
    windy = plane.changed(on)
    said = " ".join(one.do for one in changes(windy, windy.computed.launch))
    assert "of wind" not in said
    assert "stabiliser" not in said
    line = {"length": "2 m", "stretch": "2 m", "pull": "2 kgf"}
    drawn = plane.changed({"bungee": line})
    assert "on the run" not in " ".join(one.do for one in changes(drawn, drawn.computed.launch))


def test_a_glider_is_offered_no_motor_settings(case: Open) -> None:
    """No throttle, ramp, propeller or thrust."""
    plane = case("reedling").changed(dict.fromkeys(("items.motor", "items.propeller")))
    said = " ".join(one.do for one in changes(plane, plane.computed.launch))
    said += " ".join(one.do for one in beyond_the_file(plane))
    for word in ("throttle", "controller", "propeller", "standing still"):
        assert word not in said


def test_a_tractor_is_offered_a_slow_start_a_pusher_a_quick_one(case: Open) -> None:
    """The torque of the one comes too early, the thrust of the other too late."""
    pusher = case("anvil")
    tractor = pusher.changed({"items.motor.at.x": "10 mm"})
    assert any("at once" in one.do for one in changes(pusher, pusher.computed.launch))
    slow = [one.do for one in changes(tractor, tractor.computed.launch)]
    assert any("slowly" in do for do in slow)
    assert not any("at once" in do for do in slow)


def test_nothing_is_offered_where_nothing_can_be_gained(case: Open) -> None:
    """An open question, and a launch that never fails."""
    measured = launch.measure(case("anvil"))
    assert levers(case("anvil"), dataclasses.replace(measured, probability=None)) == ()
    assert levers(case("anvil"), dataclasses.replace(measured, probability=0.99)) == ()


def test_a_written_throttle_is_mended(case: Open) -> None:
    """Half throttle on a heavy plane: the best is offered with its chance."""
    plane = case("anvil").changed({"thrower.throttle": "60 %"})
    assert lever(plane, "of the throttle for the throw") > 0.1

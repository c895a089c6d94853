"""Will it leave the hand?"""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.questions import launch
from foamwright.questions.answer import Answer
from foamwright.questions.case import Case

Open = Callable[[str], Case]
NAMES = [
    ("launch_probability", "chance of a clean launch", "-", "fraction"),
    ("chance_hands_off", "chance with hands off", "-", "fraction"),
    ("chance_pilot", "chance with a pilot's thumbs", "-", "fraction"),
    ("chance_stabiliser", "chance with a stabiliser on", "-", "fraction"),
    ("launch_throttle", "best throttle for it", "-", "fraction"),
    ("launch_angle", "best angle of the throw", "rad", "angle"),
    ("torque_aileron", "aileron that holds the torque", "rad", "angle"),
    ("release_speed", "through the air at the release", "m s^-1", "speed"),
    ("release_over_stall", "release over stall speed", "-", "number"),
    ("least_height", "least height of the lower wing tip", "m", "elevation"),
    ("launch_height", "height after 3 s", "m", "elevation"),
    ("most_bank", "most bank", "rad", "angle"),
]
LINE: dict[str, object] = {"length": "2 m", "stretch": "6 m", "pull": "4 kgf"}


def value(answer: Answer, name: str) -> float:
    """Return a figure's median."""
    found = next(figure for figure in answer.figures if figure.name == name).value
    assert found is not None
    return found


def test_the_figures_are_named_for_good(reedling: Case) -> None:
    """Others read these names."""
    found = launch.measure(reedling).figures
    assert [(f.name, f.label, f.unit, f.dimension) for f in found] == NAMES


def test_the_chance_is_the_share_of_clean_launches(case: Open) -> None:
    """As the plane file has it steered; the figure says the same."""
    measured = launch.measure(case("anvil"))
    assert measured.probability == measured.named("launch_probability").value
    assert measured.probability == measured.named("chance_pilot").value
    assert measured.probability == np.mean(case("anvil").computed.launch.clean)


def test_steering_helps(case: Open) -> None:
    """Hands off worst, on every plane."""
    for plane in ("reedling", "windrow", "anvil"):
        answer = launch.answer(case(plane))
        assert value(answer, "chance_hands_off") < value(answer, "chance_pilot")


def test_torque_aileron_grows_where_the_wing_is_short_and_slow(case: Open) -> None:
    """The delta needs most of the three, and no more than its travel."""
    needed = {p: value(launch.answer(case(p)), "torque_aileron") for p in ("anvil", "reedling")}
    assert needed["reedling"] < needed["anvil"] < np.deg2rad(14.0)


def test_a_plane_without_a_complete_drive_is_open(case: Open) -> None:
    """It has a motor but no propeller: ask, do not guess."""
    found = launch.answer(case("reedling").changed({"items.propeller": None}))
    assert found.verdict == "open"
    assert found.probability is None
    assert any("propeller" in text for text in found.missing)
    assert found.figures == ()
    assert found.remedies == ()


def test_a_glider_is_thrown_without_motor(case: Open) -> None:
    """No throttle and no torque among the figures, no propeller among the cautions."""
    keys = dict.fromkeys(("items.motor", "items.propeller"))
    found = launch.answer(case("reedling").changed(keys))
    names = [figure.name for figure in found.figures]
    assert found.probability is not None
    assert "launch_throttle" not in names
    assert "torque_aileron" not in names
    assert not any("propeller" in text for text in found.cautions)


def test_a_plane_without_elevator_is_told_openly(case: Open) -> None:
    """It is thrown all the same, as the foam balances."""
    found = launch.answer(case("reedling").changed({"airframe.surfaces.tail.controls": None}))
    assert found.probability is not None
    assert any("cannot be trimmed" in text for text in found.assumed)
    assert not any("Trim" in remedy.do for remedy in found.remedies)


def test_the_hand_and_the_propeller_are_warned_of(case: Open) -> None:
    """A pusher passes the hand: throw first."""
    said = " ".join(launch.answer(case("anvil")).cautions)
    assert "propeller passes the hand: throw first" in said
    assert "local rules" in said
    tractor = case("anvil").changed({"items.motor.at.x": "10 mm"})
    assert "throw first" not in " ".join(launch.cautions(tractor))


def test_a_rubber_has_its_own_caution_and_figure(case: Open) -> None:
    """A loaded weapon; the pull in g is told."""
    found = launch.answer(case("anvil").changed({"bungee": LINE}))
    assert "loaded weapon" in found.cautions[0]
    # 4 kgf on 415 g, less the slope of ten degrees.
    assert value(found, "bungee_load") == pytest.approx(4.0 / 0.415 - 0.17, rel=0.03)
    assert found.verdict in ("yes", "likely")


def test_a_hook_that_fails_is_said(case: Open) -> None:
    """Tested with 10 N, pulled with 39 N."""
    found = launch.answer(case("anvil").changed({"bungee": {**LINE, "hook_limit": "10 N"}}))
    assert found.verdict == "no"
    assert "hook fails or veers off in 100%" in found.because


def test_what_was_chosen_is_said(case: Open) -> None:
    """Throttle and angle that nobody wrote."""
    plane = case("anvil")
    assert any("of the throttle" in text for text in launch.answer(plane).assumed)
    written = plane.changed({"thrower.throttle": "100 %"})
    assert not any("of the throttle" in text for text in launch.answer(written).assumed)
    free = launch.answer(plane.changed({"thrower.angle": None}))
    assert any("upwards" in text for text in free.assumed)


def test_the_reason_names_speed_over_stall(case: Open) -> None:
    """The first thing that decides."""
    said = launch.answer(case("anvil")).because
    assert "times its stall speed of 9." in said
    assert "touch the ground" in said


def test_lost_launches_are_told_apart_by_how_long_they_lasted(case: Open) -> None:
    """So that what carries the spread is found among them too: the throw, before all."""
    plane = case("anvil")
    measured = launch.measure(plane)
    found = launch.graded(plane, measured)
    lost = ~plane.computed.launch.clean
    assert (found.deciding[lost] < measured.deciding[lost]).all()
    assert (found.deciding[~lost] == measured.deciding[~lost]).all()
    carried = launch.answer(plane).carried_by
    assert carried[0].input == "throwing speed"
    assert carried[0].share > 0.2


def test_a_plane_without_ailerons_is_told_no_aileron(case: Open) -> None:
    """Its rudder holds the torque through the dihedral, which is another angle."""
    bare = case("reedling").changed({"airframe.surfaces.wing.controls": None})
    names = [figure.name for figure in launch.measure(bare).figures]
    assert "launch_throttle" in names
    assert "torque_aileron" not in names

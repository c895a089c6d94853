"""What is tried to make a plane obey."""

import numpy as np
import pytest

from foamwright.questions.case import Case
from foamwright.questions.control import ROLL_WINDOW
from foamwright.questions.control_changes import (
    better_rod,
    changes,
    fitting_roll,
    longer_horn,
    lower_gain,
    other_throws,
    stronger_servo,
    together,
)

AILERON = "airframe.surfaces.wing.controls.aileron"


def test_the_next_stronger_class_is_tried(reedling: Case) -> None:
    """5 g servos on the ailerons become 9 g ones; their own mass goes."""
    (change,) = stronger_servo(reedling, reedling.computed.steering.held[0])
    assert change.keys["items.aileron servos.stock"] == "servo 9 g"
    assert change.keys["items.aileron servos.mass"] is None
    assert reedling.changed(change.keys).plane.name == reedling.plane.name


def test_a_servo_stronger_than_the_stock_is_left(reedling: Case) -> None:
    """No class beyond."""
    strong = reedling.changed({"items.aileron servos.torque": "9 kgf cm"})
    assert stronger_servo(strong, strong.computed.steering.held[0]) == []


def test_a_longer_horn_is_longer(reedling: Case) -> None:
    """By three tenths of what is there."""
    case = reedling.changed({f"{AILERON}.horn_arm": "10 mm"})
    (change,) = longer_horn(case, case.computed.steering.held[0])
    assert change.keys == {f"{AILERON}.horn_arm": "13.0 mm"}


def test_rods_that_hold_are_left_alone(reedling: Case) -> None:
    """A millimetre of steel holds; 0.3 mm do not, and thicker or supported is tried."""
    assert better_rod(reedling, reedling.computed.steering.held[0]) == []
    thin = reedling.changed({f"{AILERON}.pushrod_diameter": "0.3 mm"})
    found = better_rod(thin, thin.computed.steering.held[0])
    assert len(found) == 2
    assert any("Support" in change.do for change in found)


def test_no_throw_beyond_what_the_flow_follows(reedling: Case) -> None:
    """Three times 12 degrees are too many."""
    held = reedling.computed.steering.held[:1]
    assert other_throws(held, "More", 3.0) == []
    (less,) = other_throws(held, "Less", 0.5)
    assert less.keys[f"{AILERON}.throw_up"] == "6.0 deg"


def test_a_throw_is_found_that_rolls_in_the_window(anvil: Case) -> None:
    """The delta rolls too fast by far; with the throw found it does not."""
    held = anvil.computed.steering.held
    (change,) = fitting_roll(anvil, held, ROLL_WINDOW)
    calm = anvil.changed(change.keys)
    throw = 0.5 * (
        calm.computed.steering.held[0].hinged.up + calm.computed.steering.held[0].hinged.down
    )
    rate = float(np.median(calm.computed.steering.turning(throw).roll_rate))
    assert rate == pytest.approx(np.sqrt(ROLL_WINDOW[0] * ROLL_WINDOW[1]), rel=0.02)


def test_the_gain_is_lowered_only_where_it_is_too_high(windrow: Case) -> None:
    """A tenth of the setting keeps its margin already."""
    assert len(lower_gain(windrow)) == 1
    assert lower_gain(windrow.changed({"tuning.gain": "3 %"})) == []


def test_two_changes_at_once_have_the_keys_of_both(windrow: Case) -> None:
    """And say both."""
    gain = lower_gain(windrow)
    horn = longer_horn(windrow, windrow.computed.steering.held[0])
    (both,) = together(horn, gain)
    assert both.keys == {**horn[0].keys, **gain[0].keys}
    assert "; and lower" in both.do


@pytest.mark.parametrize("stabilised", [True, False])
def test_gains_are_tried_with_a_stabiliser_only(windrow: Case, *, stabilised: bool) -> None:
    """Each change is told once."""
    found = changes(windrow, ROLL_WINDOW, stabilised=stabilised)
    assert any("gain" in change.do for change in found) is stabilised
    assert len({change.do for change in found}) == len(found)

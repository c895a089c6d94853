"""Will it obey without wobbling?"""

import numpy as np
import pytest

from foamwright.questions import control
from foamwright.questions.case import Case

AILERON = "airframe.surfaces.wing.controls.aileron"
CALM = {"tuning.gain": "5 %"}


def value(case: Case, name: str) -> float:
    """Return a figure's median."""
    found = control.measure(case).named(name).value
    assert found is not None
    return found


def test_the_figures_are_named_for_good(reedling: Case) -> None:
    """Others read these names."""
    names = [f.name for f in control.measure(reedling).figures]
    assert names[:12] == [
        "roll_rate",
        "servo_torque_margin",
        "full_throw_speed",
        "servo_time",
        "slop",
        "pushrod_margin",
        "pitch_rate",
        "yaw_rate",
        "adverse_yaw",
        "trim",
        "wobble_speed",
        "gain_ratio",
    ]
    assert all(name.startswith("throw_") for name in names[12:])


def test_the_wanted_roll_decides(reedling: Case) -> None:
    """In reach with a calm stabiliser, out of reach at 700 degrees a second."""
    calm = reedling.changed(CALM)
    assert control.answer(calm).verdict in ("yes", "likely")
    fast = reedling.changed(
        {**CALM, "targets.roll_rate_low": "700 deg/s", "targets.roll_rate_high": "900 deg/s"}
    )
    answer = control.answer(fast)
    assert answer.verdict == "no"
    assert "What binds is the roll rate" in answer.because


@pytest.mark.parametrize(
    ("keys", "binds", "decides"),
    [
        ({"items.aileron servos.torque": "0.02 kgf cm"}, "servo's torque", "servo_torque_margin"),
        ({f"{AILERON}.pushrod_diameter": "0.3 mm"}, "the pushrod", "pushrod_margin"),
        ({"tuning.gain": "300 %"}, "the wobble", "wobble_speed"),
    ],
)
def test_what_binds_is_said(
    reedling: Case, keys: dict[str, object], binds: str, decides: str
) -> None:
    """And it is the figure the verdict hangs on."""
    weak = reedling.changed({**CALM, **keys})
    answer = control.answer(weak)
    assert binds in answer.because
    assert control.measure(weak).decides == decides
    assert answer.probability is not None
    assert answer.probability < 0.5


def test_the_loop_is_left_out_where_nothing_stabilises(reedling: Case) -> None:
    """No board, no wobble."""
    plain = reedling.changed({"items.flight controller": None})
    names = [f.name for f in control.measure(plain).figures]
    assert "wobble_speed" not in names
    assert control.answer(plain).probability is not None


def test_a_lower_gain_wobbles_later(windrow: Case) -> None:
    """Half the gain: later by far, and what is left to lower is half as much."""
    half = windrow.changed({"tuning.gain": "50 %"})
    assert value(half, "wobble_speed") > 1.3 * value(windrow, "wobble_speed")
    assert value(half, "gain_ratio") == pytest.approx(2.0 * value(windrow, "gain_ratio"), rel=1e-6)


def test_every_remedy_does_what_it_says(windrow: Case) -> None:
    """Asked again with its keys, the plane has the chance that was promised."""
    answer = control.answer(windrow)
    assert answer.remedies
    gain = next(r for r in answer.remedies if r.do.startswith("Lower the stabiliser's gain"))
    ratio = float(np.median(windrow.computed.rate_loop.gain_ratio))  # type: ignore[union-attr]
    after = control.measure(windrow.changed({"tuning.gain": f"{100.0 * ratio:.1f} %"}))
    assert gain.effect[0].after == after.probability


def test_a_weak_servo_is_cured_by_a_stronger_one_or_a_longer_horn(reedling: Case) -> None:
    """Recomputed, not canned."""
    weak = reedling.changed({**CALM, "items.aileron servos.torque": "0.12 kgf cm"})
    does = " | ".join(r.do for r in control.answer(weak).remedies)
    assert "servo as aileron servos" in does or "horn" in does


def test_a_plane_without_surfaces_or_servos_is_asked_for_them(reedling: Case) -> None:
    """Open, with the key to write."""
    answer = control.answer(reedling.changed({f"{AILERON}.servo": None}))
    assert answer.verdict == "open"
    assert answer.missing == (f"{AILERON}.servo, the name of the item that moves it",)
    assert answer.figures == ()
    assert answer.remedies == ()


def test_elevons_tell_what_pitch_leaves_to_roll(windrow: Case, reedling: Case) -> None:
    """Only surfaces with two commands have such a figure."""
    assert 0.0 <= value(windrow, "mixed_left") <= 1.0
    assert "mixed_left" not in [f.name for f in control.measure(reedling).figures]


def test_the_reason_tells_throws_and_handling(windrow: Case) -> None:
    """In the builder's words."""
    said = control.answer(windrow).because
    assert "First flight, low rate: elevon" in said
    assert "rolling stops" in said
    assert control.answer(windrow).provisional


def test_it_holds_the_usual_cautions(reedling: Case) -> None:
    """Propellers spin, surfaces are reversed."""
    cautions = " ".join(control.answer(reedling).cautions)
    assert "propeller off" in cautions
    assert "right way" in cautions


def test_a_plane_without_ailerons_is_judged_by_the_rest(reedling: Case) -> None:
    """Nothing rolls it by a surface of its own: no roll rate is told, nor asked for."""
    measured = control.measure(reedling.changed({**CALM, AILERON: None}))
    assert measured.probability is not None
    assert measured.probability > 0.9
    assert "roll_rate" not in [f.name for f in measured.figures]
    weak = reedling.changed({AILERON: None})
    assert [e.figure for e in control.answer(weak).remedies[0].effect][:2] == [
        "probability",
        "servo_torque_margin",
    ]
    assert "adverse_yaw" not in [f.name for f in measured.figures]


def test_a_plane_without_any_control_is_asked_for_them(reedling: Case) -> None:
    """Open, not a fault."""
    bare: dict[str, object] = {
        f"airframe.surfaces.{surface}.controls.{control_}": None
        for surface, control_ in (("wing", "aileron"), ("tail", "elevator"), ("fin", "rudder"))
    }
    answer = control.answer(reedling.changed(bare))
    assert answer.verdict == "open"
    assert "the parts that move" in answer.missing[0]

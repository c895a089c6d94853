"""Servos at full throw, and steady turning."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.control import MIXED, control_inputs, roll_throw, second_left

Computed = Callable[..., ComputablePlane]
AILERON = "airframe.surfaces.wing.controls.aileron"
ELEVON = "airframe.surfaces.wing.controls.elevon"


def median(values: np.ndarray) -> float:
    """Return the middle."""
    return float(np.nanmedian(values))


def test_the_aileron_moment_by_hand(computed: Computed) -> None:
    """0.70 of thin theory for E = 0.24, 12 degrees, at top speed (plus what the wing's angle adds).

    CTL-6 by interpolation at 0.24: -0.9394 per radian.
    """
    plane = computed("reedling")
    held = plane.steering.held[0]
    pressure = 0.5 * plane.air.density * plane.steering.top_speed**2
    one = held.hinged
    by_hand = 0.70 * 0.9394 * np.radians(12.0) * pressure * one.square_chord * one.length
    assert median(held.moment / by_hand) == pytest.approx(1.0, abs=0.1)


def test_a_longer_horn_holds_more(computed: Computed) -> None:
    """Half as long again: at 10 degrees down, h cos d / (a cos t) with a sin t = h sin d."""
    usual, longer = (
        computed("reedling", {f"{AILERON}.horn_arm": f"{size} mm"}).steering.held[0]
        for size in (12, 18)
    )
    gain = median(longer.torque_margin) / median(usual.torque_margin)
    arms = [np.arcsin(horn / 8.0 * np.sin(np.radians(10.0))) for horn in (12.0, 18.0)]
    assert gain == pytest.approx(1.5 * np.cos(arms[0]) / np.cos(arms[1]), abs=0.02)
    assert median(longer.rod_margin) / median(usual.rod_margin) == pytest.approx(1.5, abs=0.02)
    assert median(longer.turn) > median(usual.turn)
    assert median(longer.slop) < median(usual.slop)


def test_less_throw_holds_more_and_rolls_less(computed: Computed) -> None:
    """Half the throw, about twice the margin, half the roll rate."""
    whole = computed("reedling")
    half = computed("reedling", {f"{AILERON}.throw_up": "6 deg", f"{AILERON}.throw_down": "5 deg"})
    gain = median(half.steering.held[0].torque_margin / whole.steering.held[0].torque_margin)
    assert gain == pytest.approx(2.0, abs=0.2)
    rates = [p.steering.turning(throw).roll_rate for p, throw in ((whole, 0.2), (half, 0.1))]
    assert median(rates[0] / rates[1]) == pytest.approx(2.0, rel=1e-6)


def test_a_horn_too_short_for_the_arm_holds_nothing(computed: Computed) -> None:
    """A throw the linkage cannot reach is no throw: margins are nothing there."""
    keys = {f"{AILERON}.horn_arm": "30 mm", "items.aileron servos.arm": "5 mm"}
    held = computed("reedling", {**keys, f"{AILERON}.throw_up": "25 deg"}).steering.held[0]
    assert median(held.torque_margin) == 0.0
    assert median(held.rod_margin) == 0.0


def test_a_shared_servo_has_less_margin(computed: Computed) -> None:
    """Elevator and rudder on one piece: their moments add up on each."""
    apart = {h.hinged.name: h for h in computed("reedling").steering.held}
    both = computed("reedling", {"items.tail servos.count": 1}).steering.held
    shared = {h.hinged.name: h for h in both}
    total = median(apart["elevator"].moment) + median(apart["rudder"].moment)
    assert median(shared["elevator"].moment) == pytest.approx(total, rel=0.02)
    assert median(shared["rudder"].moment) == pytest.approx(total, rel=0.02)


def test_rod_and_support_by_the_book(computed: Computed) -> None:
    """Thicker by half: 1.5^4; half the free length: 4 times (Euler)."""
    base = median(computed("reedling").steering.held[0].rod_margin)
    thick = computed("reedling", {f"{AILERON}.pushrod_diameter": "1.5 mm"})
    assert median(thick.steering.held[0].rod_margin) / base == pytest.approx(1.5**4, rel=1e-3)
    # Servo at 272 mm, hinge near 320 mm: the whole rod is shorter than a supported piece.
    free = computed("reedling").steering.held[0].hinged.rod_free
    short = computed("reedling", {f"{AILERON}.pushrod_free": f"{500 * free:.4f} mm"})
    assert median(short.steering.held[0].rod_margin) / base == pytest.approx(4.0, rel=1e-3)


def test_steady_roll_is_the_ratio_of_the_derivatives(computed: Computed) -> None:
    """p = -2 V Clda da / (b Clp) (Nelson, CTL-2), sample by sample."""
    plane = computed("reedling")
    d = plane.derivatives
    found = plane.steering.turning(0.2, 15.0)
    by_hand = -2.0 * 15.0 * np.abs(d.Clda) * 0.2 / (d.span * d.Clp)
    assert found.roll_rate == pytest.approx(by_hand)


def test_a_plane_without_rudder_has_no_yaw_rate(computed: Computed) -> None:
    """The plank yaws by itself only; with elevons it lags its nose in a roll."""
    found = computed("windrow").steering.turning(0.2)
    assert np.isnan(found.yaw_rate).all()
    assert median(found.adverse_yaw) > 0.0


def test_the_throw_in_roll_is_the_mean_of_both_ways(computed: Computed) -> None:
    """12 and 10 degrees make 11; a plane without ailerons has none."""
    held = computed("reedling").steering.held
    assert np.degrees(roll_throw(tuple(h.hinged for h in held))) == pytest.approx(11.0)
    assert roll_throw(tuple(h.hinged for h in held[1:])) == 0.0


def test_elevons_lose_roll_to_pitch(computed: Computed) -> None:
    """14 degrees of travel: 7 for pitch leave half; ailerons lose nothing."""
    hinged = tuple(h.hinged for h in computed("windrow").steering.held)
    assert hinged[0].role in MIXED
    left = second_left(hinged, np.radians([0.0, 7.0, 20.0]))
    assert left == pytest.approx([1.0, 0.5, 0.0])
    assert second_left(tuple(h.hinged for h in computed("reedling").steering.held), left) is None


def test_all_inputs_are_listed(computed: Computed) -> None:
    """Hinge moments and servos' load come first."""
    keys = [key for key, _ in control_inputs(computed("windrow").plane)]
    assert keys[:2] == ["model.hinge_moment", "model.servo_load"]
    assert len(keys) == len(set(keys))

"""Neutral point, slope and trim of whole planes against handbook formulas."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.lift import FLAP_POWER, SECTION_SLOPE, TAIL_EFFICIENCY, body_moment

Computed = Callable[..., ComputablePlane]


def helmbold(aspect_ratio: float) -> float:
    """Return the lift slope of a straight wing (Helmbold 1942) [rad^-1]."""
    return float(2.0 * np.pi * aspect_ratio / (2.0 + np.sqrt(4.0 + aspect_ratio**2)))


def test_the_glider_has_the_textbook_neutral_point(computed: Computed) -> None:
    """h = h_w + eta V a_t / a_w (1 - 2 a_w / pi A), less the body: Nelson 1998, within 2 % chord.

    Wing and tail alone give 48 % of the mean chord (x 277 mm) with h_w = 1/4, as the quarter-chord
    formulas do; a wing of aspect ratio 6 has h_w = 0.2395 by the published lattice table (WNG-12 of
    tests/published), which is what the lattice is held to.
    """
    plane = computed("reedling")
    lift, body = plane.lift, body_moment(plane.plane.airframe)
    wing, tail = helmbold(0.8**2 / 0.104), helmbold(0.3**2 / 0.018)
    chord = float(np.median(lift.mean_chord))
    volume = 0.018 * 0.395 / (0.104 * chord)
    wash = 2.0 * wing / (np.pi * 0.8**2 / 0.104)
    tails = TAIL_EFFICIENCY[0] * volume * tail / wing * (1.0 - wash)
    quarter = float(lift.pitch.about[0])
    without = quarter + tails * chord
    slope = np.median(lift.pitch.lift[:, 1])
    textbook = without - (0.25 - 0.2395) * chord - body / (lift.area * slope)
    assert without == pytest.approx(0.277, abs=2e-3)
    assert np.median(lift.neutral_point) == pytest.approx(textbook, abs=0.02 * chord)


def test_a_body_moves_the_neutral_point_forward(computed: Computed) -> None:
    """By its moment over the lift slope; about 1-4 % of the chord for such a pod (trade figure)."""
    with_body = computed("reedling").lift
    without = computed("reedling", {"airframe.bodies": []}).lift
    moved = np.median(without.neutral_point - with_body.neutral_point)
    assert 0.005 < moved / np.median(with_body.mean_chord) < 0.045


def test_the_lift_slope_is_the_finite_wings(computed: Computed) -> None:
    """Lattice slope of the plank over the section factor: Helmbold's with square tips, 4 %.

    Helmbold's formula is an elliptic wing's. Square tips at A / a = 0.56 add 14 % to the induced
    angle (Glauert 1926, from memory), which costs 5 % of the slope.
    """
    ratio = 0.6 / 0.17
    square = (1.0 + 2.0 / ratio) / (1.0 + 2.0 / ratio * 1.14)
    slope = np.median(computed("windrow").lift.pitch.lift[:, 1])
    assert slope / SECTION_SLOPE[0] == pytest.approx(helmbold(ratio) * square, rel=0.04)


def test_the_neutral_point_carries_its_own_error(computed: Computed) -> None:
    """Model error and ruler come to 3.3-4.5 % of the mean chord, as flights of models show."""
    for name in ("reedling", "windrow", "anvil", "saltmarsh"):
        lift = computed(name).lift
        spread = np.std(lift.neutral_point) / np.median(lift.mean_chord)
        assert 0.030 < spread < 0.045


def test_more_tail_more_stability_aft(computed: Computed) -> None:
    """A tail two times as deep moves the neutral point aft by some 10 % of the chord or more."""
    base = computed("reedling").lift
    keys: dict[str, object] = {
        f"airframe.surfaces.tail.stations.{end}.chord": "100 mm" for end in (0, 1)
    }
    more = computed("reedling", keys).lift
    assert np.median(more.neutral_point - base.neutral_point) > 0.05 * 0.131


def test_a_swept_wing_is_loaded_further_inboard_than_its_mean_chord(computed: Computed) -> None:
    """The quarter point of the mean chord lies at 134 mm; an elliptic load puts it further ahead.

    The centre of an elliptic load lies at 4 / (3 pi) of the half span, where the quarter chord
    of this wing is at x = 127.6 mm; a tapered one lies between the two.
    """
    lift = computed("saltmarsh").lift
    half, root, tip, sweep = 0.38, 0.23, 0.15, 0.1853
    at = 4.0 / (3.0 * np.pi)
    elliptic = at * sweep + 0.25 * (root + at * (tip - root))
    assert half * at == pytest.approx(0.161, abs=1e-3)
    found = float(np.median(lift.neutral_point))
    assert elliptic - 2e-3 < found < 0.1344
    low, high = np.quantile(lift.neutral_point, (0.1, 0.9))
    assert low < 0.1344 < high


def test_a_plane_without_pitch_control_says_so(computed: Computed) -> None:
    """No elevator drawn: trim drag is left out aloud, and nothing deflects."""
    lift = computed("reedling", {"airframe.surfaces.tail.controls": []}).lift
    assert not lift.steerable
    assert any("trim drag left out" in text for text in lift.assumed)
    assert np.all(lift.pitch.lift[:, 2] == 0.0)


def test_controls_keep_seven_tenths_of_their_power(computed: Computed) -> None:
    """Median and spread of what is left at low Reynolds number; elevator down raises the tail."""
    lift = computed("reedling").lift
    assert np.median(lift.flap_power) == pytest.approx(FLAP_POWER[0], rel=0.02)
    assert np.all(lift.pitch.lift[:, 2] > 0)
    assert np.all(lift.pitch.moment[:, 2] < 0)


def test_pitching_is_damped(computed: Computed) -> None:
    """Cm_q of a tailed plane is near -2 a_t eta V l / c (Nelson 1998), the wing's share on top."""
    lift = computed("reedling").lift
    chord = float(np.median(lift.mean_chord))
    volume = 0.018 * 0.395 / (0.104 * chord)
    tail = -2.0 * helmbold(5.0) * volume * 0.395 / chord
    assert 0.9 * tail > np.median(lift.pitch_damping) > 1.6 * tail


def test_induced_drag_is_that_of_a_good_wing(computed: Computed) -> None:
    """CL^2 / (pi A e) at one radian: span efficiency 0.85 to 1.02 for a straight tapered wing."""
    lift = computed("windrow").lift
    slope = lift.strips.lift[:, 1] @ (
        lift.strips.area * lift.strips.upright / lift.strips.reference_area
    )
    form = float(np.median(lift.induced[:, 1, 1]))
    assert 0.85 < slope**2 / (np.pi * lift.aspect_ratio * form) < 1.02

"""Four bars, their play, their rod and their mixing."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.gear.linkage import (
    Linkage,
    buckling_load,
    driven,
    edge_play,
    edge_travel,
    reversed_linkage,
    rod_stiffness,
    servo_angle,
    travel_left,
)


def bars(
    arm: float = 0.008, horn: float = 0.012, *, rod: float = 0.1, lean: float = 0.0
) -> Linkage:
    """Return a linkage with its servo arm leaning."""
    return Linkage(
        servo_arm=np.array([arm]),
        horn_arm=np.array([horn]),
        rod=np.array([rod]),
        servo_offset=np.array([lean]),
        horn_offset=np.array([0.0]),
    )


def test_neutral_stays_neutral() -> None:
    """No turn, no deflection; the ratio is that of the arms."""
    found = driven(bars(), np.zeros(1))
    assert found.angle[0] == pytest.approx(0.0, abs=1e-12)
    assert found.ratio[0] == pytest.approx(8.0 / 12.0)
    assert found.lever[0] == pytest.approx(0.012)
    assert not found.locked[0]


@given(turn=st.floats(-0.9, 0.9), rod=st.floats(0.03, 0.4))
def test_equal_arms_are_a_parallelogram(turn: float, rod: float) -> None:
    """The horn follows the servo angle by angle."""
    found = driven(bars(0.01, 0.01, rod=rod), np.array([turn]))
    assert found.angle[0] == pytest.approx(turn, abs=1e-9)
    assert found.ratio[0] == pytest.approx(1.0, abs=1e-9)


@given(turn=st.floats(-0.6, 0.6))
def test_a_long_rod_moves_both_holes_alike(turn: float) -> None:
    """Servo arm times sine is horn times sine."""
    found = driven(bars(rod=50.0), np.array([turn]))
    assert 0.012 * np.sin(found.angle[0]) == pytest.approx(0.008 * np.sin(turn), abs=2e-6)


@given(turn=st.floats(-0.6, 0.6), lean=st.floats(-0.4, 0.4), rod=st.floats(0.04, 0.2))
def test_there_and_back(turn: float, lean: float, rod: float) -> None:
    """The servo angle of the deflection that a servo angle gives is that angle."""
    linkage = bars(rod=rod, lean=lean)
    out = driven(linkage, np.array([turn]))
    back = servo_angle(linkage, out.angle)
    assert back.angle[0] == pytest.approx(turn, abs=1e-8)
    assert back.ratio[0] * out.ratio[0] == pytest.approx(1.0, rel=1e-6)


@given(turn=st.floats(-0.6, 0.6), lean=st.floats(-0.4, 0.4))
def test_the_ratio_is_the_slope_of_the_angle(turn: float, lean: float) -> None:
    """Virtual work: central difference of the angle."""
    linkage, step = bars(rod=0.05, lean=lean), 1e-5
    ahead = driven(linkage, np.array([turn + step])).angle[0]
    behind = driven(linkage, np.array([turn - step])).angle[0]
    slope = (ahead - behind) / (2.0 * step)
    assert driven(linkage, np.array([turn])).ratio[0] == pytest.approx(slope, rel=1e-5)


def test_the_rod_keeps_its_length() -> None:
    """Both pins of a leaning linkage, by hand."""
    linkage = bars(rod=0.06, lean=0.3)
    for turn in (-0.5, 0.1, 0.6):
        horn = driven(linkage, np.array([turn])).angle[0]
        servo = 0.008 * np.array([np.sin(0.3 + turn), np.cos(0.3 + turn)])
        hinge = np.array([0.008 * np.sin(0.3) + 0.06, 0.008 * np.cos(0.3) - 0.012])
        pin = hinge + 0.012 * np.array([np.sin(horn), np.cos(horn)])
        assert np.hypot(*(pin - servo)) == pytest.approx(0.06)


def test_out_of_reach_is_told_not_computed() -> None:
    """A long arm on a short horn locks before it has turned a right angle."""
    found = driven(bars(0.02, 0.008), np.array([1.2]))
    assert found.locked[0]
    assert np.isnan([found.angle[0], found.ratio[0], found.lever[0]]).all()


def test_turned_round_twice_it_is_as_built() -> None:
    """The other end of the other end."""
    linkage = bars(lean=0.2)
    again = reversed_linkage(reversed_linkage(linkage))
    for name in ("servo_arm", "horn_arm", "rod", "servo_offset", "horn_offset"):
        assert getattr(again, name) == pytest.approx(getattr(linkage, name))


@given(share=st.floats(0.2, 5.0))
def test_buckling_goes_with_one_over_length_squared(share: float) -> None:
    """Twice the free length, a quarter of the load."""
    second = rod_stiffness(np.array([0.001]), np.zeros(1))
    loads = [buckling_load(np.array([200e9]), second, np.array([x])) for x in (0.1, 0.1 * share)]
    assert loads[0] / loads[1] == pytest.approx(share**2)


def test_play_adds_up_over_both_arms() -> None:
    """1 degree at the servo, 0.1 mm at the holes, 30 mm of flap: 0.35 and 0.25 mm."""
    found = edge_play(bars(), np.radians([1.0]), np.array([1e-4]), np.array([0.03]))
    by_hand = 0.03 * (np.radians(1.0) * 8.0 / 12.0 + 1e-4 / 0.012)
    assert found[0] == pytest.approx(by_hand)


def test_a_longer_horn_has_less_play() -> None:
    """Both parts of it shrink."""
    slop, play, chord = np.radians([1.0]), np.array([1e-4]), np.array([0.03])
    assert edge_play(bars(horn=0.016), slop, play, chord) < edge_play(bars(), slop, play, chord)


def test_edge_travel_is_the_sine() -> None:
    """As a ruler held square to the chord tells it."""
    assert edge_travel(np.array([0.04]), np.radians([30.0]))[0] == pytest.approx(0.02)


@pytest.mark.parametrize(
    ("asked", "left"), [(0.0, 1.0), (0.1, 0.5), (-0.1, 0.5), (0.2, 0.0), (0.4, 0.0)]
)
def test_what_one_command_takes_the_other_lacks(asked: float, left: float) -> None:
    """0.2 rad of travel, both commands want all of it."""
    found = travel_left(np.array([0.2]), np.array([asked]), np.array([0.2]))
    assert found[0] == pytest.approx(left)

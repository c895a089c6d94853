"""Plain flaps: limits of thin-aerofoil theory."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.physics.lift.flaps import (
    flap_effectiveness,
    flap_pitching_moment,
    hinge_moment_from_angle,
    hinge_moment_from_deflection,
)


def test_a_flap_as_long_as_the_chord_is_the_whole_section() -> None:
    """Tau one, no moment about the quarter chord, and the section's moment at its nose."""
    whole = np.asarray(1.0)
    assert flap_effectiveness(whole) == pytest.approx(1.0)
    assert flap_pitching_moment(whole) == pytest.approx(0.0, abs=1e-12)
    assert hinge_moment_from_angle(whole) == pytest.approx(-np.pi / 2.0)
    assert hinge_moment_from_deflection(whole) == pytest.approx(-np.pi / 2.0)


@given(st.floats(0.05, 0.9))
def test_a_longer_flap_does_more_for_lift(share: float) -> None:
    """Tau grows with the chord behind the hinge and is larger than that share."""
    short, long = np.asarray(share), np.asarray(share + 0.05)
    assert flap_effectiveness(long) > flap_effectiveness(short) > share


@given(st.floats(0.02, 0.95))
def test_hinge_moments_close_the_flap(share: float) -> None:
    """The flow pushes the flap back against angle and deflection, deflection more."""
    angle, deflection = (
        float(moment(np.asarray(share)))
        for moment in (hinge_moment_from_angle, hinge_moment_from_deflection)
    )
    assert deflection < angle < 0.0

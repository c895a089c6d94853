"""Trim: the answer put back gives the lift and no moment."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from foamwright.physics.lift.trim import LinearPitch, linear_pitch, trim

PITCH = LinearPitch(
    lift=np.asarray([[0.2, 4.8, 0.6]]),
    moment=np.asarray([[0.03, -0.5, -1.8]]),
    about=np.asarray([0.10]),
    chord=np.asarray([0.16]),
)


@settings(deadline=None)
@given(st.floats(0.06, 0.13), st.floats(-0.5, 1.5), st.floats(-0.05, 0.05))
def test_trimmed_flight_has_the_lift_and_no_moment(
    place: float, lift: float, thrust: float
) -> None:
    """Lift and moment about the balance point, summed by hand."""
    found = trim(PITCH, np.asarray([place]), np.asarray([[lift]]), np.asarray([[thrust]]))
    states = np.asarray([1.0, found.alpha[0, 0], found.deflection[0, 0]])
    carried = PITCH.lift[0] @ states
    moment = PITCH.moment[0] @ states + (place - 0.10) / 0.16 * carried + thrust
    assert carried == pytest.approx(lift, abs=1e-9)
    assert moment == pytest.approx(0.0, abs=1e-9)
    assert not found.powerless.any()


def test_slower_flight_needs_up_elevator_in_a_stable_plane() -> None:
    """More lift, more trailing edge up; thrust from below the balance point needs less."""
    lift = np.asarray([[0.2, 0.6, 1.0]])
    calm = trim(PITCH, np.asarray([0.10]), lift, 0.0 * lift)
    pushed = trim(PITCH, np.asarray([0.10]), lift, 0.02 + 0.0 * lift)
    assert np.all(np.diff(calm.deflection[0]) < 0.0)
    assert np.all(pushed.deflection > calm.deflection)


def test_an_elevator_without_power_of_its_own_is_flagged() -> None:
    """A flap that acts as angle of attack does cannot trim: no number, a flag."""
    same = LinearPitch(
        lift=np.asarray([[0.0, 4.0, 2.0]]),
        moment=np.asarray([[0.01, -0.4, -0.2]]),
        about=np.zeros(1),
        chord=np.ones(1),
    )
    found = trim(same, np.zeros(1), np.asarray([[0.5, 0.7]]), np.zeros((1, 2)))
    assert found.powerless.all()
    assert np.isnan(found.alpha).all()


def test_pitch_lines_are_read_from_the_states() -> None:
    """Constant, alpha and the named flap; columns lift and pitching moment."""
    coefficients = np.arange(40.0).reshape(1, 8, 5)
    found = linear_pitch(coefficients, 7, np.zeros(1), np.ones(1))
    assert found.lift.tolist() == [[0.0, 5.0, 35.0]]
    assert found.moment.tolist() == [[3.0, 8.0, 38.0]]

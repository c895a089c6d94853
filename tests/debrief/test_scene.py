"""A flight laid out for its readers."""

import numpy as np
from tests.debrief.simulator import circles, fly

from foamwright.debrief.outcome import Facts
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import scene_of


def test_a_flight_with_circles_has_wind_airspeed_and_segments() -> None:
    """All rows know their airspeed once the wind is known."""
    recording = fly(circles(60))
    scene, unsaid = scene_of(recording, Facts())
    assert unsaid == ""
    assert scene.wind is not None
    assert scene.airspeed is not None
    assert scene.airspeed.shape == recording.time.shape
    assert scene.segments
    assert scene.rates is recording


def test_without_ground_speed_the_reason_is_given() -> None:
    """Neither wind nor airspeed is guessed."""
    still = Recording(time=np.arange(5.0), channels={"voltage": np.ones(5)})
    scene, unsaid = scene_of(still, Facts(), fast=fly(circles(20)))
    assert "no ground speed" in unsaid
    assert scene.wind is None
    assert scene.airspeed is None
    assert scene.rates is scene.fast

"""A log as it was read."""

import numpy as np

from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.recording import Recording


def test_a_log_holds_its_recording_and_how_it_came_to_be() -> None:
    """A log that is not fast has no second recording, one without notes none."""
    recording = Recording(time=np.array([0.0, 0.1]), channels={"height": np.array([1.0, 2.0])})
    log = FlightLog(recording=recording, fast=None, rows=2, columns=(), not_said=())
    assert log.fast is None
    assert log.notes == ()
    assert log.recording.has("height")

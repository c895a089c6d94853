"""A recording keeps its gaps."""

import numpy as np
import pytest

from foamwright.debrief.recording import Gap, Recording
from foamwright.problems import CallProblem


def flown() -> Recording:
    """Return ten seconds at 10 Hz with two and a half missing in the middle."""
    time = np.concatenate([np.arange(0, 40), np.arange(65, 101)]) * 0.1
    return Recording(
        time=time, channels={"voltage": np.full(time.size, 11.0)}, gaps=(Gap(start=3.9, end=6.5),)
    )


def test_coverage_leaves_out_what_is_missing() -> None:
    """25 of 100 steps are missing."""
    assert flown().coverage == pytest.approx(0.75)


def test_stretches_end_at_a_gap() -> None:
    """Two runs of rows, none across the gap."""
    assert flown().stretches() == (slice(0, 40), slice(40, 76))


def test_a_part_keeps_the_gaps_inside() -> None:
    """The gap is inside the first part, not the last."""
    assert flown().between(3.0, 8.0).gaps == (Gap(start=3.9, end=6.5),)
    assert flown().between(7.0, 8.0).gaps == ()


def test_a_channel_that_was_not_recorded_is_told() -> None:
    """The problem names what there is."""
    assert flown().has("voltage")
    with pytest.raises(CallProblem, match="no airspeed"):
        flown().channel("airspeed")

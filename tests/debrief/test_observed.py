"""What one flight brings to a comparison."""

import dataclasses

import pytest

from foamwright.debrief.observed import Flown, Reading


def test_a_flight_is_its_readings_and_one_wind() -> None:
    """Without a word there is no wind error, and a reading has no speed and no conditions."""
    one = Reading(name="top_speed", value=24.0, sd=0.6)
    assert (one.speed, dict(one.conditions)) == (None, {})
    assert Flown(readings=(one,)).wind_sd == 0.0


def test_it_cannot_be_changed_behind_a_comparison() -> None:
    """Readings are frozen."""
    one = Reading(name="top_speed", value=24.0, sd=0.6)
    with pytest.raises(dataclasses.FrozenInstanceError):
        one.value = 25.0  # type: ignore[misc]

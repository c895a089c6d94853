"""Wishes, field and thrower."""

import pytest
from pydantic import ValidationError

from foamwright.plane.plane import Plane
from foamwright.plane.targets import Site, Targets, Thrower


def test_every_wish_may_be_left_out() -> None:
    """A missing wish is none, never a number of our own."""
    assert all(value is None for value in Targets().model_dump().values())
    assert all(value is None for value in Site().model_dump().values())
    assert all(value is None for value in Thrower().model_dump().values())
    assert Plane.model_fields["bungee"].default is None


def test_wishes_are_quantities_in_any_unit() -> None:
    """A speed in mph and a time in minutes come out in SI."""
    targets = Targets.model_validate({"top_speed": "63 mph", "endurance": "8 min"})
    assert targets.top_speed is not None
    assert targets.endurance is not None
    assert targets.top_speed.value == pytest.approx(28.16352)  # NIST SP 811: 0.44704 m/s a mph
    assert targets.endurance.value == pytest.approx(480.0)


def test_more_than_saturated_air_is_refused() -> None:
    """Relative humidity ends at 100 %."""
    assert Site.model_validate({"humidity": "100 %"}).humidity is not None
    with pytest.raises(ValidationError):
        Site.model_validate({"humidity": "130 %"})

"""Places, reaches and boxes."""

import pytest
from pydantic import ValidationError

from foamwright.plane.placement import Place, Reach, Size


def test_a_place_needs_only_its_distance_from_the_nose() -> None:
    """Sideways and height may be left out, and are then not made up here."""
    place = Place.model_validate({"x": "120 ± 2 mm"})
    assert place.x.value == pytest.approx(0.12)
    assert place.x.spread == pytest.approx(0.002)
    assert (place.y, place.z) == (None, None)


def test_a_place_may_lie_left_of_the_middle_and_ahead_of_the_datum() -> None:
    """y and z have a sign, and so has x where the nose is not the foremost thing."""
    place = Place.model_validate({"x": "-10 mm", "y": "-120 mm", "z": "-8 mm"})
    assert place.y is not None
    assert place.y.value < 0 > place.x.value


def test_a_box_has_no_negative_side() -> None:
    """Nothing is -3 mm wide."""
    with pytest.raises(ValidationError):
        Size.model_validate({"length": "58 mm", "width": "-3 mm", "height": "15 mm"})


def test_unknown_keys_and_changes_are_refused() -> None:
    """What is written is strict and stays as it was read."""
    reach = Reach.model_validate({"foremost": "60 mm", "rearmost": "150 mm"})
    with pytest.raises(ValidationError):
        Reach.model_validate({"foremost": "60 mm", "rearmost": "150 mm", "middle": "100 mm"})
    with pytest.raises(ValidationError):
        reach.foremost = reach.rearmost

"""What can be said of the stabiliser, and what is refused with its reason."""

import pytest
from pydantic import ValidationError

from foamwright.plane.tuning import Tuning


def test_everything_may_be_left_out() -> None:
    """Nothing is known, and roll is what wobbles if anything does."""
    known = Tuning()
    assert known.wobble_axis == "roll"
    assert known.model_dump(exclude={"wobble_axis"}, exclude_none=True) == {}


def test_quantities_in_usual_units() -> None:
    """Milliseconds, hertz and any unit of speed come out in SI."""
    known = Tuning.model_validate(
        {
            "frame": "20 ms",
            "gyro_filter": "0.09 kHz",
            "wobble_speed": "79.2 km/h",
            "wobble_frequency": "5.2 ± 0.3 Hz",
        }
    )
    assert known.frame is not None
    assert known.gyro_filter is not None
    assert known.wobble_speed is not None
    assert known.wobble_frequency is not None
    assert known.frame.value == pytest.approx(0.020)
    assert known.gyro_filter.value == pytest.approx(90.0)
    assert known.wobble_speed.value == pytest.approx(22.0)
    assert known.wobble_frequency.spread == pytest.approx(0.3)


@pytest.mark.parametrize(
    ("key", "written"),
    [
        ("wobble_frequency", "300 Hz"),
        ("wobble_frequency", "5"),
        ("wobble_frequency", "5 rpm"),
        ("gyro_filter", "0.5 Hz"),
        ("frame", "20 s"),
        ("delay", "60 m"),
        ("proven_speed", "fast"),
        ("wobble_axis", "yawn"),
        ("gain", "0.4"),
    ],
)
def test_what_it_cannot_be_is_refused(key: str, written: str) -> None:
    """Out of range, without a unit, of another kind, or no key: a controller's own numbers."""
    with pytest.raises(ValidationError):
        Tuning.model_validate({key: written})

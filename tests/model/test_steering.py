"""The stage of steering: top speed, trim and what is missing."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane

Computed = Callable[..., ComputablePlane]


def test_servos_are_judged_at_top_speed(computed: Computed) -> None:
    """That of full throttle, sample by sample."""
    plane = computed("reedling")
    top = plane.full_throttle.top_speed
    known = np.isfinite(top)
    assert plane.steering.top_speed[known] == pytest.approx(top[known])


def test_without_a_drive_the_fastest_speed_looked_at_counts(computed: Computed) -> None:
    """A glider is judged at twice its usual speed."""
    plane = computed("reedling", {"items.motor": None})
    assert plane.steering.top_speed == pytest.approx(2.0 * plane.handling.usual_speed)


def test_trim_needs_more_up_elevator_the_slower_it_flies(computed: Computed) -> None:
    """A plane balanced ahead of its neutral point (Nelson)."""
    steering = computed("windrow").steering
    slow, fast = steering.trim_at(12.0), steering.trim_at(25.0)
    assert float(np.median(slow)) < float(np.median(fast))


def test_a_plane_nothing_trims_has_no_trim(computed: Computed) -> None:
    """No elevator drawn."""
    plane = computed("reedling", {"airframe.surfaces.tail.controls.elevator": None})
    assert np.isnan(plane.steering.trim_at(12.0)).all()


def test_what_is_missing_and_assumed_is_told(computed: Computed) -> None:
    """Nothing is missing in the example; arms are assumed."""
    steering = computed("reedling").steering
    assert steering.missing == ()
    assert any("horn" in said for said in steering.assumed)


def test_inputs_of_steering_come_after_those_of_handling(computed: Computed) -> None:
    """Older answers keep their luck: the new inputs have the last columns."""
    plane = computed("windrow")
    plane.settle()
    keys = [entry.key for entry in plane.draws.inputs()]
    old = [key for key, _ in plane.handling.inputs()]
    new = [key for key, _ in plane.steering.inputs() if key not in old]
    places = [keys.index(key) for key in new]
    assert min(places) > max(keys.index(key) for key in old)

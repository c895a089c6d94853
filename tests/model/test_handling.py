"""Stages of handling are computed once, lazily, and at the speeds said."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.model.handling import USUAL_OVER_STALL
from foamwright.model.rate_loop import BEYOND, LOOP_SPEEDS
from foamwright.plane.document import LoadedPlane

Read = Callable[[str], LoadedPlane]
Computed = Callable[..., ComputablePlane]


def test_every_stage_is_computed_once(computed: Computed) -> None:
    """The same objects whoever asks, by the plane or by its handling."""
    plane = computed("reedling")
    assert plane.handling is plane.handling
    assert plane.derivatives is plane.handling.derivatives
    assert plane.inertia_tensor is plane.handling.inertia_tensor
    assert plane.modes is plane.handling.modes
    assert plane.rate_loop is plane.handling.rate_loop


def test_settling_draws_everything_and_computes_nothing(read: Read) -> None:
    """A question that needs no handling does not pay for it; asking later draws nothing new."""
    plane = ComputablePlane(read("windrow"), Draws(32, 1))
    plane.settle()
    stages = {"derivatives", "inertia_tensor", "modes", "rate_loop"}
    assert not stages & set(vars(plane.handling))
    drawn = [entry.key for entry in plane.draws.inputs()]
    for stage in stages:
        getattr(plane, stage)
    assert [entry.key for entry in plane.draws.inputs()] == drawn
    assert {key for key, _ in plane.handling.inputs()} <= set(drawn)


def test_whatever_is_asked_first_gets_the_same_luck(read: Read) -> None:
    """Loop first or modes first: the same samples."""
    first, second = (ComputablePlane(read("windrow"), Draws(64, 3)) for _ in range(2))
    for plane in (first, second):
        plane.settle()
    early, _ = first.rate_loop, first.modes
    _, late = second.modes, second.rate_loop
    assert early is not None
    assert late is not None
    assert np.array_equal(early.wobble_speed, late.wobble_speed)
    assert np.array_equal(first.modes.sideways.roll, second.modes.sideways.roll)


def test_the_fastest_speed_is_the_top_speed(computed: Computed) -> None:
    """Median top speed with a drive; twice the usual speed without one."""
    plane = computed("windrow")
    top = float(np.nanmedian(plane.full_throttle.top_speed))
    assert plane.handling.fastest == pytest.approx(top)
    glider = computed("saltmarsh").handling
    assert glider.fastest == pytest.approx(BEYOND * glider.usual_speed)


def test_the_loop_is_looked_at_from_stall_to_beyond_the_fastest(computed: Computed) -> None:
    """Rising speeds around all that is flown."""
    plane = computed("windrow")
    loop = plane.rate_loop
    assert loop is not None
    assert loop.speed.size == LOOP_SPEEDS
    assert np.all(np.diff(loop.speed) > 0.0)
    assert loop.speed[0] == pytest.approx(np.median(plane.stall_speed))
    assert loop.speed[-1] > plane.handling.fastest > loop.speed[0]


def test_a_plane_that_cannot_fly_level_still_has_a_speed(computed: Computed) -> None:
    """With a pack of twenty times the weight no sample cruises: stall speed is the measure."""
    keys: dict[str, object] = {"items.pack.mass": "900 g"}
    plane = computed("reedling", keys)
    if not np.isfinite(plane.cruise.speed).any():
        stall = float(np.median(plane.stall_speed))
        assert plane.handling.usual_speed == pytest.approx(USUAL_OVER_STALL * stall)
    assert np.isfinite(plane.handling.usual_speed)
    assert plane.handling.fastest > 0.0

"""Stages run once, in one order, and are shared where nothing changed."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.plane.document import LoadedPlane
from foamwright.plane.variants import overridden
from foamwright.problems import CallProblem

Read = Callable[[str], LoadedPlane]
Computed = Callable[..., ComputablePlane]


def test_whatever_is_asked_first_gets_the_same_luck(read: Read) -> None:
    """Settled, drag first or masses first: the same samples, bit for bit."""
    first, second = (ComputablePlane(read("reedling"), Draws(64, 3)) for _ in range(2))
    first.settle()
    second.settle()
    drag, stall = first.drag.drag, first.stall_speed
    assert np.array_equal(second.stall_speed, stall)
    assert np.array_equal(second.drag.drag, drag)


def test_a_change_of_propeller_keeps_the_lattice(computed: Computed) -> None:
    """The same lift object; a longer wing gets its own."""
    base = computed("reedling")
    assert computed("reedling", {"items.propeller.stock": "propeller 6x4"}).lift is base.lift
    wing = {"airframe.surfaces.wing.stations.1.y": "450 mm"}
    assert computed("reedling", wing).lift is not base.lift


def test_what_was_taken_over_is_what_would_be_computed(read: Read, computed: Computed) -> None:
    """A changed plane made from scratch with the same draws stalls at the same speeds."""
    base = computed("windrow")
    keys: dict[str, object] = {"items.camera": None}
    alone = ComputablePlane(overridden(read("windrow"), keys), base.draws)
    assert np.array_equal(alone.stall_speed, computed("windrow", keys).stall_speed)


def test_a_hotter_field_gets_its_own_air(computed: Computed) -> None:
    """Air is shared only while the site is the same."""
    hot = computed("reedling", {"site.temperature": "35 ± 1 degC"})
    assert np.median(hot.air.density) < 0.95 * np.median(computed("reedling").air.density)


def test_a_plane_without_a_drive_says_what_is_missing(computed: Computed) -> None:
    """The swept wing has no propeller: no drive, and asking for one is refused with the reason."""
    plane = computed("saltmarsh")
    assert plane.drive is None
    assert any("propeller" in text for text in plane.drive_missing)
    with pytest.raises(CallProblem, match="propeller"):
        _ = plane.complete_drive


def test_the_drag_curve_covers_stall_to_beyond_top_speed(computed: Computed) -> None:
    """Rising speeds from below every stall to above every top speed."""
    plane = computed("reedling")
    assert np.all(np.diff(plane.speeds) > 0)
    assert plane.speeds[0] < plane.stall_speed.min()
    assert plane.speeds[-1] > plane.full_throttle.top_speed.max()
    assert not plane.full_throttle.beyond.any()


def test_nose_and_tail_are_the_ends_of_the_foam(computed: Computed) -> None:
    """0 mm and the rear of the fin's tip, 695 mm."""
    plane = computed("reedling")
    assert plane.nose == pytest.approx(0.0)
    assert plane.tail == pytest.approx(0.695)
    assert np.median(plane.weight) == pytest.approx(0.2525 * 9.80665, rel=2e-3)
    assert np.median(plane.pack_mass) == pytest.approx(0.041, rel=5e-3)

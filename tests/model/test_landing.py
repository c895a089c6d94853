"""Coming in, sitting down, going around."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.landing import (
    elevator,
    go_around_of,
    landing_inputs,
    landing_of,
    up_travel,
    wind_of,
)

Computed = Callable[..., ComputablePlane]
ELEVATOR = "airframe.surfaces.tail.controls.elevator"


def test_the_wind_is_what_was_written(computed: Computed) -> None:
    """Its middle and its spread; none where none was written."""
    plane = computed("reedling", {"site.wind": "4 ± 0.5 m/s"})
    wind = wind_of(plane.plane, plane.draws)
    assert float(np.median(wind)) == pytest.approx(4.0, rel=0.02)
    assert float(np.std(wind)) == pytest.approx(0.5, rel=0.1)
    calm = computed("reedling", {"site.wind": None})
    assert not wind_of(calm.plane, calm.draws).any()


def test_inputs_name_the_wind_only_where_there_is_one(computed: Computed) -> None:
    """Grass and gusts always."""
    assert len(landing_inputs(computed("reedling").plane)) == 3
    assert len(landing_inputs(computed("reedling", {"site.wind": None}).plane)) == 2


def test_a_canard_holds_its_nose_up_with_the_trailing_edge_down(computed: Computed) -> None:
    """The travel that counts depends on which way the control works."""
    plane = computed("reedling").plane
    assert np.degrees(up_travel(plane, nose_up=-1.0)) == pytest.approx(12.0)
    assert np.degrees(up_travel(plane, nose_up=1.0)) == pytest.approx(10.0)


def test_more_up_travel_leaves_more_at_the_stall(computed: Computed) -> None:
    """Degree by degree."""
    less, more = (
        elevator(computed("reedling", {f"{ELEVATOR}.throw_up": f"{angle} deg"}))[1]
        for angle in (10, 15)
    )
    assert np.degrees(more - less) == pytest.approx(np.full(more.size, 5.0), abs=1e-6)


def test_a_nose_heavy_plane_runs_out_sooner(computed: Computed) -> None:
    """Lead in the nose asks for more up elevator at each lift."""
    lead = {"items.lead": {"kind": "ballast", "mass": "40 g", "at": {"x": "5 mm"}}}
    heavy = elevator(computed("reedling", lead))[1]
    assert float(np.median(heavy)) < float(np.median(elevator(computed("reedling"))[1]))


def test_without_elevator_nothing_is_said_of_it(computed: Computed) -> None:
    """The stall counts, and no travel is left to tell."""
    plane = computed("reedling", {ELEVATOR: None})
    lift, left = elevator(plane)
    assert lift == pytest.approx(plane.slow_flight.maximum_lift)
    assert np.isnan(left).all()


def test_the_elevator_never_flies_slower_than_the_stall(computed: Computed) -> None:
    """Sample by sample; faster into gusts; less over the ground into the wind than with it."""
    for name in ("reedling", "windrow", "anvil"):
        plane = computed(name)
        found = landing_of(plane)
        assert np.all(found.elevator_speed >= plane.slow_flight.stall_speed)
        assert np.all(found.approach_gusts >= plane.slow_flight.approach_speed)
        assert np.all(found.ground_into <= found.ground_with)


def test_the_climb_of_a_go_around_by_hand(computed: Computed) -> None:
    """Level throttle is below full where the climb is above nothing."""
    plane = computed("reedling")
    found = go_around_of(plane)
    assert found is not None
    speed = float(np.median(plane.slow_flight.approach_speed))
    assert np.all(found.climb <= speed)
    flies = np.isfinite(found.throttle) & (found.climb > 0.0)
    assert np.all(found.throttle[flies] < 1.0)


def test_no_drive_no_go_around(computed: Computed) -> None:
    """A glider lands once."""
    assert go_around_of(computed("reedling", {"items.motor": None})) is None

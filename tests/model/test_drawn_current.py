"""The current a plane's drive draws at a known airspeed and propeller speed."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.drawn_current import SENSOR_SCALE, drawn_at
from foamwright.model.evidence import OBSERVABLE
from foamwright.model.performance import MIDDLE
from foamwright.physics.drive.equilibrium import at_thrust

Computed = Callable[..., ComputablePlane]


@pytest.mark.parametrize("speed", [11.0, 14.0, 18.0])
def test_it_is_that_of_level_flight_at_its_own_revolutions(
    speed: float, computed: Computed
) -> None:
    """At the turns and volts of each plane's level flight: what level flight takes."""
    plane = computed("reedling")
    model, points = plane.complete_drive, plane.level_points(np.array([speed]))
    drag = plane.drag_at(np.array([speed])).drag
    state = at_thrust(model.drive, np.array([[speed]]), drag, MIDDLE)
    rows = np.flatnonzero(points.holds[:, 0])[:20]
    assert rows.size > 5
    for row in rows:
        told = drawn_at(model, speed, state.revolutions[row, 0], state.pack_voltage[row, 0])
        # Gear draws at the voltage under load here, at that without load there.
        assert told[row] == pytest.approx(points.current[row, 0], rel=0.01)


def test_more_revolutions_draw_more_and_more_airspeed_less(computed: Computed) -> None:
    """While the propeller pulls."""
    model = computed("reedling").complete_drive
    slow, fast = (drawn_at(model, 12.0, turns, 11.0) for turns in (200.0, 260.0))
    pulls = np.isfinite(slow)
    assert pulls.mean() > 0.9
    assert (fast[pulls] > slow[pulls]).all()
    assert (drawn_at(model, 14.0, 260.0, 11.0)[pulls] < fast[pulls]).all()


def test_a_propeller_that_the_air_drives_tells_none(computed: Computed) -> None:
    """At 20 m/s a small propeller at 3000 rpm is a windmill."""
    model = computed("reedling").complete_drive
    assert np.isnan(drawn_at(model, 20.0, 50.0, 11.0)).all()


def test_what_the_sensor_is_off_is_shared_by_all_its_readings() -> None:
    """So a hundred seconds do not prove a sensor right."""
    assert OBSERVABLE["propeller_current"].discrepancy == SENSOR_SCALE

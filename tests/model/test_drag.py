"""Drag: the build-up adds up, trim holds, figures lie where the trade has them."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model import spreads
from foamwright.model.computable import ComputablePlane
from foamwright.model.drag import GUESSED_DRAG, PlaneDrag, body_shape, protrusions
from foamwright.physics.arrays import Samples
from foamwright.plane.boxes import box_size

Computed = Callable[..., ComputablePlane]


def coefficient(plane: ComputablePlane, drag: PlaneDrag) -> Samples:
    """Return the total drag coefficient (n, k)."""
    pressure = 0.5 * plane.air.density[:, None] * drag.speed**2
    return drag.drag / (pressure * plane.lift.area)


@pytest.mark.parametrize("name", ["reedling", "windrow", "anvil", "saltmarsh"])
def test_the_parts_of_the_drag_add_up(computed: Computed, name: str) -> None:
    """Sections, induced and parasite drag, times the workmanship of the sample."""
    plane = computed(name)
    drag = plane.drag
    workmanship = plane.draws.factor(spreads.DRAG_LN, key="model.drag", label="")
    parts = (drag.profile + drag.induced + drag.parasite) * workmanship[:, None]
    assert coefficient(plane, drag) == pytest.approx(parts, rel=1e-9)
    assert np.all(drag.profile > 0)
    assert np.all(drag.induced > 0)
    assert np.all(drag.parasite > 0)
    assert np.all(np.isfinite(drag.drag))


def test_lift_carries_the_weight_and_no_moment_is_left(computed: Computed) -> None:
    """CL q S = W, and Cm about the centre of gravity with the thrust's moment is zero."""
    plane = computed("reedling")
    drag, lift = plane.drag, plane.lift
    pressure = 0.5 * plane.air.density[:, None] * drag.speed**2
    assert drag.lift_coefficient * pressure * lift.area == pytest.approx(
        np.broadcast_to(plane.weight[:, None], pressure.shape)
    )
    states = np.stack([np.ones_like(drag.alpha), drag.alpha, drag.deflection], axis=-1)
    force = np.einsum("nks,ns->nk", states, lift.pitch.lift)
    moment = np.einsum("nks,ns->nk", states, lift.pitch.moment)
    centre = plane.masses.centre
    arm = (centre[:, 0] - lift.pitch.about) / lift.pitch.chord
    above = (0.076 - centre[:, 2]) / lift.pitch.chord
    thrust = GUESSED_DRAG[0] + drag.lift_coefficient**2 / (
        np.pi * lift.aspect_ratio * GUESSED_DRAG[1]
    )
    left = moment + arm[:, None] * force - above[:, None] * thrust
    assert force == pytest.approx(drag.lift_coefficient, rel=1e-9)
    assert np.abs(left).max() < 1e-9


def test_the_glider_lies_in_the_trades_drag_bands(computed: Computed) -> None:
    """Zero-lift drag 0.035-0.050 with camera and tape, L/D 8-12: common practice, no source."""
    plane = computed("reedling")
    drag = plane.drag
    total = np.median(coefficient(plane, drag), axis=0)
    lift = np.median(drag.lift_coefficient, axis=0)
    slow = (lift > 0.2) & (lift < 0.65)
    factor, zero = np.polyfit(lift[slow] ** 2, total[slow], 1)
    assert 0.032 < zero < 0.050
    assert 0.5 < 1.0 / (np.pi * plane.lift.aspect_ratio * factor) < 0.9
    assert 8.0 < np.max(lift / total) < 12.0


def test_a_spread_of_drag_is_told_not_hidden(computed: Computed) -> None:
    """Fifteen to thirty-five per cent around the median at cruise, nobody knows it better."""
    plane = computed("reedling")
    at = int(np.argmin(np.abs(plane.drag.speed - 14.0)))
    here = plane.drag.drag[:, at]
    low, middle, high = np.quantile(here, (0.16, 0.5, 0.84))
    assert 0.12 < (high - low) / 2 / middle < 0.35


@pytest.mark.parametrize(
    "keys",
    [
        {"airframe.finish": "rough"},
        {"airframe.hinge_gaps": "open"},
        {"airframe.open_pockets": "6 cm2"},
        {"items.camera.protrudes": "30 mm"},
        {"airframe.protrusions": [{"name": "mast", "shape": "rod", "frontal_area": "4 cm2"}]},
    ],
)
def test_sloppy_work_costs_drag(computed: Computed, keys: dict[str, object]) -> None:
    """Each fault adds drag in every sample at every speed."""
    plane = computed("reedling")
    speeds = np.array([12.0, 20.0])
    assert np.all(computed("reedling", keys).drag_at(speeds).drag > plane.drag_at(speeds).drag)


def test_a_mast_adds_its_handbook_drag(computed: Computed) -> None:
    """A rod of 4 cm2 at a coefficient near 1.1 (Hoerner 1965): 4.4 cm2 and 10 % interference."""
    plane = computed("reedling")
    mast = {"name": "mast", "shape": "rod", "frontal_area": "4 cm2"}
    keys: dict[str, object] = {"airframe.protrusions": [mast]}
    more = computed("reedling", keys)
    speeds = np.array([15.0])
    added = (more.drag_at(speeds).parasite - plane.drag_at(speeds).parasite) * plane.lift.area
    assert np.median(added) * 1e4 == pytest.approx(1.1 * 1.1 * 4.0, rel=0.15)


def test_a_bare_wing_without_a_body_has_finite_drag(computed: Computed) -> None:
    """Nothing is divided by a body that is not there; a fuselage adds drag."""
    bare = computed("reedling", {"airframe.bodies": []})
    speeds = np.array([10.0, 25.0])
    drag = bare.drag_at(speeds).drag
    assert np.all(np.isfinite(drag))
    assert np.all(drag < computed("reedling").drag_at(speeds).drag)


def test_a_body_between_ellipse_and_box(computed: Computed) -> None:
    """Girth of a 34 x 52 mm cut between the ellipse's 138 and the box's 172 mm."""
    body = computed("reedling").plane.airframe.bodies[0]
    shape = body_shape(body, 0.1, 3)
    assert shape.length == pytest.approx(0.69)
    assert shape.diameter == pytest.approx(np.sqrt(4 * 0.9 * 0.034 * 0.052 / np.pi))
    x = [s.x.value for s in body.stations]
    box = [2 * (s.width.value + s.height.value) for s in body.stations]
    assert 0.75 * np.trapezoid(box, x) < shape.wetted_area[0] < np.trapezoid(box, x)


def test_protrusions_are_counted_by_shape(computed: Computed) -> None:
    """Camera, mount, GPS and both wing servos stand in the wind, each as wide as it lies."""
    plane = computed("reedling").plane
    width = {item.name: size[1] for item in plane.items if (size := box_size(item))}
    wanted = sum(
        item.protrudes.value * width.get(item.name, 0.012) * item.count
        for item in plane.items
        if item.protrudes is not None
    )
    assert protrusions(plane, 2).rounded == pytest.approx(wanted)
    assert not protrusions(plane, 2).gaps.any()

"""Inertia of whole planes against hand sums and the trade's radii of gyration."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.foam import volumes
from foamwright.model.inertia import (
    AXES,
    MODEL_LN,
    ROD_SHARE,
    Axis,
    body_pieces,
    foam_pieces,
    inertia_assumed,
    inertia_of,
    item_pieces,
    listed_inertia,
    surface_pieces,
)

Computed = Callable[..., ComputablePlane]
PLANES = ("reedling", "windrow", "anvil", "saltmarsh")


@pytest.mark.parametrize("name", PLANES)
def test_the_foam_is_all_there(computed: Computed, name: str) -> None:
    """Pieces add up to the volume and balance the mass list knows, to 2 % and 3 mm."""
    airframe = computed(name).plane.airframe
    volume, place, size = foam_pieces(airframe)
    whole, centre = volumes(airframe)
    assert volume.sum() == pytest.approx(whole, rel=0.02)
    assert volume @ place[:, 0] / volume.sum() == pytest.approx(centre, abs=3e-3)
    assert np.all(size > 0.0)


@pytest.mark.parametrize("name", PLANES)
def test_every_tensor_is_that_of_a_body(computed: Computed, name: str) -> None:
    """Symmetric, positive, and no moment exceeds the sum of the other two."""
    tensor = computed(name).inertia_tensor
    assert tensor == pytest.approx(np.swapaxes(tensor, 1, 2))
    moments = np.linalg.eigvalsh(tensor)
    assert np.all(moments > 0.0)
    assert np.all(moments[:, 2] < moments[:, 0] + moments[:, 1] + 1e-12)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [("reedling", 0.22, 0.33), ("windrow", 0.27, 0.42), ("saltmarsh", 0.3, 0.42)],
)
def test_radii_of_gyration_are_usual(
    computed: Computed, name: str, low: float, high: float
) -> None:
    """Roll: 0.22-0.30 of half the span with a body, 0.33-0.42 for foam wings; common practice.

    A plank with all its gear in the middle lies a little below, a glider whose spar reaches over
    most of the span a little above.
    """
    plane = computed(name)
    roll = np.median(np.sqrt(plane.inertia_tensor[:, 0, 0] / plane.masses.all_up))
    assert low < roll / (0.5 * plane.derivatives.span[0]) < high


def test_a_pair_far_out_adds_its_parallel_axis(computed: Computed) -> None:
    """Two 9.5 g weights at +-200 mm add 2 * 0.0095 * 0.2^2 in roll (Steiner)."""
    weights = {
        "items.tip weights": {
            "kind": "ballast",
            "mass": "9.5 g",
            "count": 2,
            "at": {"x": "150 mm", "y": "200 mm"},
        }
    }
    base, more = computed("windrow"), computed("windrow", weights)
    gained = np.median(
        listed_inertia(more.plane, more.masses)[:, 0, 0]
        - listed_inertia(base.plane, base.masses)[:, 0, 0]
    )
    assert gained == pytest.approx(2 * 0.0095 * 0.2**2, rel=0.02)


def test_a_plate_is_a_plate(computed: Computed) -> None:
    """A plank's own foam: span and chord squared over twelve, to 8 % (it tapers in thickness)."""
    wing = computed("windrow").plane.airframe.surfaces[0]
    volume, place, size = surface_pieces(wing)
    roll = volume @ (place[:, 1] ** 2 + (size[:, 1] ** 2 + size[:, 2] ** 2) / 12.0) / volume.sum()
    pitch = volume @ (size[:, 0] ** 2 + size[:, 2] ** 2) / 12.0 / volume.sum()
    assert roll == pytest.approx(0.6**2 / 12.0, rel=0.08)
    assert pitch == pytest.approx(0.17**2 / 12.0, rel=0.08)


def test_a_round_body_is_a_cylinder(computed: Computed) -> None:
    """Pieces of a body have the second moments of ellipses: w^2 / 16 each way."""
    body = computed("reedling").plane.airframe.bodies[0]
    volume, _, size = body_pieces(body)
    assert np.all(volume > 0.0)
    width = np.max([s.width.value for s in body.stations])
    assert size[:, 1].max() ** 2 / 12.0 == pytest.approx(width**2 / 16.0, rel=0.01)


def test_a_single_item_is_one_box_a_pair_is_two(computed: Computed) -> None:
    """The pair's halves lie left and right of its middle and add up."""
    plane = computed("anvil")
    mass, place, size = item_pieces(plane.masses.named("elevon servos"))
    assert mass.shape[1] == 2
    assert np.median(place[:, 0, 1] - place[:, 1, 1]) == pytest.approx(0.18)
    assert size.shape == (2, 3)
    assert item_pieces(plane.masses.named("pack"))[0].shape[1] == 1


def test_a_swing_takes_the_place_of_the_estimate(computed: Computed) -> None:
    """Yaw as swung with its own spread; roll and pitch as listed."""
    plane = computed("windrow")
    listed = plane.inertia_tensor
    swings: dict[Axis, tuple[float, float]] = {"yaw": (0.0028, 0.0001)}
    found = inertia_of(plane.plane, plane.masses, plane.draws.branched(), swings)
    assert np.mean(found[:, 2, 2]) == pytest.approx(0.0028, rel=1e-3)
    assert np.std(found[:, 2, 2]) == pytest.approx(0.0001, rel=0.05)
    assert np.array_equal(found[:, :2, :2], listed[:, :2, :2])


def test_what_was_not_swung_carries_the_error_of_boxes(computed: Computed) -> None:
    """The stated spread on top of that of masses and places."""
    plane = computed("windrow")
    ratio = plane.inertia_tensor[:, 0, 0] / listed_inertia(plane.plane, plane.masses)[:, 0, 0]
    assert np.std(np.log(ratio)) == pytest.approx(MODEL_LN, rel=0.1)


def test_what_is_assumed_is_said(computed: Computed) -> None:
    """The rod without a size is a spar; each axis not swung is named."""
    plane = computed("windrow").plane
    said = inertia_assumed(plane)
    assert "roll, pitch, yaw" in said[0]
    assert f"{ROD_SHARE:.0%} of the span" in said[1]
    assert "in roll, pitch from" in inertia_assumed(plane, {"yaw": (0.003, 1e-4)})[0]
    assert inertia_assumed(plane, dict.fromkeys(AXES, (0.003, 0.0001))) == ()

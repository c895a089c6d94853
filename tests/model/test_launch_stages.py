"""What the launch takes from the computable plane."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.launch_stages import has_motor, launch_assumed, setup_of

Computed = Callable[..., ComputablePlane]
WITHOUT_DRIVE = dict.fromkeys(("items.motor", "items.propeller"))


def test_body_is_the_plane_s_mass_and_inertia(computed: Computed) -> None:
    """In flight mechanics' axes; the product of inertia with its sign."""
    plane = computed("anvil")
    body = plane.launch_setup.plane
    assert body.mass == pytest.approx(plane.masses.all_up)
    assert body.inertia_pitch == pytest.approx(plane.inertia_tensor[:, 1, 1])
    assert body.inertia_product == pytest.approx(-plane.inertia_tensor[:, 0, 2])
    assert body.half_span == pytest.approx(0.5 * plane.derivatives.span)


def test_largest_lift_carries_the_weight_at_the_stall(computed: Computed) -> None:
    """On the area of the derivatives."""
    setup = computed("windrow").launch_setup
    load = 0.5 * setup.plane.density * setup.stall_speed**2 * setup.air.area
    assert setup.plane.maximum_lift * load == pytest.approx(setup.plane.mass * 9.80665, rel=1e-6)


def test_slender_wings_hold_their_lift_longer(computed: Computed) -> None:
    """The delta's stall is twice as wide as the glider's."""
    delta, glider = (
        computed(name).launch_setup.plane.stall_width for name in ("anvil", "reedling")
    )
    assert np.rad2deg(delta[0]) == pytest.approx(30.0)
    assert np.rad2deg(glider[0]) == pytest.approx(12.0)


def test_a_glider_is_thrown_without_drive(computed: Computed) -> None:
    """No motor and no propeller: no thrust, and nothing is asked for."""
    plane = computed("reedling", WITHOUT_DRIVE)
    assert not has_motor(plane.plane)
    assert has_motor(computed("reedling").plane)
    assert plane.launch_power.throttle.tolist() == [0.0]
    assert not plane.launch_setup.power.thrust.any()


def test_what_is_left_out_is_said(computed: Computed) -> None:
    """Ground effect, wash and gyroscope; the trim; the spreads of practice."""
    said = " ".join(launch_assumed(computed("anvil")))
    for words in ("ground effect", "wash", "1.2 times the stall speed", "common practice"):
        assert words in said


def test_a_plane_that_cannot_be_trimmed_is_told_openly(computed: Computed) -> None:
    """No elevator: it flies as the foam balances."""
    plane = computed("reedling", {"airframe.surfaces.tail.controls": None})
    said = " ".join(launch_assumed(plane))
    assert "cannot be trimmed" in said
    assert "times the stall speed" not in said


def test_another_throw_needs_no_new_plane(computed: Computed) -> None:
    """Drag, drive and derivatives are taken over; the throw is not."""
    plain = computed("anvil")
    plain.launch_setup  # noqa: B018 - computed before the change
    changed = computed("anvil", {"thrower.speed": "10 ± 1 m/s", "site.wind": "2 m/s"})
    assert changed.drag is plain.drag
    assert changed.derivatives is plain.derivatives
    assert changed.launch_power is plain.launch_power
    assert changed.launch_inputs is not plain.launch_inputs
    assert changed.launch_setup is not plain.launch_setup


def test_another_pack_is_another_plane(computed: Computed) -> None:
    """Nothing of the drive is taken over."""
    plain = computed("anvil")
    changed = computed("anvil", {"items.pack.mass": "80 g"})
    assert changed.launch_power is not plain.launch_power
    assert changed.masses is not plain.masses


def test_a_setup_for_one_throttle_solves_the_drive_there_alone(computed: Computed) -> None:
    """Unless the whole drive was solved before; the rest is the same."""
    plane = computed("anvil", {"items.pack.mass": "85 g"})
    few = setup_of(plane, 0.8)
    assert few.power.throttle.tolist() == [0.8]
    assert few.elevator.tolist() == plane.launch_setup.elevator.tolist()
    assert setup_of(plane, 0.8).power is plane.launch_power

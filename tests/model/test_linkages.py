"""Control surfaces with their servos, as written and as assumed."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.linkages import (
    ARM,
    HORN,
    THROWS,
    Hinged,
    hinged_of,
    linkage_assumed,
    linkage_inputs,
    sharing,
    unmoved,
)

Computed = Callable[..., ComputablePlane]
AILERON = "airframe.surfaces.wing.controls.aileron"


def hinged(plane: ComputablePlane) -> dict[str, Hinged]:
    """Return the surfaces by name."""
    return {h.name: h for h in hinged_of(plane.plane, plane.draws)}


def test_the_glider_has_three_surfaces(computed: Computed) -> None:
    """Aileron chord 24 % of 130 mm at mid span; 42 % of 400 mm of hinge (4 degrees dihedral)."""
    found = hinged(computed("reedling"))
    assert list(found) == ["aileron", "elevator", "rudder"]
    aileron = found["aileron"]
    assert aileron.edge == pytest.approx(0.24 * 0.130, rel=1e-3)
    assert aileron.length == pytest.approx(0.42 * 0.400 / np.cos(np.radians(4.0)), rel=1e-3)
    chords = 0.24 * np.linspace(0.130, 0.1132, 2001)
    assert aileron.square_chord == pytest.approx(float(np.mean(chords**2)), rel=1e-3)


def test_servos_are_dealt_out(computed: Computed) -> None:
    """Two pieces on two ailerons; two on elevator (two halves) and rudder."""
    found = hinged(computed("reedling"))
    assert {name: h.panels for name, h in found.items()} == {
        "aileron": 1.0,
        "elevator": 2.0,
        "rudder": 1.0,
    }


def test_one_servo_on_both_ailerons_holds_both(computed: Computed) -> None:
    """Twice the panels a piece."""
    one = hinged(computed("reedling", {"items.aileron servos.count": 1}))
    assert one["aileron"].panels == 2.0


def test_one_piece_for_two_surfaces_is_shared(computed: Computed) -> None:
    """Elevator and rudder on one servo pull together, on two they do not."""
    both = computed("reedling", {"items.tail servos.count": 1})
    shared = sharing(both.plane, hinged_of(both.plane, both.draws))
    names = {key.rsplit(".", 1)[1]: [h.name for h in found] for key, found in shared.items()}
    assert names["elevator"] == ["elevator", "rudder"]
    assert names["aileron"] == ["aileron"]
    apart = computed("reedling")
    alone = sharing(apart.plane, hinged_of(apart.plane, apart.draws))
    assert all(len(found) == 1 for found in alone.values())


def test_written_arms_win_over_usual_ones(computed: Computed) -> None:
    """Medians are what was written; else the usual, and it is said."""
    keys = {f"{AILERON}.horn_arm": "15 ± 0.2 mm", "items.aileron servos.arm": "6 ± 0.2 mm"}
    plane = computed("reedling", keys)
    found = hinged(plane)["aileron"].linkage
    assert float(np.median(found.horn_arm)) == pytest.approx(0.015, rel=2e-3)
    assert float(np.median(found.servo_arm)) == pytest.approx(0.006, rel=4e-3)
    usual = hinged(computed("reedling"))["aileron"].linkage
    assert float(np.median(usual.horn_arm)) == pytest.approx(HORN[0], rel=5e-3)
    assert float(np.median(usual.servo_arm)) == pytest.approx(ARM[0], rel=5e-3)
    said = " ".join(linkage_assumed(plane.plane))
    assert "aileron: horn" not in said
    assert "elevator: horn" in said


def test_missing_throws_are_usual_ones_and_said(computed: Computed) -> None:
    """By role."""
    plane = computed("reedling", {f"{AILERON}.throw_up": None, f"{AILERON}.throw_down": None})
    found = hinged(plane)["aileron"]
    assert np.degrees([found.up, found.down]) == pytest.approx(THROWS["aileron"])
    assert any("throws" in said for said in linkage_assumed(plane.plane))


def test_a_surface_without_a_servo_is_asked_for(computed: Computed) -> None:
    """And nothing is asked for where all is told."""
    missing = unmoved(computed("reedling", {f"{AILERON}.servo": None}).plane)
    assert missing == (f"{AILERON}.servo, the name of the item that moves it",)
    assert unmoved(computed("reedling").plane) == ()


def test_a_servo_without_its_label_is_asked_for(computed: Computed) -> None:
    """No stock, no torque."""
    keys = {"items.aileron servos.stock": None}
    missing = unmoved(computed("reedling", keys).plane)
    assert "items.aileron servos.torque, from its label" in missing


def test_a_rod_reaches_from_servo_to_hinge(computed: Computed) -> None:
    """The tail servos sit at 252 mm, the elevator hinge at 627 + 0.67 x 60 mm."""
    found = hinged(computed("reedling"))["elevator"]
    assert float(found.linkage.rod[0]) == pytest.approx(0.627 + 0.67 * 0.060 - 0.252, rel=1e-6)
    assert found.rod_free == pytest.approx(0.080)


def test_every_input_is_drawn_once_and_listed(computed: Computed) -> None:
    """Nothing is drawn that is not listed, so the order is settled."""
    plane = computed("windrow")
    listed = {key for key, _ in linkage_inputs(plane.plane)}
    before = {entry.key for entry in plane.draws.inputs()}
    hinged_of(plane.plane, plane.draws)
    assert {entry.key for entry in plane.draws.inputs()} - before <= listed

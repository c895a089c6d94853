"""What a changed plane takes over is what it would compute again."""

import dataclasses
from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.taken_over import (
    FOAM_STAGES,
    LAUNCH_STAGES,
    kept,
    shared_names,
    without_throw,
    without_wishes,
)
from foamwright.plane.document import LoadedPlane
from foamwright.plane.variants import overridden

Read = Callable[[str], LoadedPlane]
Computed = Callable[..., ComputablePlane]

CHANGES: dict[str, dict[str, object]] = {
    "heavier foam": {"airframe.bare_mass": "130 ± 2 g"},
    "smooth": {"airframe.finish": "clean", "airframe.hinge_gaps": "sealed"},
    "cooled": {"items.ESC.cooling": "open air"},
    "another wish": {"targets.endurance": "25 min", "targets.top_speed": "90 km/h"},
    "thrown faster": {"thrower.speed": "10 ± 1 m/s", "site.wind": "3 ± 1 m/s"},
    "another pack": {"items.pack.mass": "60 ± 1 g"},
    "moved": {"items.pack.at.x": "90 mm"},
    "hotter": {"site.temperature": "35 ± 1 degC"},
    "longer": {"airframe.surfaces.wing.stations.1.y": "450 mm"},
}
"""Changes of the glider, each of which something else is taken over for."""


@pytest.mark.parametrize("name", CHANGES)
def test_nothing_comes_out_otherwise(read: Read, computed: Computed, name: str) -> None:
    """A changed plane made from scratch with the same draws: the same, bit for bit."""
    base = computed("reedling")
    base.launch_clean  # noqa: B018 - so that there is something to take over
    changed = computed("reedling", CHANGES[name])
    alone = ComputablePlane(overridden(read("reedling"), CHANGES[name]), base.draws)
    for one, other in (
        (changed.stall_speed, alone.stall_speed),
        (changed.drag.drag, alone.drag.drag),
        (changed.inertia_tensor, alone.inertia_tensor),
        (changed.full_throttle.top_speed, alone.full_throttle.top_speed),
        (changed.launch_body.mass, alone.launch_body.mass),
        (changed.launch_body.drag_constant, alone.launch_body.drag_constant),
        (changed.fit_errors.body, alone.fit_errors.body),
    ):
        assert np.array_equal(one, other, equal_nan=True)


@pytest.mark.parametrize(
    ("name", "stays", "goes"),
    [
        ("heavier foam", ("lift", "cuts", "air"), ("masses", "drag")),
        ("smooth", ("lift", "solid"), ("drag",)),
        ("cooled", ("drag", "masses", "launch_plan", "launch_clean"), ()),
        ("another wish", ("drag", "launch_setup", "launch_clean"), ()),
        ("thrown faster", ("drag", "launch_power", "launch_body"), LAUNCH_STAGES[:3]),
        ("another pack", ("lift",), ("masses", "launch_power")),
        ("hotter", ("lift",), ("air", "drag")),
        ("longer", ("air",), FOAM_STAGES),
    ],
)
def test_what_is_taken_over(
    computed: Computed, name: str, stays: tuple[str, ...], goes: tuple[str, ...]
) -> None:
    """The very same objects, and new ones where something changed."""
    base = computed("reedling")
    base.launch_clean  # noqa: B018
    changed = computed("reedling", CHANGES[name])
    assert [stage for stage in stays if getattr(changed, stage) is not getattr(base, stage)] == []
    assert [stage for stage in goes if getattr(changed, stage) is getattr(base, stage)] == []


def test_wishes_and_cooling_are_no_part_of_the_plane(read: Read) -> None:
    """A plane differs by neither, but by its throw; nothing else is dropped."""
    loaded = read("reedling")
    plain = loaded.plane
    wished = overridden(loaded, CHANGES["another wish"] | CHANGES["cooled"]).plane
    thrown = overridden(loaded, CHANGES["thrown faster"]).plane
    assert wished != plain
    assert without_wishes(wished) == without_wishes(plain)
    assert without_wishes(thrown) != without_wishes(plain)
    assert without_throw(thrown) == without_throw(plain)
    moved = overridden(loaded, CHANGES["moved"]).plane
    assert without_throw(without_wishes(moved)) != without_throw(without_wishes(plain))


def test_only_stages_are_taken_over(computed: Computed) -> None:
    """Neither the plane itself nor its draws."""
    base = computed("reedling")
    found = kept(base, base.plane, base.plane)
    assert "air" in found
    assert set(found) & {"plane", "draws", "samples", "outlines"} == set()
    moved = computed("reedling", CHANGES["moved"]).plane
    assert kept(base, base.plane, moved) == {}
    assert shared_names(base.plane, moved) == (*FOAM_STAGES, "air")


def test_another_throw_of_the_same_plane_is_flown_anew(computed: Computed) -> None:
    """The chance is not taken over with the plane."""
    base = computed("windrow")
    chance = base.launch_clean.mean()
    slow = computed("windrow", {"thrower.speed": "4 ± 0.5 m/s"})
    assert slow.launch_clean.mean() < chance
    fields = [field.name for field in dataclasses.fields(base.launch_body)]
    assert all(getattr(slow.launch_body, n) is getattr(base.launch_body, n) for n in fields)

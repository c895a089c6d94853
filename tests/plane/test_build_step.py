"""One step of the build."""

from pathlib import Path

import pytest

from foamwright.plane.build_step import controls, ids, in_foam, of_kind, rods, slug, step
from foamwright.plane.document import load

REEDLING = Path(__file__).parents[2] / "examples" / "reedling"


@pytest.mark.parametrize(
    ("name", "short"), [("ESC", "esc"), ("two  big Servos!", "two-big-servos"), ("9 g", "9-g")]
)
def test_a_name_makes_an_id(name: str, short: str) -> None:
    """Lower case, letters and digits, hyphens between."""
    assert slug(name) == short


def test_cut_glue_and_solder_cannot_be_undone() -> None:
    """Unless a step is told otherwise."""
    assert [step("a", kind, "do", "now").irreversible for kind in ("cut", "glue", "solder")] == [
        True
    ] * 3
    assert not step("a", "test", "do", "now").irreversible
    assert step("a", "fly", "do", "now", irreversible=True).irreversible


def test_what_the_steps_ask_of_a_plane() -> None:
    """Parts in the foam, parts of a kind, rods, controls."""
    plane = load(REEDLING).plane
    assert "GPS" not in {item.name for item in in_foam(plane)}
    assert [item.name for item in of_kind(plane, "servo")] == ["aileron servos", "tail servos"]
    assert [rod.name for rod in rods(plane)] == ["carbon rods"]
    assert [control.name for control in controls(plane)] == ["aileron", "elevator", "rudder"]


def test_ids_are_picked_by_kind() -> None:
    """In the order given."""
    steps = (step("a", "cut", "", ""), step("b", "test", "", ""), step("c", "cut", "", ""))
    assert ids(steps, "cut") == ("a", "c")

"""What comes before what."""

from pathlib import Path

import pytest

from foamwright.plane.build_step import BuildStep
from foamwright.plane.build_steps import build_steps
from foamwright.plane.document import load
from foamwright.plane.plane import Plane
from foamwright.plane.variants import overridden

ROOT = Path(__file__).parents[2]
PLANES = [
    ROOT / "examples" / "reedling",
    ROOT / "examples" / "windrow",
    ROOT / "examples" / "anvil",
    ROOT / "tests" / "journeys" / "planes" / "saltmarsh",
    ROOT / "tests" / "journeys" / "planes" / "boxcar",
]


@pytest.fixture(params=PLANES, ids=lambda path: path.name)
def plane(request: pytest.FixtureRequest) -> Plane:
    """Return a plane."""
    return load(request.param).plane


def before(steps: tuple[BuildStep, ...], name: str) -> set[str]:
    """Return every step that has to be done before one."""
    known = {step.id: step for step in steps}
    found: set[str] = set()
    left = list(known[name].needs)
    while left:
        needed = left.pop()
        if needed not in found:
            found.add(needed)
            left += known[needed].needs
    return found


def test_every_step_comes_after_all_it_needs(plane: Plane) -> None:
    """The list can be worked from top to bottom, and there is no circle."""
    done: set[str] = set()
    for step in build_steps(plane):
        assert set(step.needs) <= done, step.id
        assert step.id not in done
        done.add(step.id)


def test_every_irreversible_step_waits_for_a_question(plane: Plane) -> None:
    """Cut, glue, solder, first throw, first fast dive each name what must stand."""
    for step in build_steps(plane):
        if step.irreversible:
            assert step.holds, step.id
        if step.kind in ("cut", "glue", "solder"):
            assert step.irreversible


def test_no_cut_before_the_gear_was_weighed_and_laid_out(plane: Plane) -> None:
    """Foam cannot be uncut (common practice, no source)."""
    steps = build_steps(plane)
    for step in steps:
        if step.kind == "cut":
            assert {"weigh-foam", "weigh-gear", "lay-out", "templates"} <= before(steps, step.id)


def test_the_first_throw_comes_after_every_test(plane: Plane) -> None:
    """Nothing is left for the air that the table could have told."""
    steps = build_steps(plane)
    wanted = {s.id for s in steps if s.kind in ("test", "check", "weigh", "glue", "solder")}
    missing = wanted - before(steps, "first-throw")
    assert {m for m in missing if not m.startswith("glue-")} == set()


def test_what_is_soldered_or_glued_was_tested_first() -> None:
    """Motor direction before soldering, servo direction before gluing, USB before the wing."""
    steps = build_steps(load(PLANES[0]).plane)
    assert "test-motor-direction" in before(steps, "solder-power")
    assert "test-aileron-servos" in before(steps, "glue-aileron-servos")
    assert "check-plugs" in before(steps, "glue-wing")
    assert "check-propeller" in before(steps, "static-thrust")
    assert "range-check" in before(steps, "first-throw")
    assert "find-stall" in before(steps, "first-fast-dive")


def test_a_part_outside_the_foam_has_no_pocket_to_cut() -> None:
    """The GPS is taped on the boom."""
    names = {step.id for step in build_steps(load(PLANES[0]).plane)}
    assert "cut-gps" not in names
    assert {"cut-pack", "cut-esc", "cut-carbon-rods", "glue-carbon-rods"} <= names


def test_a_glider_without_a_motor_solders_no_power() -> None:
    """Steps follow from what is there."""
    loaded = load(PLANES[0])
    keys: dict[str, object] = {
        f"items.{name}": None for name in ("motor", "propeller", "ESC", "pack", "motor mount")
    }
    names = {step.id for step in build_steps(overridden(loaded, keys).plane)}
    assert not names & {"solder-power", "first-power", "static-thrust", "check-propeller"}


def test_spinning_and_burning_things_are_cautioned(plane: Plane) -> None:
    """Every step with a motor that may start, or with solder, says so."""
    for step in build_steps(plane):
        if step.kind in ("solder", "fly") or "motor" in step.do.lower().split():
            assert step.cautions, step.id

"""The build up to the dry fit."""

from pathlib import Path

from foamwright.plane.build_cutting import cutting, planning, table_tests
from foamwright.plane.document import load

PLANE = load(Path(__file__).parents[2] / "examples" / "reedling").plane


def test_the_gear_is_weighed_before_it_is_laid_out() -> None:
    """And laid out before anything is cut."""
    steps = {step.id: step for step in planning()}
    assert set(steps["lay-out"].needs) == {"weigh-foam", "weigh-gear"}


def test_every_servo_is_tested_and_every_pocket_cut() -> None:
    """One step each, and the dry fit after all of them."""
    tests = {step.id for step in table_tests(PLANE)}
    assert {"test-aileron-servos", "test-tail-servos", "test-motor-direction"} <= tests
    steps = {step.id: step for step in cutting(PLANE)}
    cuts = {name for name in steps if name.startswith("cut-")}
    assert set(steps["dry-fit"].needs) == cuts
    assert all(steps[name].holds for name in cuts)

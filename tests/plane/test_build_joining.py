"""The build from the dry fit to the closed plane."""

from pathlib import Path

from foamwright.plane.build_joining import closing, gluing, soldering
from foamwright.plane.document import load

PLANE = load(Path(__file__).parents[2] / "examples" / "reedling").plane


def test_the_first_power_comes_after_all_solder() -> None:
    """Power leads and boards."""
    steps = {step.id: step for step in soldering(PLANE)}
    assert set(steps["first-power"].needs) == {"solder-power", "solder-boards"}
    assert "test-motor-direction" in steps["solder-power"].needs


def test_servos_are_glued_after_their_test() -> None:
    """A glued servo cannot be turned round."""
    steps = {step.id: step for step in gluing(PLANE)}
    assert "test-tail-servos" in steps["glue-tail-servos"].needs
    assert steps["glue-motor-mount"].irreversible


def test_the_wing_closes_the_gear_last() -> None:
    """Plugs are tried before, and rods and servos are in."""
    steps = {step.id: step for step in closing(PLANE)}
    assert {"check-plugs", "glue-carbon-rods", "glue-aileron-servos"} <= set(
        steps["glue-wing"].needs
    )

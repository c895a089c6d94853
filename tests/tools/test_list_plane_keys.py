"""The examples on the page of the plane file can be written into one."""

import ast
import re
from pathlib import Path

import pytest
from pydantic import TypeAdapter, ValidationError

from foamwright.plane import airframe, gear, placement, targets, tuning
from foamwright.plane.placement import Written

ROOT = Path(__file__).parents[2]
MODULES = (airframe, gear, placement, targets, tuning)


def examples() -> dict[str, str]:
    """Return the examples of the tool, read from its text."""
    text = (ROOT / "tools" / "list_plane_keys.py").read_text(encoding="utf-8")
    for node in ast.parse(text).body:
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "EXAMPLES":
            found: dict[str, str] = ast.literal_eval(node.value)
            return found
    return {}


def record_of(name: str) -> type[Written]:
    """Return a record of the plane file by its name."""
    known = [found for module in MODULES if isinstance(found := getattr(module, name, None), type)]
    assert issubclass(known[0], Written)
    return known[0]


@pytest.mark.parametrize(("key", "written"), examples().items())
def test_an_example_is_taken_by_its_field(key: str, written: str) -> None:
    """No motor has a stator of 410 mm; units and limits are those of the field itself."""
    record, _, name = key.partition(".")
    field = record_of(record).model_fields[name]
    adapter = TypeAdapter(record_of(record).__annotations__[name])
    assert field is not None
    for text in written.split("` or `"):
        adapter.validate_python(text)


def test_the_usual_example_would_not_do_for_a_stator() -> None:
    """That is why there are others."""
    with pytest.raises(ValidationError):
        TypeAdapter(gear.Motor.__annotations__["stator_diameter"]).validate_python("410 mm")


def test_there_are_examples_for_every_servo_and_launch_length() -> None:
    """The page has no odd one left among those most read."""
    assert re.search(r"\bServo\.speed\b", " ".join(examples()))
    assert {"Thrower.delay", "Propeller.diameter", "Size.length"} <= set(examples())

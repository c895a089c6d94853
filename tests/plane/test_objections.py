"""Every check of a plane, gathered."""

from pathlib import Path

from foamwright.plane.document import load
from foamwright.plane.objections import objections

EXAMPLE = Path(__file__).parents[2] / "examples" / "reedling"


def test_an_example_meets_no_objection() -> None:
    """The shipped example fits together."""
    loaded = load(EXAMPLE)
    assert objections(loaded.plane, loaded.folder) == ()

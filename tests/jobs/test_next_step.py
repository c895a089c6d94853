"""What to do next, from a file."""

import json
from pathlib import Path

import pytest

from foamwright.jobs.ask import Settings
from foamwright.jobs.next_step import Next, as_json, next_of

REEDLING = Path(__file__).parents[2] / "examples" / "reedling"


@pytest.fixture(scope="module")
def found() -> Next:
    """Return the next steps of the glider."""
    return next_of(REEDLING, Settings(samples=64))


def test_the_json_is_that_of_the_contract(found: Next) -> None:
    """Steps with their keys, strict JSON."""
    told = json.loads(json.dumps(as_json(found), allow_nan=False))
    assert list(told) == ["schema", "steps"]
    keys = ["do", "kind", "minutes", "mass", "price", "effect", "worth", "because"]
    for step in told["steps"]:
        assert list(step) == keys
        assert step["kind"] in ("test", "change")
        assert all(list(effect) == ["question", "from", "to"] for effect in step["effect"])


def test_same_seed_same_steps(found: Next) -> None:
    """Nothing is left to luck."""
    assert next_of(REEDLING, Settings(samples=64)).steps == found.steps

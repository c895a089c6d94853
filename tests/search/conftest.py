"""Planes under question, read once for all tests of the search."""

from pathlib import Path

import pytest

from foamwright.jobs.ask import Settings, opened
from foamwright.questions.case import Case

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="session")
def reedling() -> Case:
    """Return the glider under question, 64 samples of it."""
    return opened(EXAMPLES / "reedling", Settings(samples=64))[1]

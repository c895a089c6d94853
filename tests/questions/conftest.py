"""Planes under question, read once for all tests of the questions."""

from collections.abc import Callable
from pathlib import Path

import pytest

from foamwright.jobs.ask import Settings, opened
from foamwright.questions.case import Case

ROOT = Path(__file__).parents[2]
FOLDERS = {
    "reedling": ROOT / "examples" / "reedling",
    "windrow": ROOT / "examples" / "windrow",
    "anvil": ROOT / "examples" / "anvil",
    "saltmarsh": ROOT / "tests" / "journeys" / "planes" / "saltmarsh",
}


@pytest.fixture(scope="session")
def case() -> Callable[[str], Case]:
    """Return a plane under question, 256 samples of it."""
    known = {name: opened(path, Settings(samples=256))[1] for name, path in FOLDERS.items()}
    return known.__getitem__

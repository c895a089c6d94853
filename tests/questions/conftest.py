"""Planes under question, read and answered once for all tests of the questions."""

from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path

import pytest

from foamwright.jobs.ask import Settings, opened
from foamwright.questions.answer import Answer
from foamwright.questions.case import Case
from foamwright.questions.register import QUESTIONS

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
    return cache(lambda name: opened(FOLDERS[name], Settings(samples=256))[1])


@pytest.fixture(scope="session")
def reedling(case: Callable[[str], Case]) -> Case:
    """Return the glider under question."""
    return case("reedling")


@pytest.fixture(scope="session")
def windrow(case: Callable[[str], Case]) -> Case:
    """Return the plank under question."""
    return case("windrow")


@pytest.fixture(scope="session")
def anvil(case: Callable[[str], Case]) -> Case:
    """Return the delta under question."""
    return case("anvil")


@pytest.fixture(scope="session")
def answers_of(case: Callable[[str], Case]) -> Callable[[str], Mapping[str, Answer]]:
    """Return all answers about a plane by their question."""
    return cache(lambda name: {question.id: question.answer(case(name)) for question in QUESTIONS})

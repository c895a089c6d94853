"""What the tests of the page share: a plane of their own and a browser made of nothing."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from tests.page.stage import EXAMPLES, HOST, SAMPLES, Visitor

from foamwright.jobs.ask import Settings
from foamwright.page.app import app_of
from foamwright.page.desk import Desk
from foamwright.page.guard import Door


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a copy of the example plane."""
    return Path(shutil.copytree(EXAMPLES / "reedling", tmp_path / "reedling"))


@pytest.fixture
def visit(folder: Path) -> Callable[..., Visitor]:
    """Return what opens the page: of the plane, or of another folder, with a door of its own."""

    def opening(path: Path = folder, *, door: Door | None = None) -> Visitor:
        settings = Settings(samples=SAMPLES)
        return Visitor(app=app_of(path, settings, door or Door(hosts=frozenset({HOST}))))

    return opening


@pytest.fixture
def desk(folder: Path) -> Desk:
    """Return a desk with the example plane."""
    return Desk(folder, Settings(samples=SAMPLES))

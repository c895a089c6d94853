"""A real browser and a real server for each test; nothing but this machine is asked."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, sync_playwright
from tests.browser.stage import EXAMPLES, FLAGS, PATIENCE, PHONE, WIDE, Server, chromium

OWN = ("data:", "blob:")
"""What a page makes of its own, and asks nobody for."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a copy of the example plane."""
    return Path(shutil.copytree(EXAMPLES / "reedling", tmp_path / "reedling"))


@pytest.fixture
def server(folder: Path) -> Iterator[Server]:
    """Serve the example plane."""
    running = Server(folder)
    yield running
    running.kill()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Start the system's browser once."""
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium(), args=FLAGS)
        yield started
        started.close()


@pytest.fixture
def leaf(browser: Browser) -> Iterator[Callable[..., Page]]:
    """Return what opens a page; whatever it asks is noted, and has to be this machine."""
    asked: list[str] = []
    faults: list[str] = []
    contexts = []

    def opening(url: str, size: dict[str, int] = WIDE, *, scheme: str = "light") -> Page:
        context = browser.new_context(
            viewport=size,  # type: ignore[arg-type]  # a plain dict will do
            color_scheme=scheme,  # type: ignore[arg-type]
            reduced_motion="reduce",
            has_touch=size == PHONE,
        )
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(PATIENCE * 1e3)
        page.on("request", lambda request: asked.append(request.url))
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.goto(url)
        return page

    yield opening
    for context in contexts:
        context.close()
    hosts = {urlsplit(url).hostname for url in asked if not url.startswith(OWN)}
    assert hosts <= {"127.0.0.1"}
    assert faults == []

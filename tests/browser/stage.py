"""What the browser tests stand on: the served command, and patience."""

import re
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from playwright.sync_api import Page

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
FLAGS = [
    *("--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
]
LINK = re.compile(r"http://127\.0\.0\.1:(\d+)/")
WIDE, PHONE = {"width": 1440, "height": 900}, {"width": 390, "height": 844}
PATIENCE = 15.0
"""Seconds that a busy machine may take."""


def chromium() -> str:
    """Return where the system's browser is; `.ci/set-up dev` installs it where it may."""
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    assert found, "these tests need chromium (on Debian: apt-get install chromium)"
    return found


def free_port() -> int:
    """Return a port that the system gives to nobody else soon; those of the command are shared."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])


class Server:
    """The command `foamwright open`, as a builder starts it."""

    def __init__(self, folder: Path, *more: str) -> None:
        """Start it on some free port."""
        self.folder = folder
        self.port = free_port()
        self.more = more
        self.start()

    def start(self) -> None:
        """Start it; after a kill on the same port, which nobody else takes meanwhile."""
        self.process = subprocess.Popen(
            [
                *(sys.executable, "-m", "foamwright", "open", str(self.folder), "--no-browser"),
                *("--port", str(self.port), "--samples", "128", *self.more),
            ],
            stdout=subprocess.PIPE,
            text=True,
        )
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        match = LINK.search(line)
        assert match, line
        assert int(match[1]) == self.port

    @property
    def url(self) -> str:
        """Where it serves."""
        return f"http://127.0.0.1:{self.port}/"

    def kill(self) -> None:
        """End it without a word of warning."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()
        if self.process.stdout is not None:
            self.process.stdout.close()

    def text(self) -> str:
        """Return the plane file."""
        return (self.folder / "plane.toml").read_text(encoding="utf-8")


def until(found: Callable[[], object], what: str) -> None:
    """Wait until something holds."""
    end = time.monotonic() + PATIENCE
    while not found():
        assert time.monotonic() < end, f"waited too long for {what}"
        time.sleep(0.02)


def answered(page: Page) -> None:
    """Wait until every question has its answer."""
    until(
        lambda: page.evaluate(
            "() => [...document.querySelectorAll('.question')].every("
            "(q) => q.querySelector('.verdict') && !q.hasAttribute('aria-busy'))"
            " && Boolean(document.querySelector('.handle'))"
        ),
        "the answers",
    )

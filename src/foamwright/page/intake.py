"""Logs that are taken in: streamed to a file of our own, far from the builder's, until decided on.

A log lies in a folder of its own among the system's temporary files, which only its owner can read.
It goes when it is kept or set aside, when the page closes, and, after a crash, within a day.
"""

import os
import secrets
import shutil
import tempfile
import threading
import time
import weakref
from collections import OrderedDict
from collections.abc import AsyncIterator, Callable
from dataclasses import dataclass
from pathlib import Path

from starlette.concurrency import run_in_threadpool

from foamwright.jobs.debrief import Debriefed
from foamwright.problems import CallProblem, WriteProblem

LARGEST = 200 << 20
"""Most bytes of a log; the door of the page holds to it."""

BLOCK = 1 << 20
"""Bytes gathered before a thread is asked to write them."""

HELD = 3
"""Flights that wait to be decided on; the oldest is set aside for a fourth."""

STALE = 24 * 3600.0
"""Age at which what a crash left behind is swept away [s]."""

PREFIX = "foamwright-log-"

LONGEST_NAME = 100
"""Most letters of a file name that are kept."""

LONGEST_ENDING = 8
"""Most letters of its ending."""

FORBIDDEN = frozenset('<>:"/\\|?*')
"""Signs that some file system cannot hold in a name."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Held:
    """One flight that waits to be decided on."""

    name: str
    """What the page calls it: nobody can guess it."""
    file: Path | None = None
    """Where its log lies, under its own name; none for a card alone."""
    size: int = 0
    """In bytes."""


def tame(name: str) -> str:
    """Return a file's own name as one that can stand in any folder."""
    base = name.replace("\\", "/").rpartition("/")[2]
    told = "".join("_" if s in FORBIDDEN or not s.isprintable() else s for s in base)
    told = " ".join(told.split()).strip(" .")
    stem, dot, ending = told.rpartition(".")
    if dot and len(ending) <= LONGEST_ENDING:
        return f"{stem[: LONGEST_NAME - LONGEST_ENDING - 1]}.{ending}"
    return told[:LONGEST_NAME] or "log"


def sweep(folder: Path, now: float) -> None:
    """Remove what a crash left behind long ago."""
    for old in folder.glob(f"{PREFIX}*"):
        try:
            if not old.is_symlink() and now - old.stat().st_mtime > STALE:
                shutil.rmtree(old, ignore_errors=True)
        except OSError:
            continue  # gone meanwhile


class Intake:
    """The flights of one page that wait to be decided on."""

    def __init__(self) -> None:
        """Nothing lies here yet, not even a folder."""
        self._lock = threading.Lock()
        self._folder: Path | None = None
        self._held: OrderedDict[str, Held] = OrderedDict()
        self._read: dict[str, Debriefed] = {}

    def folder(self) -> Path:
        """Return the folder of this page's logs; it goes with the page."""
        with self._lock:
            if self._folder is None or not self._folder.is_dir():
                sweep(Path(tempfile.gettempdir()), time.time())
                self._folder = Path(tempfile.mkdtemp(prefix=PREFIX))
                weakref.finalize(self, shutil.rmtree, self._folder, ignore_errors=True)
            return self._folder

    def place(self, name: str) -> Path:
        """Return where a log of some name will lie: alone in a folder."""
        own = self.folder() / secrets.token_urlsafe(12)
        own.mkdir(mode=0o700)
        return own / tame(name)

    async def take(self, name: str, body: AsyncIterator[bytes]) -> Held:
        """Return a log once all of it lies here; where it breaks off nothing is left behind."""
        file = await run_in_threadpool(self.place, name)
        try:
            size = await written(file, body)
        except BaseException:
            shutil.rmtree(file.parent, ignore_errors=True)
            raise
        return self.hold(Held(name=file.parent.name, file=file, size=size))

    def hold(self, held: Held) -> Held:
        """Hold a flight, and set the oldest aside where there are too many."""
        with self._lock:
            self._held[held.name] = held
            names = list(self._held)
        for name in names[:-HELD]:
            self.aside(name)
        return held

    def card(self) -> Held:
        """Return a flight of which there is no log."""
        return self.hold(Held(name=secrets.token_urlsafe(12)))

    def named(self, name: object) -> Held | None:
        """Return a flight by its name; none for one that is not here any more."""
        with self._lock:
            found = self._held.get(name) if isinstance(name, str) else None
        if found is None or (found.file is not None and not found.file.exists()):
            return None
        return found

    def tell(self, name: str, read: Debriefed) -> None:
        """Remember what a flight told, if it was not set aside meanwhile."""
        with self._lock:
            if name in self._held:
                self._read[name] = read

    def told(self, name: str) -> Debriefed | None:
        """Return what a flight told when it was read last; none before."""
        with self._lock:
            return self._read.get(name)

    def aside(self, name: object) -> None:
        """Forget a flight and what it told."""
        with self._lock:
            found = self._held.pop(name, None) if isinstance(name, str) else None
            self._read.pop(found.name if found else "", None)
        if found is not None and found.file is not None:
            shutil.rmtree(found.file.parent, ignore_errors=True)


async def written(file: Path, body: AsyncIterator[bytes]) -> int:
    """Write what comes into a new file, block by block; return how many bytes that were."""
    size, waiting = 0, bytearray()
    handle = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as out:
        async for chunk in body:
            size += len(chunk)
            waiting += chunk
            if len(waiting) >= BLOCK:
                await run_in_threadpool(put, out.write, waiting, file)
                waiting = bytearray()
        await run_in_threadpool(put, out.write, waiting, file)
    if size == 0:
        raise CallProblem(f"'{file.name}' is empty", expected="a log with rows in it")
    return size


def put(write: Callable[[bytearray], int], block: bytearray, file: Path) -> None:
    """Write a block; raises WriteProblem where it finds no room."""
    try:
        write(block)
    except OSError as error:
        what = f"cannot be taken in: {error.strerror or error}"
        raise WriteProblem(file.parent, what, expected="make room there") from error

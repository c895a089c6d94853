"""Logs that are taken in: whole or not at all, far from the builder's files, gone when decided."""

import asyncio
import os
import stat
import tempfile
import time
from collections.abc import AsyncIterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.jobs.debrief import Debriefed
from foamwright.page.intake import (
    BLOCK,
    HELD,
    LONGEST_NAME,
    PREFIX,
    STALE,
    Held,
    Intake,
    sweep,
    tame,
)
from foamwright.problems import CallProblem


@pytest.fixture(autouse=True)
def temporary(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Let the system's temporary files be a folder of the test."""
    folder = tmp_path / "temporary"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    return folder


@pytest.fixture
def debriefed() -> Debriefed:
    """Return a flight that told nothing."""
    return Debriefed(plane="x", units="metric", flights=(), belief=(), written=())


async def pieces(*chunks: bytes) -> AsyncIterator[bytes]:
    """Send some bytes."""
    for chunk in chunks:
        yield chunk


def taken(intake: Intake, name: str, *chunks: bytes) -> Held:
    """Take a log in."""
    return asyncio.run(intake.take(name, pieces(*chunks)))


def files(folder: Path) -> list[Path]:
    """Return every file below a folder."""
    return [path for path in folder.rglob("*") if path.is_file()]


def test_a_log_lies_whole_under_its_own_name(temporary: Path) -> None:
    """Byte by byte, in blocks larger and smaller than those that are written."""
    chunks = [os.urandom(size) for size in (1, BLOCK - 1, 3 * BLOCK + 7, 65536, 0, 5)]
    intake = Intake()
    held = taken(intake, "flown.csv", *chunks)
    assert held.file is not None
    assert held.file.name == "flown.csv"
    assert held.file.read_bytes() == b"".join(chunks)
    assert held.size == sum(map(len, chunks))
    assert temporary in held.file.parents


def test_nobody_else_can_read_it(temporary: Path) -> None:
    """A log may hold where somebody lives."""
    intake = Intake()
    held = taken(intake, "flown.csv", b"x")
    assert held.file is not None
    assert stat.S_IMODE(held.file.stat().st_mode) == 0o600
    (folder,) = temporary.iterdir()
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_a_log_that_breaks_off_leaves_nothing(temporary: Path) -> None:
    """Whatever breaks it off goes on to whoever waits."""

    async def broken() -> AsyncIterator[bytes]:
        yield b"x" * (2 * BLOCK)
        raise ConnectionResetError

    intake = Intake()
    with pytest.raises(ConnectionResetError):
        asyncio.run(intake.take("flown.csv", broken()))
    assert files(temporary) == []


@pytest.mark.parametrize("chunks", [(), (b"",), (b"", b"")])
def test_an_empty_log_is_refused(temporary: Path, chunks: tuple[bytes, ...]) -> None:
    """One clear sentence."""
    with pytest.raises(CallProblem, match="is empty"):
        taken(Intake(), "flown.csv", *chunks)
    assert files(temporary) == []


def test_what_is_set_aside_is_gone(temporary: Path) -> None:
    """The file, and what it told; setting it aside twice is no error."""
    intake = Intake()
    held = taken(intake, "flown.csv", b"x")
    assert intake.named(held.name) is held
    intake.aside(held.name)
    intake.aside(held.name)
    assert intake.named(held.name) is None
    assert files(temporary) == []


@pytest.mark.parametrize("name", [None, 3, "", "../../etc", ["x"], {}])
def test_a_name_that_is_none_is_nothing(name: object) -> None:
    """What a request says is never taken for a path."""
    intake = Intake()
    taken(intake, "flown.csv", b"x")
    assert intake.named(name) is None
    intake.aside(name)


def test_only_so_many_wait(temporary: Path) -> None:
    """A disk is not filled by dropping logs."""
    intake = Intake()
    held = [taken(intake, f"{number}.csv", b"x") for number in range(HELD + 2)]
    assert [intake.named(one.name) is not None for one in held] == [False] * 2 + [True] * HELD
    assert len(files(temporary)) == HELD


def test_a_card_waits_without_a_file() -> None:
    """It is held by name like a log."""
    intake = Intake()
    held = intake.card()
    assert held.file is None
    assert intake.named(held.name) is held


def test_a_log_somebody_swept_away_is_not_here_any_more() -> None:
    """Then the tab sends it again."""
    intake = Intake()
    held = taken(intake, "flown.csv", b"x")
    assert held.file is not None
    held.file.unlink()
    assert intake.named(held.name) is None
    assert taken(intake, "flown.csv", b"x").file is not None


def test_all_goes_with_the_page(temporary: Path) -> None:
    """Nothing is left when the page is closed in peace."""
    intake = Intake()
    taken(intake, "flown.csv", b"x")
    assert files(temporary)
    del intake
    assert list(temporary.iterdir()) == []


def test_what_a_crash_left_is_swept_away_after_a_day(temporary: Path) -> None:
    """Only our own folders, only old ones; a link is not followed."""
    now = time.time()
    for name, age in (("old", STALE + 60.0), ("new", 60.0)):
        folder = temporary / f"{PREFIX}{name}"
        folder.mkdir()
        (folder / "log.csv").write_text("x", encoding="utf-8")
        os.utime(folder, (now - age, now - age))
    other = temporary / "somebody-elses"
    other.mkdir()
    os.utime(other, (now - 2 * STALE, now - 2 * STALE))
    (temporary / f"{PREFIX}link").symlink_to(other)
    sweep(temporary, now)
    left = {path.name for path in temporary.iterdir()}
    assert left == {f"{PREFIX}new", f"{PREFIX}link", "somebody-elses"}


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("flown.csv", "flown.csv"),
        ("C:\\logs\\flown.csv", "flown.csv"),
        ("../../plane.toml", "plane.toml"),
        ("a:b?.csv", "a_b_.csv"),
        ("  two  words .csv", "two words .csv"),
        (".hidden", "hidden"),
        ("line\nbreak.csv", "line_break.csv"),
        ("", "log"),
        ("///", "log"),
        ("Flug über Büren.gpx", "Flug über Büren.gpx"),
    ],
)
def test_a_name_stands_in_any_folder(name: str, told: str) -> None:
    """What a browser says a file is called is a name, never a way to it."""
    assert tame(name) == told


@given(st.text(max_size=400))
def test_any_name_is_tamed(name: str) -> None:
    """Short, visible, no way up or down; never empty."""
    told = tame(name)
    assert 0 < len(told) <= LONGEST_NAME
    assert not set(told) & set("/\\:\0\n")
    assert told.isprintable()
    assert not told.startswith(".")


def test_what_a_flight_told_goes_with_it(debriefed: Debriefed) -> None:
    """It is held by name, and not taken for one that was set aside while it was read."""
    intake = Intake()
    held = intake.card()
    assert intake.told(held.name) is None
    intake.tell(held.name, debriefed)
    assert intake.told(held.name) is debriefed
    intake.aside(held.name)
    intake.tell(held.name, debriefed)
    assert intake.told(held.name) is None

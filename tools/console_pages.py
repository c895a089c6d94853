"""Run the commands that a page of the documentation quotes, and compare or renew what it quotes.

    python tools/console_pages.py README.md            says which quoted lines are no longer printed
    python tools/console_pages.py --write README.md    puts today's numbers into the quoted lines

A block marked `console` holds commands after `$` and lines of what they print; `...` stands for
lines left out. A `toml` or `csv` block whose first line is `# in NAME` is put into that file of
examples/reedling first (at the end of it, where there is one), in a copy, so that a reader who
does the same sees the same. Words and verdicts must be as quoted, numbers within 15 % (percent
within 5 points): processors differ in the last digits, and a page is renewed by `make pages`.
"""

import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent
FENCE = re.compile(r"^( *)```(\w+)\n(.*?)^\1```$", re.MULTILINE | re.DOTALL)
INTO = re.compile(r"^# in (?P<name>[\w.-]+)")
NUMBER = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?(?: ?%)?")
DRAWN = re.compile(r"[━─●├┤·]{2,}")
LEFT_OUT = "..."
TODAY = "1795651200"
"""The day it is on every page, 2026-11-26: notes dated in the future are refused."""
NEAR, NEAR_POINTS = 0.15, 5.0
"""How far a quoted number may lag, as a share, and in points of percent."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Quoted:
    """A command and the lines quoted of what it prints."""

    command: str
    """As typed."""
    lines: tuple[str, ...]
    """As quoted."""


def blocks_in(page: str) -> Iterator[tuple[str, str]]:
    """Yield language and text of the fenced blocks of a page, also of those in a list."""
    for indent, language, block in FENCE.findall(page):
        yield language, re.sub(f"^{indent}", "", block, flags=re.MULTILINE)


def quoted_in(block: str) -> Iterator[Quoted]:
    """Yield the commands of a console block."""
    for part in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
        command, *lines = part.rstrip("\n").split("\n")
        yield Quoted(command=command, lines=tuple(lines))


def words(line: str) -> str:
    """Return a line without its numbers, its drawn band and its layout."""
    return " ".join(NUMBER.sub("#", DRAWN.sub("", line)).split())


def numbers(line: str) -> list[tuple[float, bool]]:
    """Return the numbers of a line, and which are percent."""
    found = NUMBER.findall(DRAWN.sub("", line))
    return [(float(text.rstrip(" %")), text.endswith("%")) for text in found]


def is_near(quoted: str, printed: str) -> bool:
    """Return whether two lines of the same words have nearly the same numbers."""
    return all(
        abs(was - now) <= (NEAR_POINTS if percent else NEAR * max(abs(was), abs(now)) + 0.011)
        for (was, percent), (now, _) in zip(numbers(quoted), numbers(printed), strict=True)
    )


def run(command: str, folder: Path) -> list[str]:
    """Return the lines a foamwright command prints; ends the run if it fails."""
    program, *arguments = shlex.split(command)
    if program != "foamwright":
        sys.exit(f"only foamwright is run from a page, not {program}")
    done = subprocess.run(  # noqa: S603 - commands of our own pages
        [sys.executable, "-m", "foamwright", *arguments],
        check=False,
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=folder,
        env={**os.environ, "PYTHONIOENCODING": "utf-8", "SOURCE_DATE_EPOCH": TODAY},
    )
    if done.returncode != 0:
        sys.exit(f"$ {command}\nended with {done.returncode}: {done.stderr}")
    return done.stdout.split("\n")


def prepare(page: str, folder: Path) -> None:
    """Copy the examples and put into them what the page tells the reader to write."""
    shutil.copytree(ROOT / "examples", folder / "examples")
    for language, block in blocks_in(page):
        into = INTO.match(block)
        if language in {"toml", "csv"} and into:
            file = folder / "examples" / "reedling" / into["name"]
            before = file.read_text(encoding="utf-8") if file.exists() else ""
            file.write_text(before + block, encoding="utf-8")


def today(quoted: Quoted, printed: list[str]) -> Iterator[tuple[str, str | None]]:
    """Yield each quoted line with the line printed today, none where there is none."""
    start = 0
    for line in quoted.lines:
        if line.strip() in {"", LEFT_OUT}:
            continue
        same = (
            index for index in range(start, len(printed)) if words(printed[index]) == words(line)
        )
        index = next(same, None)
        yield line, None if index is None else printed[index]
        start = start if index is None else index + 1


def main(path: Path, *, write: bool) -> None:
    """Compare one page with what is printed today, or renew it."""
    page = path.read_text(encoding="utf-8")
    blocks = [block for language, block in blocks_in(page) if language == "console"]
    stale, renewed = [], page
    with tempfile.TemporaryDirectory() as name:
        prepare(page, Path(name))
        pairs = [
            (quoted.command, line, printed)
            for block in blocks
            for quoted in quoted_in(block)
            for line, printed in today(quoted, run(quoted.command, Path(name)))
        ]
    for command, line, printed in pairs:
        if printed is None or (not write and not is_near(line, printed)):
            stale.append(f"$ {command}\n  quoted:  {line}\n  printed: {printed}")
        else:
            renewed = renewed.replace(line, printed, 1)
    if write:
        path.write_text(renewed, encoding="utf-8")
    if stale:
        sys.exit(f"{path}\n" + "\n".join(stale))


if __name__ == "__main__":
    arguments = [name for name in sys.argv[1:] if name != "--write"]
    for name in arguments:
        main(Path(name), write="--write" in sys.argv)

"""The check of quoted commands finds what is no longer true."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGE = """# A page

```toml
# in plane.toml

[variants."heavy"]
"items.GPS.mass" = "{mass}"
```

```console
$ foamwright {command}
...
   all-up mass {quoted} g  (268–278 g)  wanted at most 260 g
...
```
"""


def checked(
    folder: Path, *options: str, quoted: str = "273", command: str = ""
) -> "subprocess.CompletedProcess[str]":
    """Check a page with one command, a GPS of 27 g in the plane."""
    page = folder / "page.md"
    asked = command or 'ask examples/reedling weight --variant "heavy"'
    page.write_text(PAGE.format(mass="27 ± 0.5 g", quoted=quoted, command=asked), encoding="utf-8")
    return subprocess.run(
        [sys.executable, "tools/console_pages.py", *options, str(page)],
        check=False,
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=ROOT,
    )


def test_a_true_page_passes_with_what_it_writes_into_the_plane(tmp_path: Path) -> None:
    """The variant the page adds is asked about: 20 g more than as planned."""
    done = checked(tmp_path)
    assert done.returncode == 0, done.stderr


def test_a_number_that_moved_is_told_with_todays(tmp_path: Path) -> None:
    """Quoted 173 g, printed 273 g."""
    done = checked(tmp_path, quoted="173")
    assert done.returncode != 0
    assert "273 g" in done.stderr


def test_writing_puts_todays_number_in(tmp_path: Path) -> None:
    """After `--write` the page says what is printed."""
    assert checked(tmp_path, "--write", quoted="173").returncode == 0
    assert "all-up mass 273 g" in (tmp_path / "page.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    "command", ["ask examples/reedling width", "ask examples/reedling endurance"]
)
def test_a_command_that_fails_or_says_other_words_is_told(tmp_path: Path, command: str) -> None:
    """An unknown question ends with 2; a known one does not print the quoted line."""
    assert checked(tmp_path, command=command).returncode != 0

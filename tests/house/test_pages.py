"""The documentation's commands run, and print what the pages quote."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
WITH_COMMANDS = [page for page in PAGES if "```console" in page.read_text(encoding="utf-8")]
LINK = re.compile(r"\]\((?!https?:|#)([^)#]+)")


def test_pages_with_commands_are_found() -> None:
    """The README and the how-to pages quote commands."""
    assert ROOT / "README.md" in WITH_COMMANDS
    assert len(WITH_COMMANDS) > 5


@pytest.mark.slow
@pytest.mark.parametrize("page", WITH_COMMANDS, ids=lambda page: str(page.relative_to(ROOT)))
def test_a_page_quotes_what_is_printed(page: Path) -> None:
    """Every command ends well and prints the quoted lines; `make pages` renews their numbers."""
    done = subprocess.run(
        [sys.executable, "tools/console_pages.py", str(page)],
        check=False,
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=ROOT,
    )
    assert done.returncode == 0, done.stderr


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_links_between_pages_lead_somewhere(page: Path) -> None:
    """Every relative link of a page is a file of the project."""
    links = LINK.findall(page.read_text(encoding="utf-8"))
    assert [link for link in links if not (page.parent / link).exists()] == []

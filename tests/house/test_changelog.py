"""Changelog fragments are well formed, and a changed answer says by how much and why."""

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
FRAGMENTS = sorted((ROOT / "changelog.d").glob("*.md"))
NAME = re.compile(r"^(\+[a-z0-9-]+|\d+)\.(answer|feature|fix|breaking)\.md$")


def test_fragments_are_named_after_their_kind() -> None:
    """`+some-words.KIND.md` or `12.KIND.md`, KIND one of four."""
    assert [path.name for path in FRAGMENTS if not NAME.match(path.name)] == []


def test_fragments_are_sentences() -> None:
    """Something is written, and it ends with a full stop."""
    written = {path.name: path.read_text(encoding="utf-8").strip() for path in FRAGMENTS}
    assert [name for name, text in written.items() if not text.endswith(".")] == []


def test_a_changed_answer_says_from_what_to_what_and_why() -> None:
    """At least two numbers and a because."""
    vague = [
        path.name
        for path in FRAGMENTS
        if path.name.endswith(".answer.md")
        and (
            len(re.findall(r"\d+(?:\.\d+)?", text := path.read_text(encoding="utf-8"))) < 2
            or "because" not in text
        )
    ]
    assert vague == []


def test_the_draft_can_be_rendered() -> None:
    """Every fragment appears in what the next release would say."""
    done = subprocess.run(
        [sys.executable, "-m", "towncrier", "build", "--draft", "--date", "2030-01-01"],
        check=False,
        capture_output=True,
        text=True,
        cwd=ROOT,
    )
    assert done.returncode == 0, done.stderr
    joined = " ".join(done.stdout.split())
    for path in FRAGMENTS:
        first = " ".join(path.read_text(encoding="utf-8").split())[:40]
        assert first in joined

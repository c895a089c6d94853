"""The example log is what its tool writes."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
LOG = ROOT / "examples" / "reedling" / "logs" / "example-log.csv"


def test_the_log_says_that_it_is_invented_and_is_small() -> None:
    """In its first line; under 300 kB."""
    text = LOG.read_text(encoding="utf-8")
    assert "invented" in text.splitlines()[0]
    assert "tools/fly_example.py" in text.splitlines()[0]
    assert len(text) < 300_000


def test_the_tool_writes_it_again(tmp_path: Path) -> None:
    """Row by row, to the last digits a processor may differ in."""
    again = tmp_path / "again.csv"
    subprocess.run(
        [sys.executable, "tools/fly_example.py", str(again)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    old, new = (path.read_text(encoding="utf-8").splitlines() for path in (LOG, again))
    assert len(old) == len(new)
    assert old[:2] == new[:2]
    differing = sum(a != b for a, b in zip(old, new, strict=True))
    assert differing < 0.02 * len(old)

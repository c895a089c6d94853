"""The comparison tool prints what the corrections were derived from."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
DATA = ROOT / "tests/published/data"


def printed(*options: str) -> str:
    """What the tool says about the selected rows."""
    command = [sys.executable, "tools/compare_sections.py", str(DATA / "sections_rows.csv")]
    done = subprocess.run(
        [*command, str(DATA / "sections_shapes.csv"), *options],
        cwd=ROOT,
        env={"PYTHONPATH": "src", "PATH": ""},
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout


def mean_of(text: str, label: str) -> float:
    """The first mean after a label, that of shaped sections."""
    return float(text.partition(label)[2].split()[0])


def test_corrections_take_the_bias_out() -> None:
    """Raw maximum lift is 0.05 or more too high, raw drag too low; corrected, neither is."""
    raw, corrected = printed("--raw"), printed()
    assert mean_of(raw, "maximum lift") < -0.05
    assert mean_of(raw, "ln drag at lift") > 0.05
    assert abs(mean_of(corrected, "maximum lift")) < 0.04
    assert abs(mean_of(corrected, "ln drag at lift")) < 0.04


def test_every_run_has_its_line() -> None:
    """Fifteen shaped runs and four of bent sheet."""
    text = printed()
    assert "15 runs" in text
    assert "4 runs" in text
    assert text.count("GOE417A") == 4

"""The generated pages of the documentation are current."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent


@pytest.mark.parametrize("name", ["names", "sources"])
def test_a_generated_page_is_current(name: str) -> None:
    """docs/NAME.md is what its generator prints; `make names` writes it anew."""
    printed = subprocess.run(
        [sys.executable, f"tools/list_{name}.py"],
        check=True,
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=ROOT,
        env={"PYTHONUTF8": "1"},
    ).stdout
    assert (ROOT / "docs" / f"{name}.md").read_text(encoding="utf-8") == printed


def test_the_list_of_names_has_every_physics_parameter() -> None:
    """A name picked from the air is there with its symbol and unit."""
    page = (ROOT / "docs" / "names.md").read_text(encoding="utf-8")
    assert "| `relative_humidity` | φ | - |" in page
    assert "| `density` | ρ | kg m^-3 |" in page

"""The command that places parts."""

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from foamwright.cli.main import main

EXAMPLE = Path(__file__).parents[2] / "examples" / "reedling" / "plane.toml"


@pytest.fixture
def plane(tmp_path: Path) -> str:
    """Return a copy of the glider."""
    shutil.copy(EXAMPLE, tmp_path)
    return str(tmp_path)


def run(*words: str) -> tuple[int, str]:
    """Return exit code and output of the command."""
    result = CliRunner().invoke(main, ["place", *words, "--samples", "32"])
    return result.exit_code, result.output


def test_the_page_tells_moves_and_what_they_buy(plane: str) -> None:
    """As drawn beside as placed, with what stands behind it."""
    code, said = run(plane, "--free", "receiver")
    assert code == 0
    assert "as drawn" in said
    assert "as placed" in said
    assert "A solver proved" in said
    assert max(len(line) for line in said.splitlines()) <= 80


def test_what_cannot_be_freed_ends_with_two(plane: str) -> None:
    """And says which parts there are."""
    code, said = run(plane, "--free", "wings")
    assert code == 2
    assert "no item 'wings'" in said


def test_json_is_one_object(plane: str) -> None:
    """For scripts."""
    code, said = run(plane, "--json")
    assert code == 0
    assert said.startswith("{")

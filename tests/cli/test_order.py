"""The order command and its page."""

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
    result = CliRunner().invoke(main, ["order", *words, "--samples", "32"])
    return result.exit_code, result.output


def test_the_page_tells_what_is_ready_and_how_to_record_it(plane: str) -> None:
    """Two steps are done, and the next is named."""
    code, said = run(plane)
    assert code == 0
    assert "2 of" in said
    assert "cannot be undone" in said
    assert "--done lay-out" in " ".join(said.split())  # a long path wraps the line
    assert max(len(line) for line in said.splitlines()) <= 80


def test_a_refused_step_ends_with_two(plane: str) -> None:
    """And says what comes first."""
    code, said = run(plane, "--done", "cut-pack")
    assert code == 2
    assert "comes first" in said


def test_a_recorded_step_tells_what_is_ready_now(plane: str) -> None:
    """The next one."""
    code, said = run(plane, "--done", "lay-out")
    assert code == 0
    assert "Recorded lay-out in bench.toml." in said
    assert "templates" in said


def test_a_note_without_a_step_is_refused(plane: str) -> None:
    """It would be lost."""
    code, said = run(plane, "--note", "hello")
    assert code == 2
    assert "belong to a step" in said


def test_json_and_paper_go_together(plane: str, tmp_path: Path) -> None:
    """One object on standard output, the checklist in its file."""
    file = tmp_path / "list.pdf"
    code, said = run(plane, "--json", "-o", str(file))
    assert code == 0
    assert '"schema": 1' in said
    assert file.read_bytes().startswith(b"%PDF")

"""A builder draws the example from the command line."""

from pathlib import Path

from click.testing import CliRunner, Result

from foamwright.cli.main import main

REEDLING = str(Path(__file__).parents[2] / "examples" / "reedling")


def run(*arguments: str) -> Result:
    """Return how a call ends."""
    call = ["draw", REEDLING, *arguments, "--samples", "32"]
    return CliRunner().invoke(main, call, prog_name="foamwright")


def test_a_drawing_is_written_and_told(tmp_path: Path) -> None:
    """One line: how many parts, which file; twice only with --force."""
    file = tmp_path / "reedling.svg"
    first = run("-o", str(file))
    assert first.exit_code == 0, first.stderr
    assert first.stdout == f"Drew 13 parts into {file}.\n"
    again = run("-o", str(file))
    assert again.exit_code == 2
    assert "--force" in again.stderr
    assert run("-o", str(file), "--force").exit_code == 0


def test_a_call_that_cannot_be_drawn_writes_nothing(tmp_path: Path) -> None:
    """An ending nobody knows, a variant that is not there: exit code 2, no file."""
    for arguments in (
        ("-o", str(tmp_path / "x.doc")),
        ("-o", str(tmp_path / "x.svg"), "--variant", "y"),
    ):
        result = run(*arguments)
        assert result.exit_code == 2
        assert result.stdout == ""
    assert list(tmp_path.iterdir()) == []

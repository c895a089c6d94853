"""The command that says what to do next."""

from pathlib import Path

from click.testing import CliRunner

from foamwright.cli.main import main

REEDLING = str(Path(__file__).parents[2] / "examples" / "reedling")


def test_the_page_tells_the_best_few() -> None:
    """Numbered, with what each takes and does, on 80 columns."""
    result = CliRunner().invoke(main, ["next", REEDLING, "--samples", "64"])
    assert result.exit_code == 0
    assert "1. " in result.output
    assert "min" in result.output
    assert "→" in result.output or "->" in result.output
    assert max(map(len, result.output.splitlines())) <= 80


def test_json_is_one_object() -> None:
    """For scripts."""
    result = CliRunner().invoke(main, ["next", REEDLING, "--samples", "32", "--json"])
    assert result.exit_code == 0
    assert result.output.startswith("{")

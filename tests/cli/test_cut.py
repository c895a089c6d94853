"""The command that makes templates."""

from pathlib import Path

from click.testing import CliRunner

from foamwright.cli.main import main

REEDLING = str(Path(__file__).parents[2] / "examples" / "reedling")


def test_it_tells_what_it_wrote_and_what_to_measure(tmp_path: Path) -> None:
    """And how fit and balance stand."""
    file = tmp_path / "kite.svg"
    result = CliRunner().invoke(main, ["cut", REEDLING, "-o", str(file), "--samples", "32"])
    assert result.exit_code == 0, result.output
    assert "templates and" in result.output
    assert "cannot be undone" in result.output
    assert file.exists()


def test_a_wrong_ending_ends_with_two(tmp_path: Path) -> None:
    """With those there are."""
    result = CliRunner().invoke(main, ["cut", REEDLING, "-o", str(tmp_path / "kite.doc")])
    assert result.exit_code == 2
    assert ".dxf" in result.output

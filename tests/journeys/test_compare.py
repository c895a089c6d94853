"""A builder weighs two variants of the example against the plan."""

import json
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result

from foamwright.cli.main import main
from foamwright.questions.register import QUESTIONS

REEDLING = str(Path(__file__).parents[2] / "examples" / "reedling")
FEW = ("--samples", "128")


def run(*arguments: str) -> Result:
    """Return how a call ends."""
    return CliRunner().invoke(main, ["compare", REEDLING, *arguments], prog_name="foamwright")


def test_two_cells_and_no_gps_beside_the_plan() -> None:
    """Every question a block of three lines, on 80 columns, nothing on standard error."""
    result = run("two cells", "no GPS", *FEW)
    assert result.exit_code == 0, result.stderr
    assert result.stderr == ""
    assert "variant: two cells, no GPS" in result.stdout
    lines = result.stdout.splitlines()
    assert max(map(len, lines)) <= 80
    for name in ("as planned", "two cells ", "no GPS "):
        assert sum(line.startswith(f"   {name}") for line in lines) == len(QUESTIONS)


def test_a_script_reads_what_is_more_and_what_is_less() -> None:
    """Two cells are slower and dearer; without GPS it is lighter, cheaper and flies longer."""
    result = run("--json", *FEW)
    assert result.exit_code == 0, result.stderr
    found: dict[str, Any] = json.loads(result.stdout)
    assert found["variants"] == ["two cells", "no GPS", "pockets cut", "servos in front"]
    told = {
        (row["question"], change["variant"]): change["told"]
        for row in found["rows"]
        for change in row["differences"]
    }
    assert told["speed", "two cells"] == "less"
    assert told["cost", "two cells"] == "more"
    assert told["weight", "no GPS"] == told["cost", "no GPS"] == "less"
    assert told["endurance", "no GPS"] == told["balance", "no GPS"] == "more"


def test_the_same_seed_tells_the_same() -> None:
    """Same input and seed, same output; another seed, another luck."""
    first, second = (run("no GPS", "--json", *FEW, "--seed", "5").stdout for _ in range(2))
    assert first == second
    assert first != run("no GPS", "--json", *FEW, "--seed", "6").stdout


def test_units_are_the_users_choice() -> None:
    """Imperial pages speak of ounces, also where they tell a difference."""
    assert " oz (" in run("no GPS", *FEW, "--units", "imperial").stdout


def test_a_variant_that_is_not_there_is_told_with_those_that_are() -> None:
    """Exit code 2, one message."""
    result = run("three cells", *FEW)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "'two cells', 'no GPS'" in result.stderr

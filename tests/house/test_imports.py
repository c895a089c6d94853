"""Imports run one way, and the command line starts without the heavy libraries."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent


def python(code: str) -> str:
    """Return what a fresh interpreter prints."""
    done = subprocess.run(
        [sys.executable, "-c", code], check=True, capture_output=True, text=True, cwd=ROOT
    )
    return done.stdout.strip()


def test_the_import_contracts_hold() -> None:
    """Layers, independence, purity and no circles, as written in pyproject.toml."""
    done = subprocess.run(
        [str(Path(sys.executable).with_name("lint-imports")), "--no-cache", "--no-logo"],
        check=False,
        capture_output=True,
        text=True,
        cwd=ROOT,
    )
    assert done.returncode == 0, done.stdout
    assert " 0 broken" in done.stdout


@pytest.mark.parametrize("library", ["scipy", "pint", "rich"])
def test_the_command_line_starts_light(library: str) -> None:
    """`--help` must not wait for a library that only an answer needs."""
    loaded = python(f"import sys, foamwright.cli.main; print({library!r} in sys.modules)")
    assert loaded == "False"


def test_the_package_itself_imports_nothing_of_weight() -> None:
    """`import foamwright` brings no third-party library at all."""
    loaded = python(
        "import sys, foamwright; "
        "print({'numpy', 'scipy', 'pint', 'pydantic', 'click', 'rich'} & set(sys.modules))"
    )
    assert loaded == "set()"

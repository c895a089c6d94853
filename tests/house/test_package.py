"""What is installed is whole: version, licence, data files, the command."""

import importlib.metadata
import tomllib
from pathlib import Path, PurePath
from typing import Any

import foamwright

ROOT = Path(__file__).parent.parent.parent
SOURCE = ROOT / "src" / "foamwright"


def project() -> dict[str, Any]:
    """Return pyproject.toml."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def test_the_version_is_said_once_and_everywhere_the_same() -> None:
    """Package, distribution and changelog agree."""
    settings = project()
    assert settings["project"]["version"] == foamwright.__version__
    assert settings["tool"]["towncrier"]["version"] == foamwright.__version__
    assert importlib.metadata.version("foamwright") == foamwright.__version__


def test_every_data_file_is_packed() -> None:
    """Whatever lies beside the modules is named in the package data."""
    patterns = project()["tool"]["setuptools"]["package-data"]["foamwright"]
    forgotten = [
        str(path.relative_to(SOURCE))
        for path in sorted(SOURCE.rglob("*"))
        if path.is_file()
        and path.suffix not in {".py", ".pyc"}
        and not any(PurePath(path.relative_to(SOURCE)).match(pattern) for pattern in patterns)
    ]
    assert forgotten == []


def test_every_folder_with_modules_is_a_package() -> None:
    """A folder without `__init__.py` would be left out of what is installed."""
    folders = {path.parent for path in SOURCE.rglob("*.py")}
    assert [str(f) for f in sorted(folders) if not (f / "__init__.py").exists()] == []


def test_the_command_is_installed() -> None:
    """`foamwright` starts foamwright.cli.main:main."""
    scripts = importlib.metadata.entry_points(group="console_scripts")
    assert [s.value for s in scripts if s.name == "foamwright"] == ["foamwright.cli.main:main"]


def test_the_licence_is_there() -> None:
    """MIT, as pyproject.toml says."""
    assert (ROOT / "LICENSE").read_text(encoding="utf-8").startswith("MIT License")

"""Public physics says shape, unit and source of all it takes and gives."""

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable

import pytest

from foamwright import physics
from foamwright.sources import SOURCES

ENTRY = re.compile(
    r"^(?P<name>\w+) : (?P<shape>\([\w, .]*\)|float|int|\w+)(?: \[(?P<unit>[^\]]+)\])?$"
)


def public_functions() -> list[Callable[..., object]]:
    """Return every public function defined in `foamwright.physics`."""
    found: list[Callable[..., object]] = []
    for entry in pkgutil.walk_packages(physics.__path__, "foamwright.physics."):
        module = importlib.import_module(entry.name)
        found += [
            member
            for name, member in inspect.getmembers(module, inspect.isfunction)
            if member.__module__ == entry.name and not name.startswith("_")
        ]
    return found


def section(text: str, title: str) -> list[str]:
    """Return the lines of one numpydoc section, left-aligned entries only."""
    match = re.search(rf"^{title}\n-+\n(.*?)(?=^\w+\n-+\n|\Z)", text, re.MULTILINE | re.DOTALL)
    body = match.group(1) if match else ""
    return [line for line in body.splitlines() if line and not line.startswith(" ")]


def name_of(function: Callable[..., object]) -> str:
    """Return module and name, for the list of tests."""
    return f"{function.__module__.removeprefix('foamwright.physics.')}.{function.__name__}"


@pytest.mark.parametrize("function", public_functions(), ids=name_of)
def test_docstring_names_every_parameter_with_shape_and_unit(
    function: Callable[..., object],
) -> None:
    """Order and names as in the signature; a unit for every array and float."""
    text = inspect.getdoc(function) or ""
    entries = [ENTRY.match(line) for line in section(text, "Parameters")]
    assert all(entries), section(text, "Parameters")
    named = [entry["name"] for entry in entries if entry]
    assert named == list(inspect.signature(function).parameters)
    without_unit = [
        entry["name"]
        for entry in entries
        if entry and (entry["shape"][0] == "(" or entry["shape"] == "float") and not entry["unit"]
    ]
    assert without_unit == []
    assert re.search(r"\[[^\]]+\]", "\n".join(section(text, "Returns")))


@pytest.mark.parametrize("function", public_functions(), ids=name_of)
def test_docstring_cites_a_known_source(function: Callable[..., object]) -> None:
    """Every key under Source is in the list of sources."""
    lines = section(inspect.getdoc(function) or "", "Source")
    keys = [key.strip() for line in lines for key in line.split(",")]
    assert keys
    assert set(keys) <= set(SOURCES)

"""Errors are our own, so that the command line can tell the user's slip from our fault."""

import ast
import builtins
from pathlib import Path

import pytest

import foamwright

SOURCE = Path(foamwright.__file__).parent
MODULES = sorted(SOURCE.rglob("*.py"))
GENERAL = {
    name
    for name, thing in vars(builtins).items()
    if isinstance(thing, type) and issubclass(thing, Exception)
}
"""The errors of the language: `ValueError` and the like."""


def raised(path: Path) -> list[ast.Raise]:
    """Return all raise statements of a module."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return [node for node in ast.walk(tree) if isinstance(node, ast.Raise)]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_no_module_raises_a_general_error(path: Path) -> None:
    """A problem has a class of its own, which carries file, line, key."""
    general = [
        f"line {node.lineno}: {ast.unparse(node)}"
        for node in raised(path)
        if node.exc is not None and ast.unparse(node.exc).partition("(")[0] in GENERAL
    ]
    assert general == []


def test_physics_raises_nothing() -> None:
    """Physics flags what is out of range; one bad sample must not end a batch."""
    raising = [
        str(path.relative_to(SOURCE))
        for path in MODULES
        if path.is_relative_to(SOURCE / "physics") and raised(path)
    ]
    assert raising == []

"""Rules the tests themselves keep."""

import ast
from pathlib import Path

import pytest

TESTS = Path(__file__).parent.parent
FILES = sorted([*TESTS.rglob("test_*.py"), *(TESTS.parent / "benchmarks").rglob("test_*.py")])
NAMES = [str(path.relative_to(TESTS.parent)) for path in FILES]
WAYS_AROUND = {"skip", "skipif", "xfail", "importorskip"}


def checks_of(path: Path) -> list[ast.FunctionDef]:
    """Return the test functions of a file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_")
    ]


def asserts_something(test: ast.FunctionDef) -> bool:
    """Return whether a test holds an assertion, an expected error, or calls one of either."""
    for node in ast.walk(test):
        if isinstance(node, ast.Assert):
            return True
        if isinstance(node, ast.Call):
            called = ast.unparse(node.func).rpartition(".")[2]
            if called == "raises" or called.startswith("assert"):
                return True
    return False


@pytest.mark.parametrize("path", FILES, ids=NAMES)
def test_every_test_states_its_expectation(path: Path) -> None:
    """Each test has a docstring and asserts something."""
    tests = checks_of(path)
    assert tests, "a test file without a test"
    assert [test.name for test in tests if not ast.get_docstring(test)] == []
    assert [test.name for test in tests if not asserts_something(test)] == []


@pytest.mark.parametrize("path", FILES, ids=NAMES)
def test_no_test_is_skipped_or_expected_to_fail(path: Path) -> None:
    """A check that cannot be met is reported, not marked away."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    used = {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)}
    assert used & WAYS_AROUND == set()

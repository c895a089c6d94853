"""Modules and functions stay small enough to be read at a sitting."""

import ast
import io
import statistics
import tokenize
from pathlib import Path

import pytest

import foamwright

SOURCE = Path(foamwright.__file__).parent
MODULES = sorted(SOURCE.rglob("*.py"))

MOST_MODULE_LINES = 400
MOST_FUNCTION_LINES = 50
MOST_ARGUMENTS = 6
GENERIC = {
    *("util", "utils", "helper", "helpers", "common", "misc", "core", "base"),
    *("manager", "handler", "service", "tools", "lib", "stuff"),
}
"""Module names that tell nothing."""

Function = ast.FunctionDef | ast.AsyncFunctionDef


def code_lines(text: str) -> set[int]:
    """Return the numbers of the lines that carry code: no blank, comment or docstring."""
    lines: set[int] = set()
    skipped = {tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT}
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type not in skipped and token.type != tokenize.ENDMARKER:
            lines |= set(range(token.start[0], token.end[0] + 1))
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            lines -= set(range(node.lineno, (node.end_lineno or node.lineno) + 1))
    return lines


def functions(path: Path) -> list[tuple[str, Function, int]]:
    """Return the functions of a module: name, node, lines of code."""
    text = path.read_text(encoding="utf-8")
    code = code_lines(text)
    return [
        (
            f"{path.relative_to(SOURCE)}: {node.name}",
            node,
            len(code & set(range(node.lineno, (node.end_lineno or node.lineno) + 1))),
        )
        for node in ast.walk(ast.parse(text))
        if isinstance(node, Function)
    ]


def arguments(node: Function) -> int:
    """Return how many arguments a function takes, `self` and `cls` left out."""
    named = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
    return len([argument for argument in named if argument.arg not in {"self", "cls"}])


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_a_module_is_small_and_named_after_its_thing(path: Path) -> None:
    """At most 400 lines, a docstring, and a name that says what is in it."""
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= MOST_MODULE_LINES
    assert ast.get_docstring(ast.parse(text))
    assert path.stem not in GENERIC


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(SOURCE)))
def test_a_function_is_short_and_takes_few_arguments(path: Path) -> None:
    """At most 50 lines of code and six arguments; commands have as many as options."""
    found = functions(path)
    assert [name for name, _, lines in found if lines > MOST_FUNCTION_LINES] == []
    if "cli" not in path.relative_to(SOURCE).parts:
        many = [name for name, node, _ in found if arguments(node) > MOST_ARGUMENTS]
        assert many == []


def test_most_functions_are_much_shorter() -> None:
    """Half of them have ten lines of code or fewer, nine in ten have 25 or fewer."""
    lengths = [lines for path in MODULES for _, _, lines in functions(path)]
    assert statistics.median(lengths) <= 10
    assert statistics.quantiles(lengths, n=10)[-1] <= 25


def test_records_are_frozen() -> None:
    """Every dataclass is frozen, so what was computed stays computed."""
    thawed = [
        f"{path.relative_to(SOURCE)}: {node.name}"
        for path in MODULES
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ClassDef)
        for decorator in node.decorator_list
        if ast.unparse(decorator).startswith("dataclass")
        and "frozen=True" not in ast.unparse(decorator)
    ]
    assert thawed == []

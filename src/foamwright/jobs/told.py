"""What was told about a new plane: checked, and read from an answers file."""

import difflib
import re
import tomllib
from collections.abc import Mapping
from pathlib import Path

from foamwright.jobs.interview import BY_KEY, GROUPS, QUESTIONS, Question
from foamwright.jobs.shapes import LAYOUTS
from foamwright.plane.stock import stock
from foamwright.problems import Finding, InputProblem, PlaneFileProblem
from foamwright.quantity import read, show

SIZED = {"esc": ("current", "current_limit"), "servo": ("mass", "mass")}
"""Kinds that come in sizes: what the label says, and under which key the stock says it."""


def stock_name(kind: str, label: str) -> str:
    """Return the stock entry for what is printed on a part: the nearest size where kinds have one.

    Raises PlaneFileProblem or QuantityProblem if there is none.
    """
    known = stock()
    if kind not in SIZED:
        known.entry(label, kind)
        return label if label.lower().startswith(kind) else f"{kind} {label}"
    dimension, key = SIZED[kind]
    bare = re.sub(rf"^{kind}\s+", "", label.strip(), flags=re.IGNORECASE)
    if f"{kind} {bare}".lower() in known.entries:
        return f"{kind} {bare}"
    size = read(bare, dimension).value
    sizes = {
        str(entry["name"]): read(entry[key], dimension).value
        for entry in known.search(kind, ())
        if key in entry
    }
    return min(sizes, key=lambda name: abs(sizes[name] - size))


def unchosen(question: Question, text: object) -> Finding | None:
    """Return the finding for an answer that is none of the choices."""
    if text in question.choices:
        return None
    near = difflib.get_close_matches(str(text), question.choices, n=1, cutoff=0.3)
    what = f"{text!r} is none of {', '.join(question.choices)}"
    expected = f'did you mean "{near[0]}"?' if near else ""
    return Finding(what=what, expected=expected, key=question.key)


def fault_of(question: Question, text: object) -> Finding | None:
    """Return what is wrong with an answer; nothing if it can be taken."""
    if question.choices:
        return unchosen(question, text)
    try:
        if question.dimensions:
            return outside(question, text)
        if not isinstance(text, str) or not text.strip() or not text.isprintable():
            return Finding(
                what=f"{text!r} is no text", expected="write one line in quotes", key=question.key
            )
        if question.stock and text != "none":
            stock_name(question.stock, text)
    except InputProblem as problem:
        found = problem.findings[0]
        return Finding(what=found.what, expected=found.expected, key=question.key)
    return None


def outside(question: Question, text: object) -> Finding | None:
    """Return the finding for a quantity no small foam plane has."""
    quantity = read(text, *question.dimensions)
    if question.between is None:
        return None
    low, high = question.between
    if low <= quantity.value <= high:
        return None
    limits = f"{show(low, quantity.dimension)} to {show(high, quantity.dimension)}"
    meant = likely(quantity.value, (low, high), quantity.dimension)
    return Finding(
        what=f"{text!r} is no {question.words} of a small foam plane",
        expected=f"{meant}it is {limits}",
        key=question.key,
    )


def likely(value: float, between: tuple[float, float], dimension: str) -> str:
    """Return the correction for centimetres or inches taken for millimetres; never applied."""
    if dimension != "length":
        return ""
    for factor in (10.0, 25.4):
        if between[0] <= value * factor <= between[1]:
            return f'did you mean "{show(value * factor, dimension)}"? '
    return ""


HEADER = re.compile(r"^\s*\[\s*([\w.\- ]+?)\s*\]")
ENTRY = re.compile(r"^\s*([\w.\-]+)\s*=")


def line_of(text: str, key: str) -> int | None:
    """Return the line of a dotted key in a TOML text, from 1; the line of its table else."""
    table, of_table = "", None
    for number, line in enumerate(text.splitlines(), start=1):
        header, entry = HEADER.match(line), ENTRY.match(line)
        if header:
            table = header[1]
            of_table = number if key.startswith(table) else of_table
        elif entry and ".".join(part for part in (table, entry[1]) if part) == key:
            return number
    return of_table


def flattened(found: Mapping[str, object]) -> dict[str, object]:
    """Return the tables of an answers file as dotted keys."""
    flat: dict[str, object] = {}
    for key, value in found.items():
        if isinstance(value, dict):
            flat |= {f"{key}.{inner}": entry for inner, entry in value.items()}
        else:
            flat[key] = value
    return flat


def findings_in(told: Mapping[str, object]) -> tuple[Finding, ...]:
    """Return everything that is wrong with a set of answers."""
    found = []
    layout = told.get("layout")
    for key, value in told.items():
        question = BY_KEY.get(key)
        if question is None:
            found.append(unknown(key))
        elif layout in LAYOUTS and layout not in question.layouts:
            has = " or ".join(question.layouts)
            what = f"a plane of layout '{layout}' has no {question.words}"
            found.append(Finding(what=what, expected=f"leave it out; only {has} has one", key=key))
        else:
            wrong = fault_of(question, value)
            found += [wrong] if wrong else []
    found += [
        Finding(what=f"the {q.words} is missing", expected=example_of(q), key=q.key)
        for q in QUESTIONS
        if q.needed and q.key not in told
    ]
    if "ruler.sweep" in told and "ruler.tip_set_back" in told:
        what = "sweep and tip_set_back say the same thing twice"
        found.append(Finding(what=what, expected="keep the one you measured", key="ruler.sweep"))
    return tuple(found)


def example_of(question: Question) -> str:
    """Return a line that would answer a question that has to be answered."""
    name = question.key.rpartition(".")[2]
    return f'add {name} = "{question.choices[0] if question.choices else "800 mm"}"'


def unknown(key: str) -> Finding:
    """Return the finding for a key nobody asks for, with the nearest one."""
    near = difflib.get_close_matches(key, BY_KEY, n=1, cutoff=0.5)
    bare = difflib.get_close_matches(key, [k.rpartition(".")[2] for k in BY_KEY], n=1, cutoff=0.8)
    hint = near[0] if near else next((k for k in BY_KEY if bare and k.endswith(bare[0])), "")
    expected = (
        f"did you mean {hint}?" if hint else f"known tables: {', '.join(filter(None, GROUPS))}"
    )
    return Finding(what=f"nothing is called '{key}'", expected=expected, key=key)


def read_answers(path: Path) -> dict[str, str]:
    """Return the answers in a TOML file as dotted keys; raises PlaneFileProblem with all."""
    try:
        text = path.read_text(encoding="utf-8")
        flat = flattened(tomllib.loads(text))
    except OSError as error:
        what = f"cannot be read: {error.strerror or error}"
        raise PlaneFileProblem((Finding(what=what, file=path),)) from error
    except ValueError as error:  # not TOML, or not UTF-8
        finding = Finding(what=f"is no TOML text: {error}", file=path)
        raise PlaneFileProblem((finding,)) from error
    findings = findings_in(flat)
    if findings:
        raise PlaneFileProblem(
            tuple(
                Finding(
                    what=found.what,
                    expected=found.expected,
                    file=path,
                    line=line_of(text, found.key),
                    key=found.key,
                )
                for found in findings
            )
        )
    return {key: str(value) for key, value in flat.items()}

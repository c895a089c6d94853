"""Print docs/names.md: name, symbol, unit and meaning of every parameter and field of physics.

Everything but the symbol is read from the docstrings; a name with two units gets two rows.
"""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

PHYSICS = Path(__file__).parent.parent / "src" / "foamwright" / "physics"

HEAD = """# Names

What the physics calls its quantities, in SI units. Written by `make names` from the docstrings of
functions and records; change it there. Where modules give one name different words, the words of
the first module that says something are shown.

| name | symbol | unit | meaning | where |
|---|---|---|---|---|
"""

SYMBOLS = {
    "advance_ratio": "J",
    "airspeed": "V",
    "altitude": "H",
    "angle_of_attack": "α",
    "aspect_ratio": "A",
    "chord": "c",
    "current": "I",
    "density": "ρ",
    "drag": "CD",
    "dynamic_pressure": "q",
    "geometric_altitude": "Z",
    "inertia": "I",
    "induced_drag": "CDi",
    "kinematic_viscosity": "ν",
    "lift": "CL",
    "mach": "M",
    "mass": "m",
    "masses": "m",
    "period": "T",
    "power": "P",
    "pressure": "p",
    "radius": "r",
    "relative_humidity": "φ",
    "resistance": "R",
    "reynolds": "Re",
    "speed": "V",
    "speed_of_sound": "a",
    "span": "b",
    "taper": "λ",
    "temperature": "T",
    "thrust": "T",
    "torque": "Q",
    "viscosity": "μ",
    "voltage": "U",
}
"""Symbols of the field, by name."""

PARAMETER = re.compile(r"^(?P<name>\w+) : .*\[(?P<unit>[^\]]+)\]$")
UNIT = re.compile(r"\s*(?:\([^()]*\)\s*)?\[(?P<unit>[^\]]+)\]")

Entry = tuple[str, str, str]
"""Name, unit, meaning."""


def parameters(docstring: str) -> Iterator[Entry]:
    """Yield the parameters with a unit of one numpydoc docstring."""
    match = re.search(
        r"^Parameters\n-+\n(.*?)(?=^\w+\n-+\n|\Z)", docstring, re.MULTILINE | re.DOTALL
    )
    lines = match.group(1).splitlines() if match else []
    for number, line in enumerate(lines):
        found = PARAMETER.match(line)
        if found:
            words = []
            for follower in lines[number + 1 :]:
                if not follower.startswith(" "):
                    break
                words.append(follower.strip())
            yield found["name"], found["unit"], " ".join(words)


def fields(record: ast.ClassDef) -> Iterator[Entry]:
    """Yield the fields of a record whose docstring names a unit."""
    for field, note in zip(record.body, record.body[1:], strict=False):
        if not isinstance(field, ast.AnnAssign) or not isinstance(field.target, ast.Name):
            continue
        if isinstance(note, ast.Expr) and isinstance(note.value, ast.Constant):
            text = " ".join(str(note.value.value).split())
            unit = UNIT.search(text)
            if unit:
                yield field.target.id, unit["unit"], UNIT.sub("", text, count=1)


def entries(path: Path) -> Iterator[Entry]:
    """Yield all public parameters and fields of one module."""
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            yield from parameters(ast.get_docstring(node) or "")
        elif isinstance(node, ast.ClassDef):
            yield from fields(node)


def rows() -> Iterator[str]:
    """Yield one table row for each name and unit."""
    meanings: dict[tuple[str, str], str] = {}
    places: dict[tuple[str, str], list[str]] = defaultdict(list)
    for path in sorted(PHYSICS.rglob("*.py")):
        module = ".".join(path.relative_to(PHYSICS).with_suffix("").parts)
        for name, unit, meaning in entries(path):
            tidy = re.sub(r"\s*[,;]+(?=[;.])", "", meaning).strip(" .,;:")
            meanings[name, unit] = meanings.get((name, unit)) or tidy
            if module not in places[name, unit]:
                places[name, unit].append(module)
    for name, unit in sorted(meanings):
        symbol = SYMBOLS.get(name, "")
        meaning = meanings[name, unit].replace("|", "\\|")
        where = ", ".join(places[name, unit])
        yield f"| `{name}` | {symbol} | {unit} | {meaning} | {where} |"


if __name__ == "__main__":
    print(HEAD + "\n".join(rows()))

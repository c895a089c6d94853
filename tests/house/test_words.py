"""What is committed speaks of the project only, and nothing in it is tied to one machine."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
FOLDERS = ("src", "tests", "tools", "docs", "examples", "benchmarks", "changelog.d", ".ci")
SUFFIXES = {
    *(".py", ".toml", ".md", ".txt", ".csv", ".json", ".yaml", ".yml", ".svg"),
    *(".html", ".css", ".js", ""),
}
MACHINE = re.compile(r"(?<![\w.])/(?:work|root|home|tmp|Users)/\w")
WORDS = re.compile(
    r"seed[ ]document|tran[s]cript|shared[ ]folder|check[-]values|scenarios\.md|trade\.md|style\.md"
    r"|numerics\.md|design\.md|\bhelper [A-F]\b",
    re.IGNORECASE,
)


def written_files() -> list[Path]:
    """Return all text files of the project but this one and what tools leave behind."""
    found = [path for path in ROOT.iterdir() if path.is_file()]
    for folder in FOLDERS:
        found += [path for path in (ROOT / folder).rglob("*") if path.is_file()]
    return sorted(
        path
        for path in found
        if path.suffix in SUFFIXES
        and path != Path(__file__)
        and not {"__pycache__", "foamwright.egg-info"} & set(path.parts)
    )


@pytest.mark.parametrize("pattern", [MACHINE, WORDS], ids=["machine paths", "words"])
def test_no_file_names_what_is_outside_the_project(pattern: re.Pattern[str]) -> None:
    """No path of one machine, no note the reader cannot see."""
    found = [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()[:80]}"
        for path in written_files()
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if pattern.search(line)
    ]
    assert found == []

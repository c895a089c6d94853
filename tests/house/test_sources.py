"""Every source is used, and every one says what was taken and how it is held."""

import re
from pathlib import Path

import foamwright
from foamwright.sources import SOURCES

SOURCE = Path(foamwright.__file__).parent
TESTS = Path(__file__).parent.parent


def everything_else() -> str:
    """Return all text in which a source may be cited."""
    files = [path for path in SOURCE.rglob("*.py") if path.parent != SOURCE / "sources"]
    for folder, pattern in ((SOURCE, "*.toml"), (TESTS, "*.py"), (TESTS, "*.toml")):
        files += folder.rglob(pattern)
    for pattern in ("*.md", "*.py"):
        files += (TESTS / "published" / "data").rglob(pattern)
        files += (SOURCE / "physics" / "data").rglob(pattern)
    return "\n".join(path.read_text(encoding="utf-8") for path in files)


def test_every_source_is_cited_somewhere() -> None:
    """A source nobody cites has no place in the list."""
    text = everything_else()
    unused = [key for key in SOURCES if not re.search(rf"(?<![\w-]){key}(?![\w-])", text)]
    assert unused == []


def test_keys_read_as_author_and_year() -> None:
    """Small letters, digits and hyphens, so that they can be typed."""
    assert [key for key in SOURCES if not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", key)] == []


def test_no_source_is_listed_twice() -> None:
    """One citation, one key."""
    citations = [source.citation for source in SOURCES.values()]
    assert len(set(citations)) == len(citations)


def test_every_source_says_what_was_taken() -> None:
    """Citation and what was taken are both there."""
    assert all(source.citation and source.taken for source in SOURCES.values())

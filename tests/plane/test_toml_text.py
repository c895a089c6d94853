"""Every way a file can be unreadable is one finding that says what would be right."""

from pathlib import Path

import pytest

from foamwright.plane.toml_text import LARGEST, parsed, text_of
from foamwright.problems import Finding, PlaneFileProblem

FILE = Path("plane.toml")


def refusal(text: str) -> Finding:
    """Return the one thing that is wrong with a text."""
    with pytest.raises(PlaneFileProblem) as caught:
        parsed(text, FILE)
    (finding,) = caught.value.findings
    assert finding.file == FILE
    return finding


def unreadable(file: Path) -> Finding:
    """Return the one thing that is wrong with a file."""
    with pytest.raises(PlaneFileProblem) as caught:
        text_of(file)
    (finding,) = caught.value.findings
    assert finding.file == file
    return finding


def test_good_toml_is_read() -> None:
    """Tables, lists and texts, as the standard library reads them."""
    assert parsed('a = [1, { b = "c" }]\n', FILE) == {"a": [1, {"b": "c"}]}


def test_a_value_without_quotes_is_told_with_its_line_and_the_remedy() -> None:
    """The commonest slip: a unit outside quotes."""
    finding = refusal('name = "wren"\nmass = 71 g\n')
    assert finding.line == 2
    assert 'mass = "71 g"' in finding.expected


@pytest.mark.parametrize(
    ("text", "line"),
    [("hello", 1), ("a = 1\n\n[b\n", 3), ("a = 1\na = 2\n", 2), ("a = 1\nb = nine\n", 2)],
)
def test_what_is_not_toml_is_told_with_its_line(text: str, line: int) -> None:
    """As the parser counts them, from 1."""
    found = refusal(text)
    assert found.what.startswith("is not TOML")
    assert found.line in (line, line - 1, None)  # Python versions name the end of the file apart


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 50_000 + "]" * 50_000,
        "a = " + "[" * 40 + "]" * 40,
        ".".join(["a"] * 30_000) + " = 1",
        "[" + ".".join(["a"] * 3_000) + "]",
        ".".join(['"a b"'] * 3_000) + " = 1",
    ],
    ids=["brackets", "few brackets", "dotted", "header", "quoted"],
)
def test_endless_nesting_is_told_at_once(text: str) -> None:
    """Neither the stack nor hours of the builder's evening are used up."""
    assert "without end" in refusal(text).what


def test_a_number_of_thousands_of_digits_is_told() -> None:
    """The parser refuses it with an error of another kind."""
    finding = refusal("count = 1" + "0" * 5000)
    assert "4300 digits" in finding.what
    assert "sys." not in finding.what


def test_a_long_word_is_looked_through_in_no_time() -> None:
    """The guard against endless keys is linear in the text."""
    assert parsed('note = "' + "a" * 1_000_000 + '"', FILE)


def test_a_file_that_is_too_large_is_not_read(tmp_path: Path) -> None:
    """50 MB are no plane; the file is told by its size alone."""
    file = tmp_path / "plane.toml"
    with file.open("wb") as out:
        out.truncate(50_000_000)
    finding = unreadable(file)
    assert "50 MB" in finding.what
    assert f"{LARGEST / 1e6:.0f} MB" in finding.expected


def test_a_file_in_another_coding_is_told(tmp_path: Path) -> None:
    """A photograph or a text in UTF-16."""
    file = tmp_path / "plane.toml"
    file.write_bytes(b"\xff\xd8\xff\xe0\x00\x10JFIF")
    assert "UTF-8" in unreadable(file).expected
    file.write_bytes('name = "x"'.encode("utf-16"))
    assert "UTF-8" in unreadable(file).expected


def test_a_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    """Some editors write one; the text begins behind it."""
    file = tmp_path / "plane.toml"
    file.write_bytes(b"\xef\xbb\xbfname = 'x'\r\n")
    assert text_of(file) == "name = 'x'\r\n"


def test_a_file_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    """A folder of that name, a file that is not there; neither ends in a traceback."""
    (tmp_path / "folder").mkdir()
    assert "cannot be read" in unreadable(tmp_path / "folder").what
    assert "cannot be read" in unreadable(tmp_path / "none").what

"""TOML files as text and as plain data, with every way they can be unreadable told kindly."""

import re
import tomllib
from pathlib import Path

from foamwright.plane.edits import Raw
from foamwright.plane.texts import is_deep
from foamwright.problems import Finding, PlaneFileProblem

LARGEST = 2_000_000
"""Largest file read [bytes]."""

QUOTES = 'texts and values with a unit stand in quotes, as in mass = "71 g"'

CHAIN = re.compile(r"(?<![\w-])(?:[\"']?[\w-]++[\"']?[ \t]*\.[ \t]*){40}")
"""Dozens of keys dotted together: the parser would take hours over thousands."""


def refused(file: Path, what: str, expected: str, line: int | None = None) -> PlaneFileProblem:
    """Return the problem with a file as a whole, or with one of its lines."""
    return PlaneFileProblem((Finding(what=what, expected=expected, file=file, line=line),))


def text_of(file: Path) -> str:
    """Return a file's text; a byte-order mark in front of it is taken off."""
    try:
        size = file.stat().st_size
        if size > LARGEST:
            what = f"is {size / 1e6:.0f} MB large, which no plane needs"
            raise refused(file, what, "2 MB at most; is it the right file?")
        return file.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise refused(file, "is no UTF-8 text", "save it as plain text in UTF-8") from error
    except OSError as error:
        words = (error.strerror or "no reason given").lower()
        raise refused(file, f"cannot be read: {words}", "look at its permissions") from error


def parsed(text: str, file: Path) -> Raw:
    """Return the text as plain data."""
    if CHAIN.search(text):
        raise too_deep(file)
    try:
        found = tomllib.loads(text)
    except RecursionError as error:
        raise too_deep(file) from error
    except ValueError as error:  # a number of thousands of digits is no TOMLDecodeError
        words, line = str(error).partition("; use sys.")[0], None
        if "(at line " in words:
            words, _, rest = words.partition(" (at line ")
            line = int(rest.split(",")[0])
        elif words.endswith(" (at end of document)"):
            words, line = words.removesuffix(" (at end of document)"), len(text.splitlines())
        raise refused(file, f"is not TOML: {words}", QUOTES, line) from error
    if is_deep(found):
        raise too_deep(file)
    return found


def too_deep(file: Path) -> PlaneFileProblem:
    """Return the problem with a file of endless brackets."""
    return refused(file, "has tables inside tables without end", "a plane has seven levels at most")

"""What no text in a plane file may hold: signs that would act on a terminal instead of showing."""

from collections.abc import Iterator, Mapping

from foamwright.plane.edits import Raw
from foamwright.plane.findings import Path, Told
from foamwright.problems import acts

DEEPEST = 24
"""Levels of tables and lists that a plane file may have; a plane has seven."""

LONG_TEXTS = ("purpose", "note")
"""Keys whose text may run over several lines."""


def texts(value: object, path: Path = ()) -> Iterator[tuple[Path, str]]:
    """Yield every key and every text of plain data with its path."""
    if isinstance(value, Mapping):
        for key, entry in value.items():
            yield (*path, key), str(key)
            yield from texts(entry, (*path, key))
    elif isinstance(value, list | tuple):
        for index, entry in enumerate(value):
            yield from texts(entry, (*path, index))
    elif isinstance(value, str):
        yield path, value


def acting_texts(raw: Raw) -> list[Told]:
    """Return a finding for every text that may not be shown as it is."""
    return [
        (path, "holds a line break or another sign that does not show", "type it on one line")
        for path, text in texts(raw)
        if any(acts(sign) and sign not in lines_of_text(path) for sign in text)
    ]


def lines_of_text(path: Path) -> str:
    """Return the signs that a text may hold although they do not show."""
    return "\n\r\t" if path[-1] in LONG_TEXTS else ""


def is_deep(value: object) -> bool:
    """Return whether plain data has more levels than any plane."""
    level = [value]
    for _ in range(DEEPEST):
        level = [inner for outer in level for inner in members(outer)]
    return bool(level)


def members(value: object) -> list[object]:
    """Return the tables and lists right inside a value."""
    found: list[object] = []
    if isinstance(value, Mapping):
        found = list(value.values())
    elif isinstance(value, list | tuple):
        found = list(value)
    return [entry for entry in found if isinstance(entry, Mapping | list | tuple)]

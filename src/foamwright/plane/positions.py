"""Which line of a TOML text a key stands on.

The parser tells no positions, so the text is walked once more: table headers open a path, keys end
it, and inside inline tables and arrays every element and key is counted.
"""

import re
from bisect import bisect_left
from collections.abc import Mapping, Sequence

Key = str | int
Path = tuple[Key, ...]

HEADER = re.compile(r"^\s*(\[\[|\[)\s*(?P<name>[^\[\]]+?)\s*(\]\]|\])\s*(?:#.*)?$")
BARE = r"[A-Za-z0-9_-]+"
PART = rf"(?:{BARE}|\"(?:[^\"\\]|\\.)*\"|'[^']*')"
KEY = re.compile(rf"\s*(?P<key>{PART}(?:\s*\.\s*{PART})*)\s*=")


def parts_of(text: str) -> list[str]:
    """Return a dotted key as its parts, quotes taken off."""
    return [part.strip("\"'") for part in re.findall(PART, text)]


class _Walk:
    """One pass over a text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.ends = [match.start() for match in re.finditer("\n", text)]
        self.lines: dict[Path, int] = {}
        self.counts: dict[Path, int] = {}
        self.table: Path = ()

    def resolved(self, names: list[str]) -> Path:
        """Return a header's path with the index of the last element of every array of tables."""
        path: Path = ()
        for name in names:
            path = (*path, name)
            if path in self.counts:
                path = (*path, self.counts[path] - 1)
        return path

    def header(self, line: int, name: str, *, array: bool) -> None:
        """Open a table."""
        names = parts_of(name)
        if array:
            path = (*self.resolved(names[:-1]), names[-1])
            self.counts[path] = self.counts.get(path, 0) + 1
            self.table = (*path, self.counts[path] - 1)
        else:
            self.table = self.resolved(names)
        self.lines.setdefault(self.table, line)

    def mark(self, path: Path, place: int) -> None:
        """Note the line of a path."""
        self.lines.setdefault(path, self.line_at(place))

    def line_at(self, place: int) -> int:
        """Return the line of a place, from 1."""
        return bisect_left(self.ends, place) + 1

    def value(self, path: Path, place: int) -> int:
        """Walk one value and return where it ends."""
        place = self.skipped(place)
        sign = self.text[place : place + 1]
        if sign == "[":
            return self.members(path, place + 1, "]")
        if sign == "{":
            return self.members(path, place + 1, "}")
        if sign in ('"', "'"):
            return self.string(place)
        end = re.compile(r"[,\]\}\n#]").search(self.text, place)
        return len(self.text) if end is None else end.start()

    def string(self, place: int) -> int:
        """Return where a string ends."""
        quote = self.text[place]
        if self.text.startswith(quote * 3, place):
            end = self.text.find(quote * 3, place + 3)
            return len(self.text) if end < 0 else end + 3
        place += 1
        while place < len(self.text) and self.text[place] not in (quote, "\n"):
            place += 2 if self.text[place] == "\\" and quote == '"' else 1
        return place + 1

    def members(self, path: Path, place: int, close: str) -> int:
        """Walk the members of an array or inline table."""
        index = 0
        while True:
            place = self.skipped(place)
            if place >= len(self.text):
                return place
            if self.text[place] == close:
                return place + 1
            if self.text[place] == ",":
                place += 1
                continue
            before = place
            if close == "]":
                self.mark((*path, index), place)
                place = self.value((*path, index), place)
                index += 1
            else:
                place = self.keyed(path, place)
            if place <= before:
                return len(self.text)  # not TOML; the parser has said so already

    def keyed(self, path: Path, place: int) -> int:
        """Walk one `key = value`."""
        match = KEY.match(self.text, place)
        if match is None:
            end = self.text.find("\n", place)
            return len(self.text) if end < 0 else end + 1
        inner = (*path, *parts_of(match["key"]))
        self.mark(inner, match.start("key"))
        return self.value(inner, match.end())

    def skipped(self, place: int) -> int:
        """Return the next place that is neither space nor comment."""
        while place < len(self.text):
            if self.text[place] == "#":
                end = self.text.find("\n", place)
                place = len(self.text) if end < 0 else end
            elif self.text[place].isspace():
                place += 1
            else:
                return place
        return place

    def run(self) -> None:
        """Walk the whole text."""
        place = 0
        while (place := self.skipped(place)) < len(self.text):
            end = self.text.find("\n", place)
            end = len(self.text) if end < 0 else end
            header = HEADER.match(self.text[place:end])
            if header is not None:
                array = self.text[place : place + 2] == "[["
                self.header(self.line_at(place), header["name"], array=array)
                place = end
            else:
                place = max(self.keyed(self.table, place), place + 1)


def lines_of(text: str) -> dict[Path, int]:
    """Return the line of every key and element of a TOML text, from 1."""
    walk = _Walk(text)
    walk.run()
    return walk.lines


def line_of(lines: Mapping[Path, int], path: Sequence[Key]) -> int | None:
    """Return the line of a path, or of the nearest thing around it that has one."""
    whole = tuple(path)
    for length in range(len(whole), 0, -1):
        if whole[:length] in lines:
            return lines[whole[:length]]
    return None


def moved(
    lines: Mapping[Path, int], before: Mapping[str, object], after: Mapping[str, object]
) -> dict[Path, int]:
    """Return the lines for a plane in which list entries were taken away: found by their names."""
    known: dict[Path, Path | None] = {(): ()}
    found: dict[Path, int] = {}
    for path, line in sorted(lines.items(), key=lambda entry: len(entry[0])):
        for length in range(1, len(path) + 1):
            start = path[:length]
            if start not in known:
                known[start] = followed(start, known[start[:-1]], (before, after))
        place = known[path]
        if place is not None:
            found[place] = line
    return found


def followed(path: Path, above: Path | None, planes: tuple[object, object]) -> Path | None:
    """Return where a path of the first plane lies in the second, given where its parent does."""
    last = path[-1]
    if above is None or isinstance(last, str):
        return None if above is None else (*above, last)
    names = [
        names_in(at(plane, way)) for plane, way in zip(planes, (path[:-1], above), strict=True)
    ]
    if last >= len(names[0]) or names[0][last] is None:
        return (*above, last)
    name, earlier = names[0][last], names[0][:last]
    places = [index for index, other in enumerate(names[1]) if other == name]
    nth = earlier.count(name)
    return (*above, places[nth]) if nth < len(places) else None


def names_in(place: object) -> list[object]:
    """Return the name of every entry of a list, none for an entry without."""
    entries = place if isinstance(place, list | tuple) else ()
    return [entry.get("name") if isinstance(entry, Mapping) else None for entry in entries]


def at(place: object, path: Path) -> object:
    """Return what lies at a path of plain data; none if nothing does."""
    for part in path:
        if isinstance(place, Mapping):
            place = place.get(str(part))
        elif isinstance(place, list | tuple) and isinstance(part, int) and part < len(place):
            place = place[part]
        else:
            return None
    return place

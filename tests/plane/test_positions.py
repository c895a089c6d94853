"""Lines of keys in a TOML text, in every way the text may be laid out."""

import tomllib
from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.plane.positions import line_of, lines_of, moved

LAID_OUT = """\
# comment with = and [brackets]
name = "a # b"

[airframe]
foam = "EPP"
bare_balance.x = "100 mm"

[[airframe.surfaces]]
name = "wing"
stations = [
  { y = "0 mm", chord = "170 mm" },  # root
  # between
  { y = "300 mm", marks = [ 1,
    2 ], chord = "150 mm" },
]

[[airframe.surfaces.controls]]
name = "elevon"

[[airframe.surfaces]]
name = "fin"

[[items]]
name = "pack"
[items.at]
x = "33 mm"

[[items]]
"name" = 'rod ]'
note = '''
x = "not a key"
'''
mass = "3 g"

[variants."small pack"]
"items.pack.mass" = "40 g"
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("name",), 2),
        (("airframe",), 4),
        (("airframe", "foam"), 5),
        (("airframe", "bare_balance", "x"), 6),
        (("airframe", "surfaces", 0), 8),
        (("airframe", "surfaces", 0, "stations", 0, "chord"), 11),
        (("airframe", "surfaces", 0, "stations", 1, "y"), 13),
        (("airframe", "surfaces", 0, "stations", 1, "chord"), 14),
        (("airframe", "surfaces", 0, "controls", 0, "name"), 18),
        (("airframe", "surfaces", 1, "name"), 21),
        (("items", 0, "at", "x"), 26),
        (("items", 1, "name"), 29),
        (("items", 1, "mass"), 33),
        (("variants", "small pack", "items.pack.mass"), 36),
    ],
)
def test_a_key_stands_on_its_line(path: tuple[str | int, ...], line: int) -> None:
    """Lines counted by hand in the text above."""
    assert line_of(lines_of(LAID_OUT), path) == line


def test_a_missing_key_has_the_line_of_what_is_around_it() -> None:
    """The nearest table, element or array that is written."""
    lines = lines_of(LAID_OUT)
    assert line_of(lines, ("items", 0, "mass")) == 23
    assert line_of(lines, ("airframe", "surfaces", 0, "stations", 1, "twist")) == 13
    assert line_of(lines, ("targets", "top_speed")) is None


def test_lines_follow_the_names_when_an_entry_is_gone() -> None:
    """The rod's mass stays on line 33 when the pack before it is taken away."""
    before = tomllib.loads(LAID_OUT)
    after = {**before, "items": before["items"][1:]}
    lines = moved(lines_of(LAID_OUT), before, after)
    assert line_of(lines, ("items", 0, "mass")) == 33
    assert ("items", 1) not in lines
    assert line_of(lines, ("airframe", "surfaces", 0, "stations", 1, "chord")) == 14


def test_windows_line_ends_count_once() -> None:
    """A carriage return is no line of its own."""
    lines = lines_of(LAID_OUT.replace("\n", "\r\n"))
    assert line_of(lines, ("airframe", "surfaces", 0, "stations", 1, "chord")) == 14


def test_every_line_of_a_large_file_is_found() -> None:
    """40 000 keys, as many as the largest file taken may hold."""
    text = "\n".join(f'key{number} = "{number} mm"' for number in range(40_000))
    lines = lines_of(text)
    assert lines["key39999",] == 40_000


def keys_of(value: object, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Yield the path of everything inside parsed data."""
    members = (
        value.items()
        if isinstance(value, dict)
        else enumerate(value)
        if isinstance(value, list)
        else ()
    )
    for key, entry in members:
        yield (*path, key)
        yield from keys_of(entry, (*path, key))


def test_every_key_the_standard_parser_finds_has_a_line() -> None:
    """Python's own TOML parser sees the same keys as the walk does."""
    lines = lines_of(LAID_OUT)
    leaves = [
        path
        for path in keys_of(tomllib.loads(LAID_OUT))
        if path not in lines and not any(known[: len(path)] == path for known in lines)
    ]
    assert leaves == []


@given(st.text(alphabet="ab=[]{}\"'#,.\n \\", max_size=80))
def test_no_text_stops_the_walk(text: str) -> None:
    """Any text at all comes to an end, and every line exists in it."""
    assert all(1 <= line <= text.count("\n") + 1 for line in lines_of(text).values())

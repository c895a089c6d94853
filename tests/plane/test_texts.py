"""Texts that would act on a terminal, and tables without end."""

from hypothesis import given
from hypothesis import strategies as st

from foamwright.plane.texts import DEEPEST, acting_texts, is_deep, texts


def nested(levels: int) -> object:
    """Return lists inside lists."""
    found: object = "end"
    for _ in range(levels):
        found = [found]
    return found


def test_every_key_and_text_is_looked_at() -> None:
    """Keys of tables and entries of lists too, each with its path."""
    raw: dict[str, object] = {"items": [{"name": "pack", "count": 2}], "purpose": "fun"}
    assert list(texts(raw)) == [
        (("items",), "items"),
        (("items", 0, "name"), "name"),
        (("items", 0, "name"), "pack"),
        (("items", 0, "count"), "count"),
        (("purpose",), "purpose"),
        (("purpose",), "fun"),
    ]


def test_signs_that_act_are_told_where_they_are() -> None:
    """Escape codes, line ends and turned reading in a name; letters of any language not."""
    raw: dict[str, object] = {
        "name": "Flügel 翼 ± 2°",
        "items": [{"name": "\x1b[31mpack"}, {"name": "a\nb"}, {"name": "a\u202eb"}],
    }
    assert [path for path, _, _ in acting_texts(raw)] == [
        ("items", 0, "name"),
        ("items", 1, "name"),
        ("items", 2, "name"),
    ]


def test_notes_may_run_over_lines() -> None:
    """A note of several lines is good TOML; escape codes in it are not shown."""
    raw: dict[str, object] = {"purpose": "fun\nand speed", "items": [{"note": "a\tb"}]}
    assert acting_texts(raw) == []
    assert len(acting_texts({"purpose": "fun\x1b[2J"})) == 1


@given(st.integers(0, 3 * DEEPEST))
def test_depth_is_counted_in_levels(levels: int) -> None:
    """As many levels as allowed are allowed, one more is not."""
    assert is_deep(nested(levels)) == (levels > DEEPEST)


def test_depth_needs_no_recursion() -> None:
    """A hundred thousand levels are counted without running out of stack."""
    assert is_deep(nested(100_000))
    assert not is_deep({"a": [{"b": [1, 2]}] * 1000})

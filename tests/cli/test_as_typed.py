"""A suggested command can be copied as it stands."""

import shlex
from pathlib import Path

import pytest

from foamwright.cli.as_typed import as_typed, plain

WORDS = ["my plane", "it's mine", 'the "big" one', "a;b", "$HOME", "x*", "", "(two) & three"]


@pytest.mark.parametrize("word", [*WORDS, "reedling", "examples/été", "飛機"])
def test_the_shell_reads_one_word_and_the_same(word: str) -> None:
    """Whatever a folder or a variant is called."""
    assert shlex.split(as_typed(word, "posix")) == [word]


@pytest.mark.parametrize("word", ["examples/reedling", "../my-plane_2", "été", "C.toml"])
def test_ordinary_paths_stay_without_quotes(word: str) -> None:
    """Accents are no reason for any."""
    assert as_typed(Path(word), "posix") == word
    assert plain(word)


def test_the_other_shell_gets_its_own_quotes() -> None:
    """Double ones, and only where there is a space."""
    assert as_typed("my plane", "nt") == '"my plane"'
    assert as_typed("reedling", "nt") == "reedling"

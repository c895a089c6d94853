"""Paths and names as they have to be typed at the prompt, in the commands that answers suggest."""

import os
import shlex
import subprocess
from pathlib import Path


def as_typed(word: str | Path, system: str = os.name) -> str:
    """Return a word in quotes where the shell would take it apart; else as it is."""
    if system == "nt":
        return subprocess.list2cmdline([str(word)])
    text = str(word)
    if plain(text):
        return text
    return shlex.quote(text) if not text or set(text) & set('"$`\\!') else f'"{text}"'


def plain(word: str) -> bool:
    """Return whether letters, digits and the usual signs of paths are all there is in a word."""
    return bool(word) and all(sign.isalnum() or sign in "._-/+,:=@" for sign in word)

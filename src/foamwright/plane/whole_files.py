"""Files written whole or not at all, and what tells one text from another."""

import hashlib
import os
import shutil
import tempfile
from pathlib import Path


def digest_of(text: str) -> str:
    """Return what tells a text from any other."""
    return hashlib.sha256(text.encode()).hexdigest()


def replace(file: Path, text: str) -> None:
    """Write a file whole or not at all; what was there keeps its permissions."""
    file = file.resolve()  # a link stays a link
    handle, name = tempfile.mkstemp(dir=file.parent, prefix=f".{file.name}.")
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="") as out:
            out.write(text)
        if file.exists():
            shutil.copymode(file, name)
        else:
            Path(name).chmod(0o666 & ~mask())
        Path(name).replace(file)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def mask() -> int:
    """Return which permissions a new file goes without."""
    found = os.umask(0o022)  # it can only be read by setting it
    os.umask(found)
    return found

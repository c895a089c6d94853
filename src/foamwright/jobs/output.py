"""Files that commands write: whole or not at all, over another one only if told so."""

import contextlib
import os
import tempfile
from pathlib import Path

from foamwright.problems import CallProblem, WriteProblem


def free(file: Path, endings: tuple[str, ...], *, force: bool) -> None:
    """Refuse a file that may not be written; `endings` are those it may have, dot included."""
    if file.suffix.lower() not in endings:
        known = " or ".join(endings)
        raise CallProblem(f"cannot write into {file}", expected=f"name a file that ends in {known}")
    if file.is_dir():
        raise WriteProblem(file, "is a folder", expected="name a file in it")
    if not file.parent.is_dir():
        raise WriteProblem(file, "its folder does not exist", expected="make the folder first")
    if os.path.lexists(file) and not force:
        raise taken(file)


def taken(file: Path) -> WriteProblem:
    """Return the problem with a file that is there already."""
    return WriteProblem(file, "exists already", expected="name another, or say --force")


def put(file: Path, content: bytes, *, force: bool) -> None:
    """Write a file whole or not at all; over another one only if told so."""
    try:
        with tempfile.TemporaryDirectory(prefix=".foamwright-", dir=file.parent) as room:
            draft = Path(room) / file.name
            draft.write_bytes(content)
            if force:
                draft.replace(file.resolve())  # a link stays a link
                return
            with contextlib.suppress(PermissionError, NotImplementedError):
                os.link(draft, file)
                return
            free(file, (file.suffix.lower(),), force=False)
            draft.replace(file)
    except FileExistsError as error:
        raise taken(file) from error
    except OSError as error:
        raise WriteProblem(file, f"cannot be written: {error.strerror or error}") from error

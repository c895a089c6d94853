"""Pages set by typst from a template of ours and plain data: the same data, the same bytes."""

import json
import tempfile
from collections.abc import Mapping
from importlib.resources import files
from pathlib import Path

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
"""Width and height [mm]."""


def typeset(template: str, data: Mapping[str, object]) -> bytes:
    """Return a PDF set from one of the templates; `data` is what it reads as JSON.

    Only the fonts that typst brings along are used, so that every machine sets the same page.
    """
    import typst  # noqa: PLC0415 - slow to import, only paper needs it

    text = files("foamwright.paper").joinpath("typst", f"{template}.typ").read_text("utf-8")
    with tempfile.TemporaryDirectory(prefix="foamwright-") as room:
        source = Path(room) / f"{template}.typ"
        source.write_text(text, encoding="utf-8")
        told = {"data": json.dumps(data, ensure_ascii=True)}
        found: bytes = typst.compile(str(source), sys_inputs=told, ignore_system_fonts=True)
    return found

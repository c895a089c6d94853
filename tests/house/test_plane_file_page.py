"""The page of the plane file is current and leaves no key out."""

import subprocess
import sys
import typing
from collections.abc import Iterator
from pathlib import Path

from pydantic import BaseModel

from foamwright.plane.plane import Plane

ROOT = Path(__file__).parent.parent.parent
PAGE = ROOT / "docs" / "plane-file.md"


def records(found: object) -> Iterator[type[BaseModel]]:
    """Yield every record that a type leads to."""
    if isinstance(found, type) and issubclass(found, BaseModel):
        yield found
        for field in found.model_fields.values():
            yield from records(field.annotation)
    for argument in typing.get_args(found):
        yield from records(argument)


def test_the_page_is_what_its_generator_prints() -> None:
    """`make names` writes it anew."""
    printed = subprocess.run(
        [sys.executable, "-X", "utf8", "tools/list_plane_keys.py"],
        check=True,
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=ROOT,
    ).stdout
    assert PAGE.read_text(encoding="utf-8") == printed


def test_every_key_of_every_record_is_on_the_page() -> None:
    """Found from the plane itself, not from the generator's list of tables."""
    page = PAGE.read_text(encoding="utf-8")
    keys = {
        f"{record.__name__}.{name}": name
        for record in records(Plane)
        for name in record.model_fields
        if name != "from_stock"
    }
    assert len(keys) > 150
    assert [key for key, name in keys.items() if f"| `{name}` |" not in page] == []


def test_every_table_of_the_page_says_what_its_keys_mean() -> None:
    """Four cells a row, the last one not empty."""
    rows = [row for row in PAGE.read_text(encoding="utf-8").split("\n") if row.startswith("| `")]
    assert [row for row in rows if len(row.split(" | ")) != 4 or row.endswith("|  |")] == []

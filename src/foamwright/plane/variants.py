"""The same plane with some keys changed: variants, and remedies to be tried."""

import dataclasses
from collections.abc import Mapping

from foamwright.plane.document import LoadedPlane, validated
from foamwright.plane.edits import changed, is_removal
from foamwright.plane.positions import moved


def overridden(loaded: LoadedPlane, changes: Mapping[str, object]) -> LoadedPlane:
    """Return a loaded plane with dotted keys changed, stock merged and checked anew.

    List entries are addressed by name ("items.pack.at.x"); None takes a key or entry away, a
    table adds an entry. Raises PlaneFileProblem where the result is no plane.
    """
    raw = changed(loaded.raw, changes)
    lines = loaded.lines
    if any(is_removal(value) for value in changes.values()):
        lines = moved(lines, loaded.raw, raw)
    plane = validated(raw, loaded.stock, (loaded.file, loaded.folder, lines))
    return dataclasses.replace(loaded, plane=plane, raw=raw, lines=lines)

"""The plane on the desk: read once, read again when its file changes, asked under one lock.

All that lasts lies in the plane file. What is kept here can be thrown away at any moment, so a
server that was killed and started anew tells and takes the same as before.
"""

import contextlib
import dataclasses
import re
import threading
from collections import OrderedDict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from foamwright.jobs.ask import Settings, case_of, opened
from foamwright.jobs.belief import sources
from foamwright.model.ensemble import Draws
from foamwright.plane.document import LoadedPlane, load, plane_file
from foamwright.plane.edits import Raw
from foamwright.plane.flights import COLUMNS, FOLDER
from foamwright.plane.toml_text import text_of
from foamwright.plane.variants import overridden
from foamwright.plane.whole_files import digest_of
from foamwright.problems import PlaneFileProblem
from foamwright.questions.case import Case

KEPT = 24
"""Readings remembered, to tell a tab what changed since it looked."""

PLACE = re.compile(r"^items\.[^.]+\.at\.[xyz]$")
"""Keys whose change draws no other input: the same luck serves again."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sight:
    """The plane as one tab sees it."""

    loaded: LoadedPlane
    """What is written, with the variant merged."""
    case: Case
    """The same, under question."""
    draws: Draws
    """As they were when every input had been drawn."""
    written: Raw
    """As written, the variant merged, without what the bench notes tell."""
    revision: str
    """What tells this state of the files from any other."""

    @property
    def variant(self) -> str | None:
        """Which variant is looked at."""
        return self.loaded.variant

    def asked(self, keys: Mapping[str, object]) -> Case:
        """Return the case with some keys changed, on a branch of its own.

        Nothing tried before leaves a trace, so the order of clicks changes no number.
        """
        if not keys:
            return dataclasses.replace(self.case, changed=self.asked)
        found = case_of(overridden(self.loaded, keys), self.draws.branched(), self.case.computed)
        return dataclasses.replace(
            self.case, plane=found.plane, computed=found.computed, changed=found.changed
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class Reading:
    """The plane as it is written, before anything is computed."""

    loaded: LoadedPlane
    """With the variant merged and what the bench notes tell."""
    written: Raw
    """Without the bench notes."""
    revision: str
    """What tells this state of the files from any other."""


class Desk:
    """One plane file and what was made of it last."""

    def __init__(self, path: Path, settings: Settings) -> None:
        """Nothing is read yet."""
        self.path = path
        self.settings = settings
        self.lock = threading.RLock()
        self._sights: OrderedDict[tuple[str, str | None], Sight] = OrderedDict()
        self._raws: OrderedDict[tuple[str, str | None], Raw] = OrderedDict()
        self._learning: str | None = None

    @property
    def exists(self) -> bool:
        """Whether there is a plane file."""
        try:
            plane_file(self.path)
        except PlaneFileProblem:
            return False
        return True

    def revision(self) -> str:
        """Return the revision of the plane file, and what lies beside it, as they are now."""
        folder = plane_file(self.path).parent
        flown = self._learning
        return digest_of(written_in(folder) + (self.flown() if flown is None else flown))[:16]

    def flown(self) -> str:
        """Return what is written of the flights kept with the plane."""
        return written_in(plane_file(self.path).parent / FOLDER)

    @contextlib.contextmanager
    def learning(self) -> Iterator[None]:
        """Let the answers rest on the flights known so far while one more is learned from.

        Learning takes seconds; who asks meanwhile is not to wait for it, nor to do it again.
        """
        self._learning = self.flown()
        try:
            yield
        finally:
            self._learning = None

    def reading(self, variant: str | None = None) -> Reading:
        """Return what is written, in no time; raises PlaneFileProblem."""
        revision = self.revision()
        return Reading(
            loaded=load(self.path, variant),
            written=load(self.path, variant, as_planned=True).raw,
            revision=revision,
        )

    def known(self, variant: str | None, revision: str) -> Sight | None:
        """Return the plane under question if that is worked out already."""
        return self._sights.get((revision, variant))

    def sight(self, variant: str | None = None) -> Sight:
        """Return the plane as its file is now; raises PlaneFileProblem."""
        with self.lock:
            key = (self.revision(), variant)
            if key not in self._sights:
                self.remember(self.read(variant, key[0]))
            self._sights.move_to_end(key)
            return self._sights[key]

    def read(self, variant: str | None, revision: str) -> Sight:
        """Return the plane read anew; all that is the same as last time is taken over."""
        loaded = load(self.path, variant)
        written = load(self.path, variant, as_planned=True).raw
        before = next((s for s in reversed(self._sights.values()) if s.variant == variant), None)
        if (
            before is not None
            and before.case.learned is None
            and not any(source.observations for source in sources(loaded))
            and only_places(before.loaded.raw, loaded.raw)
        ):
            found = case_of(loaded, before.draws.branched(), before.case.computed)
            found.computed.settle()
            case = dataclasses.replace(
                before.case, plane=found.plane, computed=found.computed, changed=found.changed
            )
        else:
            settings = dataclasses.replace(self.settings, variant=variant)
            loaded, case = opened(self.path, settings)
        return Sight(
            loaded=loaded,
            case=case,
            draws=case.computed.draws.branched(),
            written=written,
            revision=revision,
        )

    def remember(self, sight: Sight) -> None:
        """Keep a reading, and forget the oldest."""
        key = (sight.revision, sight.variant)
        self._sights[key] = sight
        self._raws[key] = sight.written
        while len(self._sights) > 4:
            self._sights.popitem(last=False)
        while len(self._raws) > KEPT:
            self._raws.popitem(last=False)

    def seen(self, revision: str, variant: str | None) -> Raw | None:
        """Return what a tab saw at a revision; none if that was before this server started."""
        return self._raws.get((revision, variant))


def written_in(folder: Path) -> str:
    """Return what the files of a folder say that answers hang on."""
    files = sorted(file for file in folder.glob("*.toml") if file.name != COLUMNS)
    return "\n".join(f"{file.name}\n{text_of(file)}" for file in files)


def only_places(before: Raw, after: Raw) -> bool:
    """Return whether nothing but places of parts differs, and every place has what it had."""
    return all(PLACE.match(key) and old and new for key, old, new in differences(before, after))


def differences(before: object, after: object, key: str = "") -> list[tuple[str, object, object]]:
    """Return what differs: dotted key, then what was written and what is; lists by name."""
    if isinstance(before, Mapping) and isinstance(after, Mapping):
        names = dict.fromkeys([*before, *after])
        pairs = [(str(name), before.get(name), after.get(name)) for name in names]
    elif named(before) and named(after):
        old, new = by_name(before), by_name(after)
        pairs = [(name, old.get(name), new.get(name)) for name in dict.fromkeys([*old, *new])]
    else:
        return [] if before == after else [(key, before, after)]
    return [
        found
        for name, old, new in pairs
        for found in differences(old, new, f"{key}.{name}" if key else name)
    ]


def named(entries: object) -> bool:
    """Return whether something is a list of entries that all have a name."""
    return isinstance(entries, list) and all(
        isinstance(entry, Mapping) and "name" in entry for entry in entries
    )


def by_name(entries: object) -> dict[str, object]:
    """Return the entries of a list by their names."""
    return {str(e["name"]): e for e in entries} if isinstance(entries, list) else {}

"""What was learned of a plane, kept beside it: derived, so it may be deleted at any time."""

import json
import math
from pathlib import Path

from pydantic import BaseModel, ConfigDict, ValidationError

from foamwright.plane.whole_files import replace

FILE_NAME = "belief.json"

SCHEMA = 1
"""Version of the file; one of another version is made anew."""


class Kept(BaseModel):
    """A record of the file."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class KeptBand(Kept):
    """A middle and where eight in ten lie, SI."""

    value: float
    low: float
    high: float


class KeptChange(Kept):
    """One parameter before and after."""

    parameter: str
    label: str
    dimension: str
    before: KeptBand
    after: KeptBand


class KeptCheck(Kept):
    """One observation and what was expected of it."""

    name: str
    value: float
    spread: float
    speed: float | None
    time: float | None
    throttle: float
    mass: float | None = None
    temperature: float | None = None
    rotation_speed: float | None = None
    voltage: float | None = None
    expected: KeptBand | None
    probability: float | None
    used: bool
    why: str


class KeptSource(Kept):
    """One test or flight and what it taught."""

    name: str
    kind: str
    date: str
    observations: tuple[KeptCheck, ...]
    taught: tuple[KeptChange, ...]


class BeliefFile(Kept):
    """The whole file."""

    schema_version: int
    about: str
    digest: str
    """Of everything it was learned from."""
    keys: tuple[str, ...]
    labels: tuple[str, ...]
    mean: tuple[float, ...]
    factor: tuple[tuple[float, ...], ...]
    """Lower Cholesky factor of the covariance, row by row."""
    samples: float
    sources: tuple[KeptSource, ...]

    def sound(self) -> bool:
        """Return whether its numbers can be what they say."""
        size = len(self.keys)
        shapes = (len(self.labels), len(self.mean), len(self.factor))
        rows = all(len(row) == size for row in self.factor)
        numbers = [*self.mean, *(value for row in self.factor for value in row)]
        finite = all(math.isfinite(value) and abs(value) < 100.0 for value in numbers)
        return (
            self.schema_version == SCHEMA
            and shapes == (size, size, size)
            and rows
            and finite
            and len(set(self.keys)) == size
            and all(row[place] > 0.0 for place, row in enumerate(self.factor))
            and not any(value for n, row in enumerate(self.factor) for value in row[n + 1 :])
        )


def read(folder: Path, digest: str) -> BeliefFile | None:
    """Return what was learned from just these notes; none where that has to be done anew.

    A file that is not there, that was damaged, or that was learned from other notes is no error:
    everything in it follows from the notes.
    """
    try:
        text = (folder / FILE_NAME).read_text(encoding="utf-8")
        found = BeliefFile.model_validate_json(text)
    except (OSError, ValueError, ValidationError, RecursionError):
        return None
    return found if found.digest == digest and found.sound() else None


def write(folder: Path, belief: BeliefFile) -> bool:
    """Write what was learned; return whether that could be done.

    Where it cannot (a folder that may not be written), it is learned again the next time.
    """
    text = json.dumps(belief.model_dump(), indent=1, ensure_ascii=False) + "\n"
    try:
        replace(folder / FILE_NAME, text)
    except OSError:
        return False
    return True

"""Runs of rows in the air without a hole, on even times, no faster than their reading needs."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from foamwright.debrief.outcome import Segment
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.physics.arrays import Flags, Grid

UNEVEN = 1.8
"""A step longer than this many usual ones is a hole [-]."""
HELD = frozenset({"bench", "launch", "landing", "crash"})
"""Kinds of segments in which hand or ground move the aeroplane as well."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Run:
    """Some channels without a hole, at even times."""

    time: Grid
    """(k,) [s]."""
    channels: dict[str, Grid]
    """By name, (k,) [SI]."""

    def part(self, first: int, last: int) -> "Run":
        """Return rows of it."""
        held = {name: values[first:last] for name, values in self.channels.items()}
        return Run(time=self.time[first:last], channels=held)


def usual_step(recording: Recording, names: Sequence[str]) -> float:
    """Return the usual time between rows that hold all of some channels [s]; infinite if none."""
    time = recording.time[_known(recording, names)]
    return float(np.median(np.diff(time))) if time.size > 2 else float("inf")


def even_runs(
    scene: Scene, names: Sequence[str], *, finest: float, shortest: float
) -> tuple[float, list[Run]]:
    """Return the step [s] and the runs of at least a time [s] in which channels are all known.

    Every channel is treated alike, so that none is late by the others: rows closer than the
    finest step are meant over the same bins, uneven ones are read off straight lines.
    """
    recording = scene.rates
    usual = usual_step(recording, names)
    if not np.isfinite(usual) or usual <= 0.0:
        return float("inf"), []
    together = max(1, int(np.floor(finest / usual + 0.05)))
    known = np.flatnonzero(_known(recording, names) & _free(recording.time, scene.segments))
    time = recording.time[known]
    edges = np.flatnonzero(np.diff(time) > UNEVEN * usual) + 1
    runs = []
    for rows in np.split(np.arange(time.size), edges):
        if rows.size < 2 or time[rows[-1]] - time[rows[0]] < shortest:
            continue
        at = time[rows]
        even = np.arange(int((at[-1] - at[0]) / usual + 0.5) + 1) * usual + at[0]
        held = {name: recording.channel(name)[known[rows]].astype(float) for name in names}
        found = {name: np.interp(even, at, values) for name, values in held.items()}
        runs.append(_meant(Run(time=even, channels=found), together))
    return usual * together, runs


def cut_up(run: Run, step: float, longest: float) -> list[Run]:
    """Return a run in equal parts of at most a time [s]."""
    count = max(1, int(np.ceil(run.time.size * step / longest - 1e-6)))
    edges = np.linspace(0, run.time.size, count + 1).astype(int)
    return [run.part(first, last) for first, last in itertools.pairwise(edges)]


def _known(recording: Recording, names: Sequence[str]) -> Flags:
    """Return in which rows all of some channels hold a value (k,)."""
    found = np.ones(recording.time.size, dtype=bool)
    for name in names:
        found &= np.isfinite(recording.channel(name))
    return found


def _free(time: Grid, segments: tuple[Segment, ...]) -> Flags:
    """Return in which rows nothing but air and surfaces moved the aeroplane (k,)."""
    found = np.ones(time.size, dtype=bool)
    for segment in segments:
        if segment.kind in HELD:
            found &= (time < segment.start) | (time > segment.end)
    return found


def _meant(run: Run, together: int) -> Run:
    """Return the means of some rows at a time."""
    if together == 1:
        return run
    whole = run.time.size // together * together

    def mean(values: Grid) -> Grid:
        return np.asarray(values[:whole].reshape(-1, together).mean(axis=1))

    held = {name: mean(values) for name, values in run.channels.items()}
    return Run(time=mean(run.time), channels=held)

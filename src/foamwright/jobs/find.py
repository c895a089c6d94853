"""Where a lost plane came down: read the log, let it fall, write where to look."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from foamwright.debrief.falls import Air
from foamwright.debrief.find import FALLS, find
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.geodesy import way_between
from foamwright.debrief.last_seen import LastSeen, last_seen
from foamwright.debrief.reading import read_log
from foamwright.debrief.recording import Recording
from foamwright.debrief.search_gpx import gpx_of
from foamwright.jobs.ask import Settings, opened
from foamwright.jobs.debrief import expected_of
from foamwright.jobs.output import free, put
from foamwright.jobs.search_inputs import air_of, glider_of, unlogged_air
from foamwright.jobs.search_sheet import drawn
from foamwright.jobs.search_told import CAUTIONS, Found, assumed_of, figures_of
from foamwright.plane.flights import COLUMNS, FOLDER
from foamwright.problems import CallProblem
from foamwright.questions.case import Case


class NoPosition(CallProblem):
    """A log was read, but nothing in it is known as a position."""


ENDINGS = (".gpx", ".svg", ".png")
"""What a search area can be written as."""
LEFT_OUT = 3
"""Columns of which it is said why they were left out, where no position is found."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Wishes:
    """How to search."""

    wind: str | None = None
    """As typed: a speed and where it blows from."""
    takes: tuple[str, ...] = ()
    """What columns are, as typed."""
    samples: int = 256
    seed: int = 1
    units: str | None = None
    dark: bool = False
    """Whether a drawing is for a dark screen."""


def search(
    path: Path, log: Path, files: Sequence[Path], wishes: Wishes, *, force: bool = False
) -> Found:
    """Return where the plane at a path may lie after a log; written into files by their endings.

    Raises CallProblem, DataFileProblem, PlaneFileProblem and WriteProblem.
    """
    for file in files:
        free(file, ENDINGS, force=force)
    found, recording = after_log(path, log, wishes)
    contents = [content_of(file, found, recording, dark=wishes.dark) for file in files]
    for file, content in zip(files, contents, strict=True):
        put(file, content, force=force)
    return replace(found, written=tuple(files))


def settings_of(wishes: Wishes) -> Settings:
    """Return how the plane is read for a search."""
    return Settings(samples=wishes.samples, seed=wishes.seed, units=wishes.units)


def after_log(path: Path, log: Path, wishes: Wishes) -> tuple[Found, Recording]:
    """Return where the plane at a path may lie after a log, and the log; nothing is written.

    Raises CallProblem, DataFileProblem and PlaneFileProblem.
    """
    loaded, case = opened(path, settings_of(wishes))
    kept = loaded.folder / FOLDER / COLUMNS
    expected = expected_of(loaded, wishes.units)
    recording = with_positions(read_log(log, wishes.takes, expected=expected, kept=kept))
    units = wishes.units or loaded.plane.units
    end = End(seen=last_seen(recording), wind=air_of(recording, wishes.wind, units), log=log)
    return fallen(case, end, wishes), recording


def after_fix(path: Path, seen: LastSeen, wishes: Wishes) -> Found:
    """Return where the plane at a path may lie after a last fix that somebody typed.

    Raises CallProblem and PlaneFileProblem.
    """
    loaded, case = opened(path, settings_of(wishes))
    wind = unlogged_air(wishes.wind, wishes.units or loaded.plane.units)
    return fallen(case, End(seen=seen, wind=wind), wishes)


@dataclass(frozen=True, kw_only=True, slots=True)
class End:
    """What is known of the end of a flight."""

    seen: LastSeen
    wind: tuple[Air, str]
    """It, and where it comes from in words."""
    log: Path | None = None


def fallen(case: Case, end: End, wishes: Wishes) -> Found:
    """Return where a plane lies that ended so."""
    draw = np.random.default_rng(wishes.seed)
    units = wishes.units or case.plane.units
    air, of_air = end.wind
    glider, of_glide = glider_of(case.computed, draw)
    area = find(end.seen, air, glider, draw)
    start = area.seen.start
    return Found(
        plane=case.plane.name,
        units=units,
        log=end.log,
        area=area,
        air=air,
        figures=figures_of(area, air, glider),
        from_start=None if start is None else way_between(start, area.likely_spot),
        from_fix=way_between(area.seen.spot, area.likely_spot),
        assumed=assumed_of(area, (of_air, of_glide), units),
        cautions=CAUTIONS,
        falls=FALLS,
        seed=wishes.seed,
    )


def with_positions(log: FlightLog) -> Recording:
    """Return the recording of a log; raises CallProblem where it holds no position, and why."""
    if log.recording.has("latitude", "longitude"):
        return log.recording
    why = "; ".join(log.not_said[:LEFT_OUT])
    raise NoPosition(
        "the log holds no position" + (f": {why}" if why else ""),
        expected="a log with latitude and longitude; say which columns they are with --take",
    )


def content_of(file: Path, found: Found, recording: Recording, *, dark: bool) -> bytes:
    """Return what a file of that ending holds."""
    if file.suffix.lower() == ".gpx":
        return gpx_of(found.area, found.plane).encode()
    return drawn(found, recording, as_picture=file.suffix.lower() == ".png", dark=dark)

"""A log in GPX, the open exchange format for positions."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import numpy as np

from foamwright.debrief.clock import running
from foamwright.debrief.columns import Column
from foamwright.debrief.composing import composed
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.layout import problem
from foamwright.debrief.recording import Recording
from foamwright.physics.arrays import Grid

LARGEST = 64 * 1024**2
"""Bytes of the largest GPX file."""
DANGEROUS = re.compile(r"<!\s*(DOCTYPE|ENTITY)", re.IGNORECASE)
DEEPEST = 64
"""Elements inside each other."""
TAG = re.compile(r"<(/?)[A-Za-z][^<>]*?(/?)>")


@dataclass(frozen=True, kw_only=True, slots=True)
class Fix:
    """One point of a track."""

    seconds: float
    latitude: float
    """[deg]."""
    longitude: float
    """[deg]."""
    height: float
    """[m], not a number where there is none."""


def line_at(text: str, place: int) -> int:
    """Return the line a place in a text is on."""
    return text.count("\n", 0, place) + 1


def checked_text(path: Path) -> str:
    """Return the text of a GPX file; raises DataFileProblem for one that is not harmless."""
    if path.stat().st_size > LARGEST:
        raise problem(path, "is too large for GPX", f"at most {LARGEST // 1024**2} MB")
    content = path.read_bytes()
    two_bytes = content[:2] in {b"\xff\xfe", b"\xfe\xff"} or 0 in content[:4]
    try:
        text = content.decode("utf-16" if two_bytes else "utf-8-sig")
    except UnicodeDecodeError as error:
        raise problem(path, "is no GPX: its letters are not UTF-8", "save it as UTF-8") from error
    found = DANGEROUS.search(text)
    if found:
        what = "declares a document type or an entity, which no GPX needs and which may do harm"
        raise problem(path, what, "take the line out", line_at(text, found.start()))
    depth = 0
    for tag in TAG.finditer(text):
        depth += 0 if tag[2] else -1 if tag[1] else 1
        if depth > DEEPEST:
            raise problem(path, "is nested too deep", line=line_at(text, tag.start()))
    return text


def fixes_in(path: Path, text: str) -> Iterator[Fix]:
    """Yield the points of all tracks that have a time; raises DataFileProblem with the line."""
    import gpxpy  # noqa: PLC0415 - slow to import
    from gpxpy.gpx import GPXException  # noqa: PLC0415

    try:
        parsed = gpxpy.parse(re.sub(r"^\s*<\?xml[^>]*\?>", "", text))
    except (GPXException, ValueError, OverflowError) as error:
        place = re.search(r"line (\d+)", str(error))
        line = int(place[1]) if place else None
        what = f"is no GPX 1.1: {' '.join(str(error).split())[:160]}"
        raise problem(path, what, "a <gpx> with <trk>, <trkseg>, <trkpt>", line) from error
    for track in parsed.tracks:
        for segment in track.segments:
            for point in segment.points:
                if point.time is not None:
                    yield Fix(
                        seconds=seconds(point.time),
                        latitude=float(point.latitude),
                        longitude=float(point.longitude),
                        height=float("nan") if point.elevation is None else float(point.elevation),
                    )


def seconds(time: datetime) -> float:
    """Return a moment in seconds; one without a zone is taken as universal time."""
    return (time if time.tzinfo else time.replace(tzinfo=UTC)).timestamp()


def read_gpx(path: Path) -> FlightLog:
    """Return the tracks of a GPX file as one log."""
    text = checked_text(path)
    fixes = list(fixes_in(path, text))
    if len(fixes) < 2:
        what = f"holds {len(fixes)} track points with a time, which is no flight"
        raise problem(path, what, "at least two <trkpt> with <time>")
    clock = running(np.array([fix.seconds for fix in fixes]))
    if clock.time[-1] <= 0:
        raise problem(path, "has all its points at one time", "points with their own <time>")
    channels = channels_of(fixes, clock.rows)
    made, notes = composed(clock.time, channels)
    columns = [standard(name, name_in) for name, name_in in NAMES if name in channels]
    return FlightLog(
        recording=Recording(time=clock.time, channels=made, gaps=clock.gaps, step=clock.step),
        fast=None,
        rows=len(fixes),
        columns=tuple(columns),
        not_said=clock.told,
        notes=notes,
    )


NAMES = (("latitude", "lat"), ("longitude", "lon"), ("height", "ele"))


def standard(taken_as: str, name: str) -> Column:
    """Return an element the standard defines among the columns."""
    unit, scale = ("m", 1.0) if taken_as == "height" else ("deg", float(np.pi / 180))
    return Column(
        column=name, taken_as=taken_as, unit=unit, scale=scale, sure=1.0, because="GPX 1.1 says so"
    )


def channels_of(fixes: list[Fix], rows: np.ndarray) -> dict[str, Grid]:
    """Return the channels of some points."""
    chosen = [fixes[row] for row in rows]
    found = {
        "latitude": np.radians([fix.latitude for fix in chosen]),
        "longitude": np.radians([fix.longitude for fix in chosen]),
    }
    height = np.array([fix.height for fix in chosen])
    return found | ({"height": height} if np.isfinite(height).any() else {})

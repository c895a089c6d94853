"""A log of NMEA 0183 sentences, as satellite receivers send them."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from foamwright.debrief.clock import running
from foamwright.debrief.columns import Column
from foamwright.debrief.composing import composed
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.layout import problem
from foamwright.debrief.logged_units import KNOT
from foamwright.debrief.recording import Recording
from foamwright.debrief.table import midnights
from foamwright.physics.arrays import Grid

LARGEST = 128 * 1024**2
"""Bytes of the largest log of sentences."""
LONGEST_LINE = 400
"""Letters of a sentence and what a logger wrote in front of it."""
UNITS = {
    "latitude": ("RMC/GGA latitude", "deg", float(np.pi / 180)),
    "longitude": ("RMC/GGA longitude", "deg", float(np.pi / 180)),
    "height": ("GGA altitude", "m", 1.0),
    "ground_speed": ("RMC/VTG speed", "kn", KNOT),
    "course": ("RMC/VTG course", "deg", float(np.pi / 180)),
    "satellites": ("GGA satellites", "1", 1.0),
}
"""What is taken from which sentence, in which unit the standard has it."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sentences:
    """What the good sentences of a log say."""

    epochs: tuple[dict[str, float], ...]
    """One a moment: `seconds` and what was told of it."""
    bad: int
    """Sentences whose checksum or form is wrong."""
    first_bad: int
    """Line of the first of them."""
    unfixed: int
    """Sentences that say there is no fix."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Gathered:
    """Epochs while they are gathered."""

    epochs: list[dict[str, float]] = field(default_factory=list)
    faults: list[int] = field(default_factory=list)
    unfixed: list[int] = field(default_factory=list)

    def at(self, seconds: float | None) -> dict[str, float] | None:
        """Return the epoch of a time, a new one where the time is new; the last one without."""
        if seconds is None:
            return self.epochs[-1] if self.epochs else None
        if not self.epochs or self.epochs[-1]["seconds"] != seconds:
            self.epochs.append({"seconds": seconds})
        return self.epochs[-1]


def is_sentence(line: str) -> bool:
    """Return whether a line holds a sentence of a satellite receiver."""
    start = line.find("$")
    return 0 <= start < 80 and line[start + 1 : start + 2] in {"G", "B", "Q"} and "," in line


def told(sentence: Any) -> Iterator[tuple[str, float]]:  # noqa: ANN401 - the library has no types
    """Yield what a sentence tells, in SI; knots are what RMC and VTG are in."""
    kind = sentence.sentence_type
    if kind in {"RMC", "GGA"} and sentence.lat and sentence.lon:
        yield "latitude", float(np.radians(sentence.latitude))
        yield "longitude", float(np.radians(sentence.longitude))
    if kind == "GGA":
        if sentence.altitude is not None:
            yield "height", float(sentence.altitude)
        if sentence.num_sats:
            yield "satellites", float(sentence.num_sats)
    speed = {"RMC": "spd_over_grnd", "VTG": "spd_over_grnd_kts"}.get(kind)
    if speed and getattr(sentence, speed) is not None:
        yield "ground_speed", float(getattr(sentence, speed)) * KNOT
    course = {"RMC": "true_course", "VTG": "true_track"}.get(kind)
    if course and getattr(sentence, course) is not None:
        yield "course", float(np.radians(float(getattr(sentence, course))))


def without_fix(sentence: Any) -> bool:  # noqa: ANN401
    """Return whether a sentence says that there is no fix."""
    if sentence.sentence_type == "RMC":
        return bool(sentence.status != "A")
    return bool(sentence.sentence_type == "GGA" and not int(sentence.gps_qual or 0))


def seconds_of(sentence: Any) -> float | None:  # noqa: ANN401
    """Return the time of day of a sentence [s]; none for one that has none."""
    time = getattr(sentence, "timestamp", None)
    if time is None or isinstance(time, str):
        return None
    return float(time.hour * 3600 + time.minute * 60 + time.second + time.microsecond / 1e6)


def gather(text: str, number: int, into: Gathered) -> None:
    """Add what one line says to the epochs."""
    import pynmea2  # noqa: PLC0415 - only here

    try:
        sentence = pynmea2.parse(text[text.find("$") :].strip(), check=True)
        seconds = seconds_of(sentence)
        if without_fix(sentence):
            into.unfixed.append(number)
            return
        facts = dict(told(sentence))
    except (pynmea2.ParseError, ValueError, AttributeError, TypeError):
        into.faults.append(number)
        return
    epoch = into.at(seconds) if seconds is not None or facts else None
    if epoch is not None:
        epoch |= facts


def sentences_in(path: Path) -> Sentences:
    """Return what the sentences of a file say; raises DataFileProblem where none is good."""
    if path.stat().st_size > LARGEST:
        raise problem(path, "is too large for NMEA", f"at most {LARGEST // 1024**2} MB")
    into = Gathered()
    with path.open(encoding="ascii", errors="replace") as lines:
        for number, line in enumerate(lines, start=1):
            if is_sentence(line) and len(line) <= LONGEST_LINE:
                gather(line, number, into)
    if not into.epochs:
        place = (into.faults or into.unfixed or [1])[0]
        what = "no sentence has a right checksum" if into.faults else "no sentence has a fix"
        raise problem(path, what, "RMC or GGA sentences with *hh at their end", place)
    return Sentences(
        epochs=tuple(into.epochs),
        bad=len(into.faults),
        first_bad=into.faults[0] if into.faults else 0,
        unfixed=len(into.unfixed),
    )


def channel(epochs: tuple[dict[str, float], ...], name: str) -> Grid:
    """Return one thing of every epoch."""
    return np.array([epoch.get(name, np.nan) for epoch in epochs])


def read_nmea(path: Path) -> FlightLog:
    """Return the sentences of a file as a log."""
    found = sentences_in(path)
    clock = running(midnights(channel(found.epochs, "seconds")))
    if clock.time.size < 2 or clock.time[-1] <= 0:
        what = f"holds {clock.time.size} moment with a fix, which is no flight"
        raise problem(path, what, "at least two at different times")
    chosen = tuple(found.epochs[row] for row in clock.rows)
    held = {name: channel(chosen, name) for name in UNITS}
    held = {name: values for name, values in held.items() if np.isfinite(values).any()}
    if not held:
        raise problem(path, "holds no RMC, GGA or VTG sentence", "log those with your receiver")
    channels, notes = composed(clock.time, held)
    said = list(clock.told)
    if found.bad:
        said.append(
            f"{found.bad} sentences are broken (wrong checksum or form) and left out, "
            f"the first on line {found.first_bad}"
        )
    if found.unfixed:
        said.append(f"{found.unfixed} sentences say that there was no fix")
    return FlightLog(
        recording=Recording(time=clock.time, channels=channels, gaps=clock.gaps, step=clock.step),
        fast=None,
        rows=len(found.epochs),
        columns=tuple(standard(name) for name in held),
        not_said=tuple(said),
        notes=notes,
    )


def standard(taken_as: str) -> Column:
    """Return a field the standard defines among the columns."""
    name, unit, scale = UNITS[taken_as]
    because = f"NMEA 0183 has it in {unit}" if unit != "1" else "NMEA 0183 says so"
    return Column(column=name, taken_as=taken_as, unit=unit, scale=scale, sure=1.0, because=because)

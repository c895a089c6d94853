"""A flight laid out for its readers: the recording, the wind, the airspeed and the segments."""

from dataclasses import dataclass

from foamwright.debrief.gusts import USUAL, Gusts, gusts_in
from foamwright.debrief.outcome import Facts, Segment, Wind
from foamwright.debrief.recording import Recording
from foamwright.debrief.segments import find_segments
from foamwright.debrief.wind import air_heading, airspeed, find_wind
from foamwright.physics.arrays import Grid


@dataclass(frozen=True, kw_only=True, slots=True)
class Scene:
    """What every reader of a flight starts from."""

    recording: Recording
    facts: Facts
    wind: Wind | None
    """None where it cannot be told."""
    airspeed: Grid | None
    """True, by the wind or the pitot (k,) [m s^-1]; None where neither tells it."""
    segments: tuple[Segment, ...]
    """In time order."""
    fast: Recording | None = None
    """The body rates and the aileron of a fast log, every row of them."""
    gusts: Gusts = USUAL
    """What the airspeed shows of them."""

    @property
    def rates(self) -> Recording:
        """Where body rates are read: the fast rows where there are any."""
        return self.recording if self.fast is None else self.fast


def scene_of(
    recording: Recording, facts: Facts, fast: Recording | None = None
) -> tuple[Scene, str]:
    """Return the scene of a flight and why its wind cannot be told, empty where it can."""
    wind, unsaid = find_wind(recording)
    flown = airspeed(recording, wind)
    segments = find_segments(recording, flown)
    scene = Scene(
        recording=recording,
        facts=facts,
        wind=wind,
        airspeed=flown,
        segments=segments,
        fast=fast,
        gusts=gusts_in(recording, flown, segments, air_heading(recording, wind)),
    )
    return scene, unsaid

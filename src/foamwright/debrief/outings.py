"""Whether a log holds more than one flight, with a rest on the ground between them."""

from itertools import pairwise

import numpy as np

from foamwright.debrief.recording import Recording
from foamwright.debrief.segments import FLYING

RESTING = 1.0
"""Over the ground [m s^-1]: below it only what hangs in the wind flies for long."""
SHORTEST = 20.0
"""Of a rest, and of the flying on either side of it [s]."""
IDLE = 0.1
"""Throttle of a plane that rests [-]; against the wind it would need more."""


def rests(recording: Recording) -> tuple[tuple[float, float], ...]:
    """Return the rests between flights, as times from the first row [s].

    A rest is told by the ground speed, and by the throttle where that was logged: a plane that
    hangs in the wind runs its motor. What stands still before the first flight or after the last
    is no rest between two.
    """
    if not recording.has("ground_speed"):
        return ()
    speed, time = recording.channel("ground_speed"), recording.time
    still = speed < RESTING
    if recording.has("throttle"):
        still &= ~(recording.channel("throttle") > IDLE)
    still |= ~np.isfinite(speed)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], still, [False]]).astype(int)))
    aloft = np.concatenate([[0.0], np.cumsum(speed > FLYING) * recording.step])
    ends = [0, *edges, still.size]
    long = [
        (first, last)
        for first, last in zip(ends[1:-1:2], ends[2::2], strict=False)
        if time[last - 1] - time[first] >= SHORTEST and np.isfinite(speed[first:last]).any()
    ]
    marks = [(0, 0), *long, (still.size, still.size)]
    flown = [bool(aloft[b] - aloft[a] >= SHORTEST) for (_, a), (b, _) in pairwise(marks)]
    return tuple(
        (float(time[first] - time[0]), float(time[last - 1] - time[0]))
        for place, (first, last) in enumerate(long)
        if any(flown[: place + 1]) and flown[place + 1]
    )


def told_apart(recording: Recording) -> tuple[str, ...]:
    """Return that several flights are read as one, where a log holds them."""
    found = rests(recording)
    if not found:
        return ()
    when = ", ".join(f"{start:.0f} s to {end:.0f} s" for start, end in found)
    words = (
        f"each flight alone: the log holds {len(found) + 1}, with a rest from {when}, and they are "
        "read as one; where wind or pack changed between them, cut it there and read the parts"
    )
    return (words,)

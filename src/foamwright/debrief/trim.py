"""Where the sticks or surfaces stand in straight level cruise: the trim that is missing."""

import numpy as np

from foamwright.debrief.outcome import Figure, Remark, Share
from foamwright.debrief.scene import Scene
from foamwright.physics.arrays import Flags, Grid
from foamwright.physics.numerics.normal import TENTH

QUIET = np.radians(8.0)
"""Faster rolling or pitching is no steady flight [rad s^-1]."""
LEVEL = 0.7
"""Faster climbing or sinking is not level [m s^-1]."""
WINGS_LEVEL = np.radians(12.0)
"""More bank is no straight flight [rad]."""
LEAST = 5.0
"""Less steady flight than this tells no trim [s]."""
HELD = 2.0
"""A correction of the pilot hangs together for this long [s]."""
RESOLVED = 0.005
"""A mean of a stick is not known better than this, share of its throw, one sigma."""
WORTH = 0.08
"""A smaller share of the throw is not worth a trip to the bench; common practice, no source."""
SURFACES = ("elevator", "aileron", "rudder")


def read_trim(scene: Scene) -> Share:
    """Return how far each surface is held off its middle in straight level cruise."""
    logged = [name for name in SURFACES if scene.recording.has(name)]
    if not logged:
        return Share()
    rows = steady(scene)
    if np.count_nonzero(rows) * scene.recording.step < LEAST:
        said = f"the trim: less than {LEAST:.0f} s of straight level cruise"
        return Share(not_said=(said,))
    figures, findings = [], []
    for name in logged:
        told = _trim(name, scene.recording.channel(name)[rows], scene.recording.step)
        if told is None:
            continue
        figures.append(told)
        if min(abs(told.low), abs(told.high)) > WORTH and told.low * told.high > 0.0:
            findings.append(
                _remark(name, told, float(np.count_nonzero(rows)) * scene.recording.step)
            )
    return Share(figures=tuple(figures), findings=tuple(findings))


def steady(scene: Scene) -> Flags:
    """Return the rows of straight level cruise in which nothing rotates (k,)."""
    recording = scene.recording
    rows = np.zeros(recording.time.size, dtype=bool)
    for segment in scene.segments:
        if segment.kind == "cruise":
            rows |= (recording.time >= segment.start) & (recording.time <= segment.end)
    for name, most in (
        ("pitch_rate", QUIET),
        ("roll_rate", QUIET),
        ("climb_rate", LEVEL),
        ("roll", WINGS_LEVEL),
    ):
        if recording.has(name):
            rows &= np.nan_to_num(np.abs(recording.channel(name)), nan=np.inf) < most
    return rows


def _trim(name: str, values: Grid, step: float) -> Figure | None:
    """Return the mean share of throw at which one surface is held."""
    known = values[np.isfinite(values)]
    if known.size * step < LEAST:
        return None
    mean, free = float(known.mean()), max(known.size * step / HELD, 1.0)
    reach = TENTH * float(np.hypot(known.std() / np.sqrt(free), RESOLVED))
    return Figure(
        name=f"{name}_trim",
        label=f"{name} held in level cruise, share of its throw",
        value=mean,
        low=mean - reach,
        high=mean + reach,
        unit="-",
    )


def _remark(name: str, told: Figure, seconds: float) -> Remark:
    """Return what to do about a surface that is held off its middle."""
    share = f"{100.0 * abs(told.value):.0f} %"
    first = (
        f"set the sub-trim of the {name} by {share} of its throw the way it is held; past 10 %"
        " screw the clevis on its rod until the surface stands there with the stick in the middle"
    )
    others = {
        "elevator": "the balance point: a nose-heavy plane wants the same correction, more of it"
        " the slower it flies",
        "aileron": "a wing heavier or more twisted than the other: weigh and sight them first",
        "rudder": "the motor's side thrust: fly once with the throttle closed and look again",
    }
    return Remark(
        what=f"the {name} is held at {share} of its throw in level cruise",
        because=f"mean over {seconds:.0f} s of straight level cruise,"
        f" eight in ten between {100.0 * told.low:.0f} and {100.0 * told.high:.0f} %",
        check_first=(first, others[name]),
    )

"""How well roll and pitch damp their swings, in every flight, so that flights can be compared.

A wobble is told only where there is one, so it cannot be held against the flight that cured it. Its
size goes with the gusts of the day; its damping does not. What swings no more than it should counts
as the most that a flight tells.
"""

import numpy as np

from foamwright.debrief.even import Run
from foamwright.debrief.outcome import Observation, Share
from foamwright.debrief.scene import Scene
from foamwright.debrief.swinging import (
    Beside,
    Found,
    airspeed_at,
    beside_of,
    by_airspeed,
    swing_in,
)
from foamwright.debrief.wobble import AXES, turns_so

MOST = 0.25
"""Damping that counts as well damped, of critical: a loop 6 dB from wobbling has it [-]."""
READ = 0.2
"""Relative sigma of a damping however long it was looked at, as simulated loops show [-]."""
SWINGS = 3.0
"""What the square of that sigma holds besides, over the swings that were seen times damping."""
FLOOR = 0.006
"""Likewise of a swing that is hardly damped at all [-]."""


def read_damping(scene: Scene) -> Share:
    """Return the damping of swings in roll and pitch, by airspeed where that is known.

    Where it was not logged what was asked, sticks hide all but the worst swings: nothing is told.
    """
    logged = [axis for axis in AXES if scene.rates.has(f"{axis}_rate")]
    asked = [axis for axis in logged if scene.rates.has(f"{axis}_rate_wanted")]
    seen: list[Observation] = []
    for axis in asked:
        beside = beside_of(scene, axis)
        parts = by_airspeed(scene, beside) or [(window,) for window in beside.windows]
        seen += [one for runs in parts if (one := damping_in(scene, axis, beside, runs))]
    return Share(
        observations=tuple(seen),
        not_said=tuple(
            f"how well {axis} damps its swings: the log tells no {axis} rate that was wanted"
            for axis in logged
            if axis not in asked
        ),
    )


def damping_in(
    scene: Scene, axis: str, beside: Beside, runs: tuple[Run, ...]
) -> Observation | None:
    """Return the damping of one axis in some stretches; none where the propeller shakes it."""
    start, end = float(runs[0].time[0]), float(runs[-1].time[-1])
    seconds = beside.step * sum(run.time.size for run in runs)
    swing = swing_in(runs, beside)
    value, sd = MOST, READ * MOST
    if swing is not None:
        if turns_so(scene, Found(swing=swing, start=start, end=end, runs=runs), beside.step):
            return None
        value = min(max(swing.damping, FLOOR), MOST)
        sd = spread(value, 2.0 * np.pi * swing.frequency * seconds)
    speeds = np.concatenate([airspeed_at(scene, run.time) for run in runs])
    known = speeds[np.isfinite(speeds)]
    return Observation(
        name=f"{axis}_swing_damping",
        value=value,
        sd=sd,
        segment=f"from {start:.0f} s",
        speed=float(known.mean()) if known.size else None,
        teaches=False,
    )


def spread(damping: float, turns: float) -> float:
    """Return one sigma of a damping seen over so many radians of its swing [-].

    A swing rings for one over its damping; the fewer such rings, the less is known.
    """
    return float(np.hypot(damping * np.sqrt(READ**2 + SWINGS / (damping * turns)), FLOOR))

"""Read one flight: its segments, the wind, what the aeroplane did, and what cannot be said."""

from collections.abc import Callable

import numpy as np

from foamwright.debrief.crash import read_crash
from foamwright.debrief.damping import read_damping
from foamwright.debrief.energy import read_energy
from foamwright.debrief.gusts import left_in_mean
from foamwright.debrief.level_flight import read_level
from foamwright.debrief.outcome import Analysis, Facts, Figure, Observation, Share
from foamwright.debrief.outings import told_apart
from foamwright.debrief.polar import read_polar
from foamwright.debrief.power_polar import read_power
from foamwright.debrief.propeller_airspeed import read_propeller
from foamwright.debrief.quality import read_quality
from foamwright.debrief.recording import Recording
from foamwright.debrief.response import read_response
from foamwright.debrief.sag import read_sag
from foamwright.debrief.scene import Scene, scene_of
from foamwright.debrief.segments import FLYING
from foamwright.debrief.slow_flight import read_slow
from foamwright.debrief.standing import read_standing
from foamwright.debrief.wind import off_by_wind
from foamwright.debrief.wobble import read_wobble
from foamwright.physics.numerics.normal import TENTH

HOLES = 0.02
"""Share of rows missing from which it is said."""
WORDS = {
    "top_speed": ("top speed through the air", "m s^-1"),
    "top_speed_current": ("current at top speed", "A"),
    "top_speed_voltage": ("pack voltage at top speed", "V"),
    "glide_ratio": ("glide ratio", "-"),
    "drag_area": ("drag area", "m^2"),
    "cruise_current": ("current in level flight", "A"),
    "stall_speed": ("stall speed", "m s^-1"),
    "lowest_speed": ("lowest speed held level; it stalls below that", "m s^-1"),
    "static_current": ("current standing still, full throttle", "A"),
    "static_voltage": ("pack voltage standing still, full throttle", "V"),
    "static_rotation_speed": ("propeller speed standing still, full throttle", "s^-1"),
    "roll_lag": ("lag from aileron to roll rate", "s"),
    "pack_resistance": ("inner resistance of pack and leads", "ohm"),
}
"""Label and SI unit of what is observed."""

READERS: tuple[Callable[[Scene], Share], ...] = (
    read_crash,
    read_polar,
    read_power,
    read_level,
    read_propeller,
    read_slow,
    read_standing,
    read_energy,
    read_sag,
    read_quality,
    read_response,
    read_wobble,
    read_damping,
)
"""Each reads one subject off a flight; a new subject is a new module and a line here."""


def analyse(recording: Recording, facts: Facts, fast: Recording | None = None) -> Analysis:
    """Return everything that is read off one flight; what cannot be is said, never guessed."""
    scene, unsaid = scene_of(recording, facts, fast)
    shares = [read(scene) for read in READERS]
    seen = tuple(one for share in shares for one in share.observations)
    figures = tuple(_figure(one) for one in seen if one.name in WORDS)
    told = tuple(one for share in shares for one in share.figures)
    missing = tuple(word for share in shares for word in share.not_said)
    return Analysis(
        segments=scene.segments,
        wind=scene.wind,
        figures=(*_air(scene), *figures, *told),
        findings=tuple(one for share in shares for one in share.findings),
        not_said=tuple(
            word for word in (*told_apart(recording), *_holes(recording), unsaid, *missing) if word
        ),
        observations=seen,
    )


def _holes(recording: Recording) -> tuple[str, ...]:
    """Return that rows are missing, where they are."""
    lost = 1.0 - recording.coverage
    if lost < HOLES:
        return ()
    return (f"what happened in {100.0 * lost:.0f} % of the time: no rows were recorded then",)


def _figure(seen: Observation) -> Figure:
    """Return an observation with its 80 % band."""
    label, unit = WORDS[seen.name]
    reach = TENTH * seen.sd
    return Figure(
        name=seen.name,
        label=label if seen.segment.startswith("whole") else f"{label}, {seen.segment}",
        value=seen.value,
        low=seen.value - reach,
        high=seen.value + reach,
        unit=unit,
    )


def _air(scene: Scene) -> tuple[Figure, ...]:
    """Return the mean airspeed of all flying, where the wind is told."""
    wind, flown, log = scene.wind, scene.airspeed, scene.recording
    if wind is None or flown is None:
        return ()
    aloft = np.isfinite(flown) & (np.nan_to_num(log.channel("ground_speed")) > FLYING)
    value = float(np.mean(flown[aloft]))
    seconds = log.step * float(np.count_nonzero(aloft))
    sd = float(np.hypot(off_by_wind(log, wind, aloft), left_in_mean(scene.gusts, seconds)))
    reach = TENTH * sd
    return (
        Figure(
            name="mean_airspeed",
            label="mean airspeed",
            value=value,
            low=value - reach,
            high=value + reach,
            unit="m s^-1",
        ),
    )

"""How far positions and the pitot can be trusted, and what hangs on them."""

from dataclasses import replace

import numpy as np

from foamwright.debrief.outcome import Figure, Remark, Share
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.debrief.segments import FLYING
from foamwright.debrief.wind import airspeed, find_wind
from foamwright.physics.arrays import Flags
from foamwright.physics.numerics.normal import TENTH
from foamwright.quantity import show

STANDARD_DENSITY = 1.225
"""An airspeed meter is scaled for [kg m^-3] (iso-2533)."""
FEW_SATELLITES = 7
"""Fewer make a poor position; common practice, no source."""
LARGE_ERROR = 4.0
"""A receiver that claims more is poorly placed [m]; common practice, no source."""
OFTEN = 0.05
"""Share of the flight with poor positions from which it wants a look."""
WORTH = 0.03
"""A pitot that is nearer than this is left alone, relative; common practice, no source."""
LEAST = 200
"""Fewer rows tell no scale of a pitot."""


def read_fixes(scene: Scene) -> Share:
    """Return how often positions were poor, and what that does to the wind."""
    recording = scene.recording
    poor = poor_fixes(recording)
    if poor is None:
        return Share()
    share = float(np.mean(poor))
    told = Figure(
        name="poor_fix",
        label="share of the flight with poor positions",
        value=share,
        low=share,
        high=share,
        unit="-",
    )
    if share <= OFTEN:
        return Share(figures=(told,))
    remark = Remark(
        what="the positions were poor for a part of the flight",
        because=f"{100.0 * share:.0f} % of it; {_wind_without(scene, poor)}",
        check_first=(
            "the receiver: its antenna to the sky, away from camera and motor leads",
            "wait for more satellites before the launch",
        ),
    )
    return Share(figures=(told,), findings=(remark,))


def poor_fixes(recording: Recording) -> Flags | None:
    """Return the rows of poor positions (k,); None where nothing tells."""
    if not recording.has("satellites") and not recording.has("position_error"):
        return None
    poor = np.zeros(recording.time.size, dtype=bool)
    if recording.has("satellites"):
        poor |= recording.channel("satellites") < FEW_SATELLITES
    if recording.has("position_error"):
        poor |= recording.channel("position_error") > LARGE_ERROR
    return poor


def _wind_without(scene: Scene, poor: Flags) -> str:
    """Return in words what the wind is without the rows of poor positions."""
    if scene.wind is None:
        return "the wind cannot be told anyway"
    channels = dict(scene.recording.channels)
    channels["ground_speed"] = np.where(poor, np.nan, scene.recording.channel("ground_speed"))
    wind, _ = find_wind(replace(scene.recording, channels=channels))
    if wind is None:
        return "without those rows the wind cannot be told: it hangs on them"
    moved = float(np.hypot(wind.north - scene.wind.north, wind.east - scene.wind.east))
    within = "inside" if moved <= TENTH * np.hypot(scene.wind.sd, wind.sd) else "outside"
    units = scene.facts.units
    now, before, apart = (show(v, "speed", units) for v in (wind.speed, scene.wind.speed, moved))
    return (
        f"without those rows the wind is {now} instead of {before}, moved by {apart}, {within} its"
        " band"
    )


def read_pitot(scene: Scene) -> Share:
    """Return what the pitot reads over what the wind makes of the ground speed."""
    recording, wind = scene.recording, scene.wind
    if not recording.has("airspeed"):
        return Share()
    if wind is None:
        return Share(not_said=("the scale of the pitot: it needs the wind",))
    flown = airspeed(recording, wind)
    read = recording.channel("airspeed")
    fair = np.full(read.size, np.nan) if flown is None else flown
    rows = np.isfinite(read) & np.isfinite(fair) & (fair > FLYING)
    if np.count_nonzero(rows) < LEAST:
        return Share(not_said=("the scale of the pitot: too few rows with it in flight",))
    # What a meter scaled for sea level shows, not the true airspeed.
    shown = fair[rows] * float(np.sqrt(scene.facts.air_density / STANDARD_DENSITY))
    scale = float(read[rows].mean() / shown.mean())
    # Gusts are in the fitted airspeed's own error; the noise of single rows averages away.
    sd = scale * wind.airspeed_sd / wind.airspeed
    low, high = scale - TENTH * sd, scale + TENTH * sd
    told = Figure(
        name="pitot_scale",
        label="what the pitot reads over what it should",
        value=scale,
        low=low,
        high=high,
        unit="-",
    )
    if low <= 1.0 <= high or abs(scale - 1.0) < WORTH:
        return Share(figures=(told,))
    return Share(figures=(told,), findings=(_off(scale, low, high),))


def _off(scale: float, low: float, high: float) -> Remark:
    """Return that a pitot reads high or low."""
    rescale = (
        f"its scale: one on speed times {1.0 / scale:.2f}, one on pressure times"
        f" {1.0 / scale**2:.2f}, after a second flight says the same"
    )
    percent = 100.0 * abs(scale - 1.0)
    return Remark(
        what=f"the pitot reads {percent:.0f} % {'high' if scale > 1.0 else 'low'}",
        because=f"it shows {scale:.2f} times what ground speed, wind and the density of the air"
        f" make of it, eight in ten between {low:.2f} and {high:.2f}",
        check_first=(
            "the tube: clear of propeller and fuselage, its hose tight, its static holes open",
            rescale,
        ),
    )

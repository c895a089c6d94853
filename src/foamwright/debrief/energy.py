"""What the pack gave: charge as a floor where rows are missing, and its inner resistance."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.outcome import Facts, Figure, Observation, Remark, Share
from foamwright.debrief.read_off import counted, integrated
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import Scene
from foamwright.physics.arrays import Grid
from foamwright.physics.numerics.normal import TENTH
from foamwright.quantity import show

LOOSE = 0.15
"""A resistance whose own scatter is a larger share of it is not told."""
GAPS = 0.02
"""Share of rows missing from which a charge is a floor."""
SENSOR = 0.05
"""Of a current sensor nobody calibrated, relative; common practice, no source."""
STEPS = 4.0
"""A change of current counts from so many times the noise from row to row."""
FEW = 50
"""Fewer rows of voltage with current tell no resistance."""


@dataclass(frozen=True, kw_only=True, slots=True)
class PackResistance:
    """Inner resistance of pack and leads as the voltage fell with the current."""

    value: float
    """[ohm]."""
    sd: float
    """[ohm]."""


def read_energy(scene: Scene) -> Share:
    """Return the charge, the pack's resistance and what the charger says of the sensor."""
    resistance = pack_resistance(scene.recording)
    charge = charge_used(scene.recording, scene.facts)
    remark = sensor_scale(scene.recording, scene.facts)
    seen: tuple[Observation, ...] = ()
    if resistance is not None and scene.segments:
        seen = (
            Observation(
                name="pack_resistance",
                value=resistance.value,
                sd=resistance.sd,
                segment=f"whole log from {scene.recording.time[0]:.0f} s",
            ),
        )
    return Share(
        figures=() if charge is None else (charge,),
        findings=() if remark is None else (remark,),
        observations=seen,
    )


def pack_resistance(recording: Recording) -> PackResistance | None:
    """Return the resistance from voltage on current, the discharge taken out as a trend in charge.

    Changes over a second are regressed, not levels: the fall of the open voltage over the flight
    would otherwise count as resistance.
    """
    if not recording.has("voltage", "current"):
        return None
    parts = [_changes(recording, part) for part in recording.stretches()]
    volts, amps = (np.concatenate([part[i] for part in parts]) for i in (0, 1))
    square = float(amps @ amps)
    if volts.size < FEW or square <= 0.0:
        return None
    slope = -float(amps @ volts) / square
    scores = [a * (v + slope * a) for v, a in parts]
    # Changes that overlap share their rows: their products are summed as far as they do.
    reach = max(1, round(1.0 / recording.step))
    noise = max(sum(_together(score, reach) for score in scores), float(volts.size) * 1e-12)
    own = float(np.sqrt(noise)) / square
    if slope <= 0.0 or own > LOOSE * slope:
        return None
    return PackResistance(value=slope, sd=float(np.hypot(own, SENSOR * slope)))


def _together(score: Grid, reach: int) -> float:
    """Return the variance of a sum of scores (k,) that hang together over a reach of rows."""
    found = float(score @ score)
    for lag in range(1, min(reach, score.size - 1) + 1):
        found += 2.0 * (1.0 - lag / (reach + 1)) * float(score[lag:] @ score[:-lag])
    return found


def _changes(recording: Recording, part: slice) -> tuple[Grid, Grid]:
    """Return the changes over a second of voltage and current in one stretch."""
    reach = max(1, round(1.0 / recording.step))
    volts, amps = recording.channel("voltage")[part], recording.channel("current")[part]
    known = np.isfinite(volts) & np.isfinite(amps)
    volts, amps = volts[known], amps[known]
    if volts.size <= reach + 1:
        return np.zeros(0), np.zeros(0)
    steps = amps[reach:] - amps[:-reach]
    # Steps no larger than the sensor's noise would draw the slope to zero: they are no steps.
    noise = 1.4826 * float(np.median(np.abs(np.diff(amps))))
    told = np.abs(steps) > STEPS * noise
    return np.where(told, volts[reach:] - volts[:-reach], 0.0), np.where(told, steps, 0.0)


def charge_used(recording: Recording, facts: Facts) -> Figure | None:
    """Return the charge used [C]: the charger's word, else the counter's, else the integral."""
    if facts.charge_put_back is not None:
        value = facts.charge_put_back
        return _charge("charge used, as the charger put it back", value, value, value)
    value_counted = counted(recording)
    if value_counted is not None and value_counted > 0.0:
        reach = TENTH * SENSOR * value_counted
        low, high = value_counted - reach, value_counted + reach
        return _charge("charge used, as counted on board", value_counted, low, high)
    value_summed = integrated(recording)
    if value_summed is None or value_summed <= 0.0:
        return None
    reach = TENTH * SENSOR * value_summed
    if 1.0 - recording.coverage < GAPS:
        return _charge("charge used", value_summed, value_summed - reach, value_summed + reach)
    # What flowed in the holes is unknown: no upper end is drawn from the rows that are there.
    label = "charge used, at least: nothing is counted in the gaps"
    return _charge(label, value_summed, value_summed - reach, float("inf"))


def _charge(label: str, value: float, low: float, high: float) -> Figure:
    """Return a charge as a figure."""
    return Figure(name="charge_used", label=label, value=value, low=low, high=high, unit="C")


def sensor_scale(recording: Recording, facts: Facts) -> Remark | None:
    """Return what the charger says of the current sensor; gaps are held apart from its scale."""
    logged = integrated(recording)
    if facts.charge_put_back is None or logged is None or logged <= 0.0:
        return None
    ratio, covered = facts.charge_put_back / logged, recording.coverage
    left = ratio * covered
    if abs(ratio - 1.0) < SENSOR:
        return None
    numbers = (
        f"the charger put back {show(facts.charge_put_back, 'charge', facts.units)}, the log sums"
        f" to {show(logged, 'charge', facts.units)}: a ratio of {ratio:.2f}"
    )
    if 1.0 - covered < GAPS:
        return Remark(
            what=f"the current sensor reads {'low' if ratio > 1.0 else 'high'}",
            because=f"{numbers}, and no rows are missing",
            check_first=(
                f"multiply the sensor's scale by {ratio:.2f}, after a second flight says the same",
            ),
        )
    explained = (
        "the gaps explain it"
        if abs(left - 1.0) < SENSOR
        else f"the gaps leave a ratio of about {left:.2f}"
    )
    return Remark(
        what="the logged charge is a floor; do not correct the current sensor by it",
        because=f"{numbers}, but only {100.0 * covered:.0f} % of the time was recorded:"
        f" {explained}",
        check_first=("why rows are missing, then compare with the charger once more",),
    )

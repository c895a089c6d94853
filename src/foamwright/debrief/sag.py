"""How far the pack's voltage falls under load, a cell, and when it falls too far."""

import numpy as np

from foamwright.debrief.outcome import Figure, Remark, Share
from foamwright.debrief.scene import Scene
from foamwright.physics.arrays import Grid
from foamwright.physics.numerics.normal import TENTH
from foamwright.quantity import show

LOW = 3.3
"""Under load no cell should fall lower [V]; common practice, no source."""
EMPTY = 3.0
"""Under it a cell is harmed [V]; common practice, no source."""
DIVIDER = 0.01
"""Of a voltage divider nobody calibrated, relative; common practice, no source."""
MOMENT = 1.0
"""Voltages are means over this: one odd row is no sag [s]."""
WORTHLESS = 1.0
"""A lower voltage a cell is no pack, but a row while it was plugged in [V]."""


def read_sag(scene: Scene) -> Share:
    """Return the lowest voltage a cell under load, and what is to be done where it is too low."""
    cells, log = scene.facts.cells, scene.recording
    if not log.has("voltage"):
        return Share()
    if cells is None:
        return Share(not_said=("the voltage a cell: the plane file names no pack with its cells",))
    lowest = _lowest(scene, cells)
    if lowest is None:
        return Share()
    row, volts = lowest
    reach = TENTH * DIVIDER * volts
    figure = Figure(
        name="lowest_cell_voltage",
        label=f"lowest voltage a cell under load, at {log.time[row]:.0f} s",
        value=volts,
        low=volts - reach,
        high=volts + reach,
        unit="V",
    )
    return Share(figures=(figure,), findings=(_remark(scene, row, volts),) if volts < LOW else ())


def _lowest(scene: Scene, cells: int) -> tuple[int, float] | None:
    """Return the row in whose moment the voltage was lowest, and that voltage a cell [V]."""
    log, best = scene.recording, None
    for part in log.stretches():
        volts = log.channel("voltage")[part] / cells
        volts = np.where(volts > WORTHLESS, volts, np.nan)
        size = max(1, round(MOMENT / log.step))
        if volts.size < size:
            continue
        means = _means(volts, size)
        if not np.isfinite(means).any():
            continue
        row = int(np.nanargmin(means))
        if best is None or means[row] < best[1]:
            best = ((part.start or 0) + row + size // 2, float(means[row]))
    return best


def _means(values: Grid, size: int) -> Grid:
    """Return the means over so many rows (k - size + 1,); NaN where a row is not known."""
    windows = np.lib.stride_tricks.sliding_window_view(values, size)
    return np.asarray(windows.mean(axis=1))


def _remark(scene: Scene, row: int, volts: float) -> Remark:
    """Return that a cell fell too low, under what load and when."""
    log = scene.recording
    load = ""
    if log.has("current"):
        near = np.abs(log.time - log.time[row]) <= MOMENT / 2.0
        amps = log.channel("current")[near]
        if np.isfinite(amps).any():
            load = f" at {show(float(np.nanmean(amps)), 'current', scene.facts.units)}"
    often = log.channel("voltage") / (scene.facts.cells or 1)
    under = log.step * float(np.count_nonzero((often < LOW) & (often > WORTHLESS)))
    fell, low = (show(value, "voltage", scene.facts.units) for value in (volts, LOW))
    harm = " A cell that falls under 3.0 V is harmed for good." if volts < EMPTY else ""
    return Remark(
        what=f"the pack falls to {fell} a cell under load, under {low}",
        because=f"it does so {log.time[row]:.0f} s into the log{load},"
        f" and for {under:.0f} s in all.{harm}",
        check_first=(
            "every cell by itself after the next flight: one weak cell pulls the pack down",
            "land earlier, or use less throttle towards the end",
            "a pack of less resistance: larger, fresher or warmer",
        ),
    )

"""The lowest voltage a cell of packs that are known."""

import numpy as np
import pytest

from foamwright.debrief.outcome import Facts, Share
from foamwright.debrief.recording import Gap, Recording
from foamwright.debrief.sag import read_sag
from foamwright.debrief.scene import scene_of


def drawn(low: float, *, spike: bool = False, hole: bool = False) -> Recording:
    """Return a pack of three cells that falls to a voltage a cell under 20 A from 60 to 64 s."""
    time = np.asarray(np.arange(0.0, 120.0, 0.1), dtype=np.float64)
    loaded = (time >= 60.0) & (time < 64.0)
    volts = np.where(loaded, 3.0 * low, 11.4)
    if spike:
        volts[300] = 6.0
        volts[-1] = 0.2
    kept = (time < 59.0) | (time > 66.0) if hole else np.ones(time.size, dtype=bool)
    return Recording(
        time=time[kept],
        channels={"voltage": volts[kept], "current": np.where(loaded, 20.0, 5.0)[kept]},
        gaps=(Gap(start=58.9, end=66.1),) if hole else (),
        step=0.1,
    )


def told(log: Recording, cells: int | None = 3) -> Share:
    """Return what is read."""
    return read_sag(scene_of(log, Facts(cells=cells))[0])


def test_a_good_pack_has_a_lowest_voltage_and_no_remark() -> None:
    """3.5 V a cell is told with the moment it was reached."""
    found = told(drawn(3.5))
    (figure,) = found.figures
    assert figure.value == pytest.approx(3.5)
    assert figure.low < 3.5 < figure.high
    assert "at 60 s" in figure.label
    assert found.findings == ()


def test_a_pack_that_falls_too_low_is_told_with_its_load() -> None:
    """3.2 V a cell at 20 A for 4 s."""
    (remark,) = told(drawn(3.2)).findings
    assert "3.20 V a cell" in remark.what
    assert "at 20.0 A" in remark.because
    assert "for 4 s in all" in remark.because
    assert "harmed" not in remark.because
    assert len(remark.check_first) == 3


def test_a_harmed_cell_is_told() -> None:
    """Under 3 V it is said what that does."""
    (remark,) = told(drawn(2.9)).findings
    assert "harmed for good" in remark.because


def test_one_odd_row_is_no_sag() -> None:
    """A row of 2 V a cell is averaged over a second; one of a plug being pulled is left out."""
    (figure,) = told(drawn(3.5, spike=True)).figures
    assert figure.value > 3.45


def test_what_fell_into_a_hole_is_not_told() -> None:
    """Nothing is drawn across rows that are missing."""
    (figure,) = told(drawn(3.0, hole=True)).figures
    assert figure.value == pytest.approx(3.8)


def test_without_cells_it_is_said_why_not() -> None:
    """The plane file has to name the pack."""
    found = told(drawn(3.0), cells=None)
    assert found.figures == ()
    assert "voltage a cell" in found.not_said[0]


def test_without_a_voltage_nothing_is_said() -> None:
    """Nor is anything missed."""
    time = np.asarray(np.arange(0.0, 10.0, 0.1), dtype=np.float64)
    log = Recording(time=time, channels={"current": np.ones(time.size)}, step=0.1)
    assert told(log) == Share()

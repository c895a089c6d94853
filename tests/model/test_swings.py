"""A swing on two strings takes the place of the mass list, and half swings are asked back."""

import datetime as dt
import shutil
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.model.swings import SWING_SHARE, half_swings, swings_of, swung
from foamwright.plane.bench_records import Bench, Swing
from foamwright.plane.document import load

Computed = Callable[..., ComputablePlane]
WINDROW = Path(__file__).parents[2] / "examples" / "windrow"

RECORD = {
    "date": dt.date(2026, 5, 1),
    "axis": "yaw",
    "distance": "300 mm",
    "length": "1200 mm",
    "time": "28.3 s",
    "swings": 20,
    "mass": "300 g",
}


def record(**changed: object) -> Swing:
    """Return a swing."""
    return Swing.model_validate({**RECORD, **changed})


def test_a_worked_swing() -> None:
    """I = m g D^2 T^2 / (16 pi^2 L) with T = 28.3 / 20 s: 0.0028 kg m2, within 5 %."""
    inertia, spread = swung(record(), 0.25)
    by_hand = 0.3 * 9.80665 * 0.3**2 * (28.3 / 20) ** 2 / (16.0 * np.pi**2 * 1.2)
    assert inertia == pytest.approx(by_hand)
    assert inertia == pytest.approx(0.0028, rel=0.01)
    assert SWING_SHARE < spread / inertia < 0.055


def test_without_a_mass_the_plane_swung() -> None:
    """The mass ready to fly is taken."""
    inertia, _ = swung(record(mass=None), 0.25)
    assert inertia == pytest.approx(swung(record(mass="250 g"), 9.9)[0])


def test_written_spreads_count() -> None:
    """A stopwatch that is 5 % off makes 10 % of the inertia."""
    _, spread = swung(record(time="28.3 ± 1.4 s"), 0.25)
    inertia, _ = swung(record(), 0.25)
    assert spread / inertia == pytest.approx(np.hypot(0.099, 0.042), rel=0.03)


def test_the_last_swing_about_an_axis_counts() -> None:
    """By date, whatever stands first; axes do not disturb each other."""
    early = record(time="20 s", date=dt.date(2026, 4, 1))
    other = record(axis="roll", time="15 s")
    found = swings_of(Bench(swings=(record(), early, other)), 0.25)
    assert set(found) == {"yaw", "roll"}
    assert found["yaw"] == swung(record(), 0.25)


def test_half_swings_are_asked_back(computed: Computed) -> None:
    """A quarter of the mass list: the question names axis and share; the whole is not doubted."""
    listed = computed("windrow").inertia_tensor
    usual = float(np.median(listed[:, 2, 2]))
    said = half_swings({"yaw": (0.25 * usual, 1e-5)}, listed)
    assert len(said) == 1
    assert said[0].startswith("half swings?")
    assert "yaw tells 25%" in said[0]
    assert half_swings({"yaw": (0.9 * usual, 1e-5)}, listed) == ()


def noted(folder: Path, time: str) -> ComputablePlane:
    """Return the plank with 20 roll swings noted at the bench."""
    shutil.copy(WINDROW / "plane.toml", folder)
    (folder / "bench.toml").write_text(
        '[[swings]]\ndate = 2026-05-01\naxis = "roll"\ndistance = "250 mm"\nlength = "1200 mm"\n'
        f'time = "{time}"\nswings = 20\n',
        encoding="utf-8",
    )
    plane = ComputablePlane(load(folder), Draws(256, 1))
    plane.settle()
    return plane


def test_half_swings_reach_whoever_asks_for_the_stabiliser(tmp_path: Path) -> None:
    """20 half swings typed as whole ones: the rate loop asks back; 20 whole ones pass."""
    for time, asks in (("16.5 s", True), ("33 s", False)):
        folder = tmp_path / time.replace(" ", "")
        folder.mkdir()
        loop = noted(folder, time).rate_loop
        assert loop is not None
        assert any(text.startswith("half swings?") for text in loop.assumed) == asks


def test_a_swing_in_the_bench_notes_is_used(tmp_path: Path) -> None:
    """The plane's tensor has the swung value, and only the other axes are assumed."""
    plane = noted(tmp_path, "33 s")
    expected, spread = swings_of(load(tmp_path).notes.bench, float(np.median(plane.masses.all_up)))[
        "roll"
    ]
    roll = plane.inertia_tensor[:, 0, 0]
    assert np.mean(roll) == pytest.approx(expected, rel=1e-2)
    assert np.std(roll) == pytest.approx(spread, rel=0.05)
    assert "in pitch, yaw from" in plane.handling.inertia_assumed[0]

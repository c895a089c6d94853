"""The wind of a free flight that was published, held against its own pitot."""

from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import least_squares

from foamwright.debrief.recording import Recording
from foamwright.debrief.wind import airspeed, find_wind

pytestmark = pytest.mark.published
DATA = Path(__file__).parent / "data" / "flights_tailsitter.csv"


OFF_AXIS = 0.24
"""The pitot sits beside the axis: true = measured - 0.24 m times pitch rate (ntouros-2025 data)."""


def flight() -> tuple[Recording, np.ndarray]:
    """Return the flight as a recording, and the pitot's airspeed of it, put on the axis."""
    table = np.genfromtxt(DATA, delimiter=",", names=True)
    north, east = table["vn_mps"], table["ve_mps"]
    channels = {"ground_speed": np.hypot(north, east), "course": np.arctan2(east, north)}
    whole = Recording(time=table["t_s"], channels=channels, step=0.04)
    return whole, table["airspeed_mps"] - OFF_AXIS * table["p_rads"]


def test_the_airspeed_without_a_pitot_agrees_with_the_pitot() -> None:
    """The ratio of the two is one within the 95 % band of the fit, and they move together."""
    whole, pitot = flight()
    wind, why = find_wind(whole)
    assert wind is not None, why
    found = airspeed(whole, wind)
    assert found is not None
    flying = (whole.channel("ground_speed") > 4.0) & (pitot > 4.0)
    ratio = float(np.median(pitot[flying] / found[flying]))
    assert abs(ratio - 1.0) < 1.96 * wind.airspeed_sd / wind.airspeed
    assert np.corrcoef(pitot[flying], found[flying])[0, 1] > 0.85


def test_the_wind_agrees_with_the_one_the_pitot_gives() -> None:
    """With the pitot for the radius of the circle, the wind lies within two sigma of ours."""
    whole, pitot = flight()
    wind, why = find_wind(whole)
    assert wind is not None, why
    speed, course = whole.channel("ground_speed"), whole.channel("course")
    flying = (speed > 4.0) & (pitot > 4.0)
    north, east = (speed * np.cos(course))[flying], (speed * np.sin(course))[flying]

    def residual(guess: np.ndarray) -> np.ndarray:
        away = np.hypot(north - guess[0], east - guess[1])
        return np.asarray(away - guess[2] * pitot[flying])

    by_pitot = least_squares(residual, [0.0, 0.0, 1.0], loss="soft_l1").x
    assert np.hypot(by_pitot[0] - wind.north, by_pitot[1] - wind.east) < 2.0 * wind.sd
    assert by_pitot[2] == pytest.approx(1.0, abs=0.1)

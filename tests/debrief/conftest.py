"""A made-up flight of known truth, written in any style of table.

It is flown by simple kinematics of its own, independent of what reads it: circles and straights
at an airspeed in a steady wind, a pack that sags, a counter of charge that counts.
"""

import io
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

import numpy as np
import pytest
from geographiclib.geodesic import Geodesic

Values = np.ndarray
Write = Callable[..., Path]
Truth = Mapping[str, Values]

GRAVITY = 9.80665
WIND_NORTH, WIND_EAST = 3.0, -2.0
START = (47.5, 8.25)


def fly(rate: float = 10.0, seconds: float = 240.0, seed: int = 1) -> Truth:
    """Return a flight: airspeed about 16 m/s, full circles, climbs, wind 3 north, -2 east."""
    random = np.random.default_rng(seed)
    time = np.arange(0.0, seconds, 1.0 / rate)
    airspeed = 16.0 + 3.0 * np.sin(time / 17.0)
    bank = np.radians(35.0) * np.sin(time / 30.0) + np.radians(6.0) * np.sin(time / 3.0)
    turn = GRAVITY * np.tan(bank) / airspeed
    heading = np.cumsum(turn) / rate
    climb = 2.5 * np.sin(time / 11.0)
    north = airspeed * np.cos(heading) + WIND_NORTH
    east = airspeed * np.sin(heading) + WIND_EAST
    throttle = np.clip(0.5 + 0.12 * climb, 0.0, 1.0)
    current = 0.8 + 11.0 * throttle**2 + 0.05 * random.standard_normal(time.size)
    used = np.cumsum(current) / rate
    voltage = 12.4 - 0.0009 * used - 0.06 * current
    roll_rate = np.gradient(bank, time)
    return {
        "time": time,
        "latitude": placed(north, east, rate)[0],
        "longitude": placed(north, east, rate)[1],
        "height": 60.0 + np.cumsum(climb) / rate,
        "ground_speed": np.hypot(north, east),
        "course": np.arctan2(east, north) % (2 * np.pi),
        "climb_rate": climb,
        "airspeed": airspeed,
        "north_speed": north,
        "east_speed": east,
        "voltage": voltage,
        "current": current,
        "charge_used": used,
        "throttle": throttle,
        "rotation_speed": voltage * 35.0 * np.sqrt(np.maximum(throttle, 0.05)) * 0.8,
        "roll": bank,
        "pitch": np.radians(4.0) + climb / airspeed,
        "heading": heading % (2 * np.pi),
        "roll_rate": roll_rate,
        "pitch_rate": np.gradient(climb / airspeed, time),
        "yaw_rate": turn,
        "up_acceleration": GRAVITY / np.cos(bank) + 0.2 * random.standard_normal(time.size),
        "satellites": np.round(14.0 + 2.0 * np.sin(time / 40.0)),
    }


def placed(north: Values, east: Values, rate: float) -> tuple[Values, Values]:
    """Return where speeds lead, on the ellipsoid [rad]: by Karney's geodesics, every row."""
    y, x = np.cumsum(north) / rate, np.cumsum(east) / rate
    earth = Geodesic.WGS84
    found = [
        earth.Direct(*START, float(np.degrees(np.arctan2(b, a))), float(np.hypot(a, b)))
        for a, b in zip(y, x, strict=True)
    ]
    return (
        np.radians([point["lat2"] for point in found]),
        np.radians([point["lon2"] for point in found]),
    )


@pytest.fixture(scope="session")
def truth() -> Truth:
    """Return 240 s at 10 Hz."""
    return fly()


Spec = tuple[str, Values, str]
"""Header, values as written, format."""


def table_text(columns: Sequence[Spec], delimiter: str = ",", *, comma: bool = False) -> str:
    """Return columns as the text of a table."""
    out = io.StringIO()
    names = (f'"{name}"' if delimiter in name else name for name, _, _ in columns)
    out.write(delimiter.join(names) + "\n")
    out.write(rows(columns, delimiter, comma=comma))
    return out.getvalue()


def rows(columns: Sequence[Spec], delimiter: str = ",", *, comma: bool = False) -> str:
    """Return the rows of a table without its header."""
    lines = []
    for row in zip(*(values for _, values, _ in columns), strict=True):
        cells = [format(value, form) for value, (_, _, form) in zip(row, columns, strict=True)]
        if comma:
            cells = [cell.replace(".", ",") for cell in cells]
        lines.append(delimiter.join(cells))
    return "\n".join(lines) + "\n"


@pytest.fixture(scope="session")
def table() -> Callable[..., str]:
    """Return what makes the text of a table from (header, values, format)."""
    return table_text


@pytest.fixture(scope="session")
def flown() -> Callable[..., Truth]:
    """Return what flies at another rate, for another time."""
    return fly


@pytest.fixture
def write(tmp_path: Path) -> Write:
    """Return what writes a text into a log file and gives its path."""

    def put(text: str, name: str = "log.csv", encoding: str = "utf-8") -> Path:
        path = tmp_path / name
        path.write_bytes(text.encode(encoding))
        return path

    return put

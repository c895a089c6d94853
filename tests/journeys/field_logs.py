"""Logs of flights that are known, written as tables: simple kinematics in gusty air.

Nothing of foamwright is used: an airspeed and a heading by plan, a steady wind, gusts of first
order (0.7 m/s, 2.5 s), a receiver with 0.15 m/s of noise, a current by the throttle.
"""

from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from scipy.signal import lfilter

RATE, GRAVITY = 10.0, 9.80665
METRES = 6.371e6
"""Radius of the earth [m]: places a few hundred metres around need no ellipsoid."""
GUST, GUST_TIME, NOISE = 0.7, 2.5, 0.15
MAH = 3.6


@dataclass(frozen=True, kw_only=True)
class Leg:
    """A part of a flight."""

    seconds: float
    speed: float = 15.0
    """Airspeed [m s^-1]."""
    throttle: float = 0.6
    turn: float = 0.0
    """Rate [deg s^-1], right positive."""


@dataclass(frozen=True, kw_only=True)
class Flight:
    """What is flown, in what air."""

    legs: tuple[Leg, ...]
    wind: tuple[float, float]
    """Where the air moves, north and east [m s^-1]."""
    seed: int = 0
    heading: float = 20.0
    """At the start [deg]."""
    full: float = field(default=12.0)
    """Current at full throttle [A]."""


GAPS_LEGS = (
    Leg(seconds=60.0),
    Leg(seconds=25.0, turn=-14.4),
    Leg(seconds=25.0, turn=-14.4),
    Leg(seconds=90.0),
    Leg(seconds=12.0, speed=21.0, throttle=1.0),
    Leg(seconds=60.0),
    Leg(seconds=18.0, speed=11.0, throttle=0.45),
    Leg(seconds=80.0),
)
"""370 s at 15.0 m/s in the mean, two full left circles, a dash and slow flight in it."""


def gusts(random: np.random.Generator, size: int) -> np.ndarray:
    """Return gusts along one axis (size,) [m s^-1]."""
    share = np.exp(-1.0 / RATE / GUST_TIME)
    noise = random.normal(0.0, GUST * np.sqrt(1.0 - share**2), size)
    return np.asarray(lfilter([1.0], [1.0, -share], noise))


def flown(flight: Flight) -> dict[str, np.ndarray]:
    """Return the channels of a flight, SI."""
    random = np.random.default_rng(flight.seed)
    many = [round(leg.seconds * RATE) for leg in flight.legs]

    def along(values: list[float], smooth: float) -> np.ndarray:
        """Return a plan by the row, brought about within a second or so."""
        rows = np.repeat(values, many)
        share = np.exp(-1.0 / RATE / smooth)
        return np.asarray(lfilter([1 - share], [1, -share], rows - rows[0]) + rows[0])

    speed = along([leg.speed for leg in flight.legs], 1.2)
    turn = np.radians(along([leg.turn for leg in flight.legs], 0.4))
    throttle = np.repeat([leg.throttle for leg in flight.legs], many)
    size = speed.size
    heading = np.radians(flight.heading) + np.cumsum(turn) / RATE
    north = speed * np.cos(heading) + flight.wind[0] + gusts(random, size)
    east = speed * np.sin(heading) + flight.wind[1] + gusts(random, size)
    y, x = np.cumsum(north) / RATE, np.cumsum(east) / RATE
    seen = [v + random.normal(0.0, NOISE, size) for v in (north, east)]
    amps = flight.full * throttle**2.5 + random.normal(0.0, 0.05, size)
    used = np.cumsum(amps) / RATE
    return {
        "time": np.arange(size) / RATE,
        "airspeed": speed,
        "latitude": 47.0 + np.degrees(y / METRES),
        "longitude": 8.0 + np.degrees(x / METRES / np.cos(np.radians(47.0))),
        "height": 60.0 + random.normal(0.0, 0.3, size),
        "ground_speed": np.hypot(*seen),
        "course": np.degrees(np.arctan2(seen[1], seen[0])) % 360.0,
        "throttle": throttle,
        "current": amps,
        "voltage": 12.4 - 0.0006 * used - 0.09 * amps + random.normal(0.0, 0.02, size),
    }


def kept_rows(size: int, share: float, seed: int) -> np.ndarray:
    """Return which rows are left (size,): bursts of 0.6 to 2.4 s are lost until enough are."""
    random, kept = np.random.default_rng(seed), np.ones(size, dtype=bool)
    while kept.mean() > share:
        start, long = int(random.integers(5, size - 40)), int(random.integers(6, 24))
        apart = kept[max(start - 8, 0) : start + long + 8].all()
        # Bursts with 0.8 s between them: none joins another, so none is longer than 2.4 s.
        if apart:
            kept[start : start + long] = False
    return kept


def scaled_charge(channels: dict[str, np.ndarray], kept: np.ndarray, logged: float) -> float:
    """Return by how much a sensor reads off so that what is left sums to a charge [mAh].

    The sum is the trapezoid over the rows that are left, nothing across more than half a second.
    """
    time, amps = channels["time"][kept], channels["current"][kept]
    step = np.diff(time)
    parts = 0.5 * (amps[1:] + amps[:-1]) * step
    return logged * MAH / float(parts[step <= 0.5].sum())


def write(file: Path, channels: dict[str, np.ndarray], speed_unit: float = 1.0) -> Path:
    """Write a table of a flight; a speed is written in any unit, its header says none."""
    columns = {
        "ms": (1000.0 * channels["time"], "%.0f"),
        "lat": (channels["latitude"], "%.7f"),
        "lon": (channels["longitude"], "%.7f"),
        "alt": (channels["height"], "%.1f"),
        "spd": (channels["ground_speed"] / speed_unit, "%.2f"),
        "cog": (channels["course"], "%.1f"),
        "thr": (100.0 * channels["throttle"], "%.0f"),
        "amps": (channels["current"], "%.2f"),
        "vbat": (channels["voltage"], "%.2f"),
    }
    np.savetxt(
        file,
        np.column_stack([values for values, _ in columns.values()]),
        fmt=[form for _, form in columns.values()],
        delimiter=",",
        header=",".join(columns),
        comments="",
    )
    return file

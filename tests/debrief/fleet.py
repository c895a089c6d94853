"""Many different planes flown at once, independent of what reads them: every truth is known.

Each plane has a polar, a drive whose efficiency changes with the speed, a pack, sensors with
scales of their own, and air of its own: wind, and gusts of its own strength and length, upright
ones too. All fly one plan: full throttle standing still, climb, circles, straights, a dash, glides.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from scipy.signal import lfilter

from foamwright.debrief.recording import Recording

GRAVITY, DENSITY = 9.80665, 1.225
STEP, INNER = 0.2, 2
"""Rows of the log are so far apart [s]; forces are integrated in so many steps between them."""
PLAN = (
    (3.0, "stand", 0.0, 0.0, 0.0),
    (8.0, "stand", 0.0, 0.0, 1.0),
    (10.0, "stand", 0.0, 0.0, 0.0),
    (22.0, "climb", 1.3, 0.0, 1.0),
    (82.0, "level", 1.3, -32.0, 0.0),
    (102.0, "level", 1.3, 0.0, 0.0),
    (120.0, "dash", 0.0, 0.0, 1.0),
    (132.0, "level", 1.5, 30.0, 0.0),
    (156.0, "glide", 1.2, 0.0, 0.0),
    (166.0, "climb", 1.3, 10.0, 0.9),
    (216.0, "level", 1.45, 30.0, 0.0),
    (236.0, "level", 1.15, 0.0, 0.0),
    (260.0, "glide", 1.1, 0.0, 0.0),
    (300.0, "level", 1.4, -25.0, 0.0),
)
"""Until when [s], what, speed over that of the best glide, bank [deg], throttle where it is set."""


@dataclass(frozen=True, kw_only=True)
class Fleet:
    """n planes; every field is (n,) SI unless said otherwise."""

    mass: np.ndarray
    area: np.ndarray
    """Drag area at zero lift."""
    induced: np.ndarray
    """Induced drag times dynamic pressure at a load of one."""
    wing: np.ndarray
    """Area of the wing."""
    best: np.ndarray
    """Speed of the best glide."""
    static: np.ndarray
    """Thrust, standing still."""
    pitch_speed: np.ndarray
    """Speed without thrust at full throttle."""
    efficiency: np.ndarray
    """Of the whole drive at its best."""
    standby: np.ndarray
    """Power of everything but the motor."""
    open_voltage: np.ndarray
    resistance: np.ndarray
    wind: np.ndarray
    """Where the air goes, north and east (n, 2)."""
    gust: np.ndarray
    gust_time: np.ndarray
    upright: np.ndarray
    """Gusts up and down over those along."""
    current_scale: np.ndarray
    voltage_scale: np.ndarray

    @property
    def weight(self) -> np.ndarray:
        """Return the weight (n,) [N]."""
        return np.asarray(self.mass * GRAVITY)

    def drag(self, speed: np.ndarray, load: np.ndarray | float = 1.0) -> np.ndarray:
        """Return the drag [N]."""
        pressure = 0.5 * DENSITY * speed**2
        return np.asarray(pressure * self.area + self.induced * load**2 / pressure)

    def thrust(self, throttle: np.ndarray, speed: np.ndarray) -> np.ndarray:
        """Return the thrust [N]; a propeller that is driven by the air gives none."""
        run = speed / self.pitch_speed / np.maximum(throttle, 0.02)
        return np.asarray(self.static * throttle**2 * np.maximum(0.0, 1.0 - run))

    def power(self, throttle: np.ndarray, speed: np.ndarray) -> np.ndarray:
        """Return the pack's power [W]: the shaft's falls slowly, then fast, with the speed."""
        run = np.clip(speed / self.pitch_speed / np.maximum(throttle, 0.02), 0.0, 1.0)
        level = 0.6 * self.static * self.pitch_speed * throttle**3
        shaft = level * (1.0 + 0.1 * run - 0.9 * run**2)
        peak = 0.5567  # the highest of x (1 - x) / 0.6 / (1 + 0.1 x - 0.9 x²)
        return np.asarray(self.standby + shaft * peak / self.efficiency)

    def throttle_for(self, speed: np.ndarray, load: np.ndarray | float) -> np.ndarray:
        """Return the throttle that holds a speed, by bisection."""
        low, high = np.full(speed.size, 0.04), np.ones(speed.size)
        for _ in range(40):
            middle = 0.5 * (low + high)
            more = self.thrust(middle, speed) < self.drag(speed, load)
            low, high = np.where(more, middle, low), np.where(more, high, middle)
        return high

    def top_speed(self) -> np.ndarray:
        """Return the speed at which thrust is drag, by bisection."""
        low, high = 1.2 * self.best, self.pitch_speed
        full = np.ones(low.size)
        for _ in range(50):
            middle = 0.5 * (low + high)
            left = self.thrust(full, middle) > self.drag(middle)
            low, high = np.where(left, middle, low), np.where(left, high, middle)
        return low


def fleet(size: int, seed: int) -> Fleet:
    """Return planes drawn at random."""
    random = np.random.default_rng(seed)
    draw = random.uniform
    mass, best = draw(0.3, 1.5, size), draw(9.0, 13.0, size)
    pressure, ratio = 0.5 * DENSITY * best**2, draw(5.0, 9.0, size)
    half = 0.5 * mass * GRAVITY / ratio
    blows, course = draw(0.0, 5.0, size), draw(0.0, 2.0 * np.pi, size)
    return Fleet(
        mass=mass,
        area=half / pressure,
        induced=half * pressure,
        wing=(mass * GRAVITY) ** 2 / (np.pi * 0.75 * draw(4.0, 8.0, size) * half * pressure),
        best=best,
        static=mass * GRAVITY * draw(0.7, 1.1, size),
        pitch_speed=best * draw(2.1, 2.7, size),
        efficiency=0.5 * np.exp(0.13 * random.normal(size=size)),
        standby=draw(1.0, 5.0, size),
        open_voltage=draw(11.4, 12.5, size),
        resistance=draw(0.02, 0.06, size) / mass,
        wind=np.stack([blows * np.cos(course), blows * np.sin(course)], axis=1),
        gust=draw(0.3, 1.2, size),
        gust_time=draw(1.5, 5.0, size),
        upright=draw(0.3, 0.5, size),
        current_scale=1.0 + 0.05 * random.normal(size=size),
        voltage_scale=1.0 + 0.01 * random.normal(size=size),
    )


@dataclass(frozen=True, kw_only=True)
class Flown:
    """What they flew."""

    recordings: tuple[Recording, ...]
    time: np.ndarray
    """(k,) [s]."""
    airspeed: np.ndarray
    """True (k, n) [m s^-1]."""


def gusts(planes: Fleet, rows: int, step: float, random: np.random.Generator) -> np.ndarray:
    """Return first-order gusts (rows, n) [m s^-1]."""
    noise = random.normal(size=(rows, planes.gust.size))
    for n in range(planes.gust.size):
        share = np.exp(-step / planes.gust_time[n])
        noise[1:, n] *= np.sqrt(1.0 - share**2)
        noise[:, n] = lfilter([1.0], [1.0, -share], noise[:, n])
    return np.asarray(noise * planes.gust)


def fly(planes: Fleet, seed: int) -> Flown:
    """Return what planes fly and log."""
    random, size, step = np.random.default_rng(seed), planes.mass.size, STEP / INNER
    rows = round(PLAN[-1][0] / STEP)
    up = planes.upright * gusts(planes, rows * INNER, step, random)
    speed, heading, height = np.zeros(size), random.uniform(0, 2 * np.pi, size), np.zeros(size)
    kept: dict[str, list[np.ndarray]] = {"v": [], "heading": [], "h": [], "throttle": [], "p": []}
    until, kind, want, bank, throttle, wanted = 0.0, "", 0.0, 0.0, np.zeros(size), height
    plan = iter(PLAN)
    for i in range(rows * INNER):
        if i * step >= until - 1e-9:
            until, kind, want, degrees, full = next(plan)
            bank = float(np.radians(degrees))
            load, wanted = 1.0 / np.cos(bank), height.copy()
            throttle = np.full(size, full)
            if kind == "level":
                throttle = planes.throttle_for(want * planes.best, load)
        if i % INNER == 0:
            for name, value in zip(kept, (speed, heading, height, throttle, 0), strict=True):
                kept[name].append(
                    np.asarray(planes.power(throttle, speed) if name == "p" else value).copy()
                )
        if kind == "stand":
            continue
        speed = np.maximum(speed, 0.8 * planes.best)
        excess = planes.thrust(throttle, speed) - planes.drag(speed, load)
        faster = excess / planes.mass
        climb = np.zeros(size)
        if kind in ("climb", "glide"):
            held = (want * planes.best - speed) / 3.0
            climb = (faster - held) * speed / GRAVITY
            faster = held
        if kind in ("level", "dash"):  # the pilot goes back to the height he had, slowly
            climb = (wanted - height) / 15.0
            faster = faster - GRAVITY * climb / speed
        height = height + step * (climb + up[i])
        speed = speed + step * faster
        heading = heading + step * GRAVITY * np.tan(bank) / speed
    told = {name: np.stack(values) for name, values in kept.items()}
    return logged(planes, told, random)


def logged(planes: Fleet, told: Mapping[str, np.ndarray], random: np.random.Generator) -> Flown:
    """Return what the sensors make of it."""
    v, heading = told["v"], told["heading"]
    shape = v.shape
    time = np.asarray(np.arange(shape[0]) * STEP, dtype=np.float64)
    flying = v > 0.0
    parts = [
        np.where(flying, v * turn(heading) + planes.wind[:, axis] + drift, 0.0)
        + random.normal(0.0, 0.15, shape)
        for axis, turn, drift in (
            (0, np.cos, gusts(planes, shape[0], STEP, random)),
            (1, np.sin, gusts(planes, shape[0], STEP, random)),
        )
    ]
    volts, amps = packed(planes, told["p"], time)
    channels = {
        "ground_speed": np.hypot(*parts),
        "course": np.mod(np.arctan2(parts[1], parts[0]), 2.0 * np.pi),
        "height": told["h"] + random.normal(0.0, 0.3, shape),
        "throttle": told["throttle"],
        "current": amps * planes.current_scale + random.normal(0.0, 0.1, shape),
        "voltage": volts * planes.voltage_scale + random.normal(0.0, 0.02, shape),
    }
    recordings = tuple(
        Recording(
            time=time, channels={name: values[:, n] for name, values in channels.items()}, step=STEP
        )
        for n in range(shape[1])
    )
    return Flown(recordings=recordings, time=time, airspeed=v)


def packed(planes: Fleet, power: np.ndarray, time: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Return voltage and current of packs that run down (k, n)."""
    empty = planes.open_voltage - 0.003 * time[:, None]
    amps = power / empty
    for _ in range(20):
        amps = power / (empty - planes.resistance * amps)
    return empty - planes.resistance * amps, amps

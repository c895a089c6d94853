"""A point mass flown in gusts, independent of what reads it: known wind, drag, pack, noise."""

from dataclasses import dataclass

import numpy as np
from scipy.signal import lfilter

from foamwright.debrief.recording import Gap, Recording

GRAVITY = 9.80665
DENSITY = 1.225
MASS = 1.1
AREA = 0.024
"""Drag area at zero lift [m^2]."""
INDUCED = 25.0
"""Induced drag times dynamic pressure [N Pa]."""
RESISTANCE = 0.035
STATIC, PITCH_SPEED = 12.0, 33.0


@dataclass(frozen=True, kw_only=True)
class Plan:
    """What is flown: throttle and bank by the second, in what air."""

    throttle: np.ndarray
    """(seconds,)."""
    bank: np.ndarray
    """(seconds,) [rad]."""
    wind: tuple[float, float] = (3.0, -2.0)
    gust: float = 0.8
    seed: int = 1
    rate: float = 10.0
    level: bool = True
    """Whether height is held while the motor runs."""


def circles(seconds: int = 60, seed: int = 1, wind: tuple[float, float] = (3.0, -2.0)) -> Plan:
    """Return a plan of steady left circles of about 25 s."""
    bank = np.full(seconds, -np.arctan(15.5 * 2.0 * np.pi / 25.0 / GRAVITY))
    return Plan(throttle=np.full(seconds, 0.8), bank=bank, wind=wind, seed=seed)


def gusts(size: int, step: float, sigma: float, random: np.random.Generator) -> np.ndarray:
    """Return first-order gusts that last 2.5 s (size,) [m s^-1]."""
    share = np.exp(-step / 2.5)
    noise = random.normal(size=size) * sigma * np.sqrt(1.0 - share**2)
    noise[0] = random.normal() * sigma
    return np.asarray(lfilter([1.0], [1.0, -share], noise))


def fly(plan: Plan) -> Recording:
    """Return the recording of a plan; forces are integrated at the log's rate, semi-implicitly."""
    random, step = np.random.default_rng(plan.seed), 1.0 / plan.rate
    time = np.arange(0.0, plan.throttle.size, step)
    second = np.minimum(time.astype(int), plan.throttle.size - 1)
    throttle, bank = plan.throttle[second], plan.bank[second]
    speed, heading, height = np.zeros((3, time.size))
    speed[0], height[0] = 15.5, 80.0
    for i in range(1, time.size):
        v, load = speed[i - 1], 1.0 / np.cos(bank[i - 1])
        pressure = 0.5 * DENSITY * v**2
        drag = pressure * AREA + INDUCED * load**2 / pressure
        push = max(
            0.0,
            STATIC * throttle[i - 1] ** 2 * (1.0 - v / PITCH_SPEED / max(throttle[i - 1], 0.05)),
        )
        held = plan.level and throttle[i - 1] > 0.03
        sink = 0.0 if held else drag / (MASS * GRAVITY) * v
        speed[i] = v + step * (push - drag + MASS * GRAVITY * sink / v) / MASS
        heading[i] = heading[i - 1] + step * GRAVITY * np.tan(bank[i - 1]) / v
        height[i] = height[i - 1] - step * sink
    north = speed * np.cos(heading) + plan.wind[0] + gusts(time.size, step, plan.gust, random)
    east = speed * np.sin(heading) + plan.wind[1] + gusts(time.size, step, plan.gust, random)
    north, east = (v + random.normal(0.0, 0.15, time.size) for v in (north, east))
    amps = 25.0 * throttle**3 + 0.3 + random.normal(0.0, 0.1, time.size)
    volts = 12.4 - 0.002 * time - RESISTANCE * amps + random.normal(0.0, 0.02, time.size)
    channels = {
        "ground_speed": np.hypot(north, east),
        "course": np.mod(np.arctan2(east, north), 2.0 * np.pi),
        "height": height + random.normal(0.0, 0.2, time.size),
        "throttle": throttle,
        "current": amps,
        "voltage": volts,
    }
    return Recording(time=time, channels=channels, step=step)


def with_holes(whole: Recording, share: float, seed: int = 3) -> Recording:
    """Return a recording with bursts of up to 2.4 s of rows missing."""
    random, kept = np.random.default_rng(seed), np.ones(whole.time.size, dtype=bool)
    while kept.mean() > 1.0 - share:
        start = int(random.integers(10, whole.time.size - 40))
        kept[start : start + int(random.integers(8, 25))] = False
    time = whole.time[kept]
    holes = np.flatnonzero(np.diff(time) > 0.5)
    return Recording(
        time=time,
        channels={name: values[kept] for name, values in whole.channels.items()},
        gaps=tuple(Gap(start=float(time[i]), end=float(time[i + 1])) for i in holes),
        step=whole.step,
    )

"""What is read off the flights of many different planes, held to what is promised.

The planes of `fleet` share no code with what reads them. No number of the reading was fitted to
the seeds used here.
"""

from collections import defaultdict
from dataclasses import dataclass, field, fields

import numpy as np
from tests.debrief.fleet import DENSITY, GRAVITY, Fleet, Flown

from foamwright.debrief.analysis import analyse
from foamwright.debrief.outcome import Analysis, Facts, Figure

TENTH = 1.2815515655446004


def single(planes: Fleet, n: int) -> Fleet:
    """Return one plane of many."""
    return Fleet(**{one.name: getattr(planes, one.name)[n : n + 1] for one in fields(planes)})


def area_at(plane: Fleet, speed: float) -> float:
    """Return the true drag area of a plane at a speed [m^2]."""
    return float(plane.drag(np.array([speed]))[0] / (0.5 * DENSITY * speed**2))


def current_at(plane: Fleet, throttle: float, speed: float, time: float) -> float:
    """Return the true current of a plane's pack [A], by iteration."""
    watts = float(plane.power(np.array([throttle]), np.array([speed]))[0])
    volts = float(plane.open_voltage[0]) - 0.003 * time
    amps = watts / volts
    for _ in range(30):
        amps = watts / (volts - float(plane.resistance[0]) * amps)
    return amps


def facts_of(plane: Fleet) -> Facts:
    """Return what is known of a plane on the ground."""
    return Facts(
        mass=float(plane.mass[0]), wing_area=float(plane.wing[0]), air_density=DENSITY, cells=3
    )


@dataclass(frozen=True)
class Held:
    """What was read against what was true."""

    inside: dict[str, list[bool]] = field(default_factory=lambda: defaultdict(list))
    error: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))
    wind_off: list[float] = field(default_factory=list)

    def add(self, name: str, band: tuple[float, float, float], true: float) -> None:
        """Note a value with its ends."""
        value, low, high = band
        self.inside[name].append(low <= true <= high)
        self.error[name].append(value / true - 1.0)

    def coverage(self, name: str) -> float:
        """Return the share of bands that hold the truth."""
        return float(np.mean(self.inside[name]))

    def typical(self, name: str) -> float:
        """Return the median of the relative error, without its sign."""
        return float(np.median(np.abs(self.error[name])))


def note(held: Held, plane: Fleet, found: Analysis, mean_speed: float) -> None:
    """Hold one analysis against the truth."""
    assert found.wind is not None
    wind = found.wind
    blows = float(np.hypot(*plane.wind[0]))
    held.add("wind", (wind.speed, wind.low, wind.high), blows)
    off = np.array([wind.north, wind.east]) - plane.wind[0]
    held.wind_off.append(float(np.hypot(*off)))
    told = {one.name: one for one in found.figures}
    held.add("mean_airspeed", ends(told["mean_airspeed"]), mean_speed)
    by_power = told["drag_area_power"]
    true = area_at(plane, told["drag_area_power_speed"].value)
    held.add("drag_area_power", ends(by_power), true)
    glides = [one for one in found.observations if one.name == "glide_ratio"]
    areas = [one for one in found.figures if one.name == "drag_area"]
    for glide, area in zip(glides, areas, strict=True):
        assert glide.speed is not None
        true_area = area_at(plane, glide.speed)
        held.add("drag_area", ends(area), true_area)
        pressure = 0.5 * DENSITY * glide.speed**2
        ratio = float(plane.mass[0]) * GRAVITY / (true_area * pressure)
        held.add("glide_ratio", seen(glide.value, glide.sd), ratio)
    for one in found.observations:
        truth = true_of(plane, one.name, one.speed)
        if truth is not None:
            held.add(one.name, seen(one.value, one.sd), truth)


def true_of(plane: Fleet, name: str, speed: float | None) -> float | None:
    """Return the truth of an observation, or None where it is told elsewhere."""
    if name == "top_speed":
        return float(plane.top_speed()[0])
    if name == "pack_resistance":
        return float(plane.resistance[0])
    if name == "static_current":
        return current_at(plane, 1.0, 0.0, 5.0)
    if name == "cruise_current" and speed is not None:
        throttle = float(plane.throttle_for(np.array([speed]), 1.0)[0])
        return current_at(plane, throttle, speed, 160.0)
    return None


def ends(figure: Figure) -> tuple[float, float, float]:
    """Return a figure's value and band."""
    return figure.value, figure.low, figure.high


def seen(value: float, sd: float) -> tuple[float, float, float]:
    """Return an observation's value and band."""
    return value, value - TENTH * sd, value + TENTH * sd


def held_of(planes: Fleet, flown: Flown) -> Held:
    """Return what is read off every flight against the truth."""
    held = Held()
    for n, log in enumerate(flown.recordings):
        plane = single(planes, n)
        speeds = flown.airspeed[:, n]
        note(held, plane, analyse(log, facts_of(plane)), float(speeds[speeds > 0.0].mean()))
    return held

"""Fly an invented plane and write an example log: `examples/reedling/logs/example-log.csv`.

    python tools/fly_example.py [FILE]

Nothing was measured: a point mass with a drag polar of its own, a drive of constant efficiency,
a pack with one resistance, a wind that does not change, noise on every sensor, a radio that loses
rows in bursts. It knows nothing of foamwright's models, so that reading it back is a check of the
reading.
"""

import math
import random
import sys
from dataclasses import dataclass
from pathlib import Path

FILE = Path(__file__).parent.parent / "examples" / "reedling" / "logs" / "example-log.csv"
GRAVITY, DENSITY = 9.80665, 1.21
MASS, AREA, SPAN = 0.2525, 0.104, 0.8
DRAG, SPAN_EFFICIENCY = 0.05, 0.75
EFFICIENCY, MOST_POWER = 0.42, 105.0
WIND_NORTH, WIND_EAST = -3.4, 2.1
STEP, LASTS = 0.1, 300.0
START = (47.31, 8.52)
KNOT = 1852 / 3600
FIRST = "# Example log: invented, written by tools/fly_example.py. Nothing was measured."
HEADER = "ms,lat,lng,alt,spd,cog,vario,vbat,amps,mah,thr,roll,pitch,sats"


@dataclass(kw_only=True)
class State:
    """Where the plane is."""

    speed: float = 11.0
    heading: float = 0.3
    height: float = 2.0
    north: float = 0.0
    east: float = 0.0
    used: float = 0.0
    bank: float = 0.0
    climb: float = 0.0
    slope: float = 0.0
    throttle: float = 1.0
    current: float = 0.0
    voltage: float = 12.5


PLAN = (
    (10.0, 1.0, 6.0, 12.0),
    (115.0, 0.56, 32.0, 13.0),
    (140.0, 1.0, 0.0, 30.0),
    (146.0, 1.0, 50.0, 24.0),
    (165.0, 1.0, 0.0, 30.0),
    (225.0, 0.56, -30.0, 13.0),
    (250.0, 0.0, 4.0, 11.5),
)
"""Until when [s], throttle, bank [deg], speed wanted [m/s]: climb, circles, two dashes with a turn
between them, circles the other way, a glide; then gentle turns and the landing."""


def pilot(time: float) -> tuple[float, float, float]:
    """Return throttle, bank [rad] and wanted speed [m/s] of the flight plan."""
    for until, throttle, bank, speed in PLAN:
        if time < until:
            return throttle, math.radians(bank), speed
    return 0.4, math.radians(25) * math.sin(time / 7), 12.0


def flown(state: State, time: float, chance: random.Random) -> None:
    """Carry the plane one step on."""
    throttle, bank, wanted = pilot(time)
    state.throttle += (throttle - state.throttle) * STEP / 0.6
    state.bank += (bank + 0.04 * chance.gauss(0, 1) - state.bank) * STEP / 0.4
    lift = MASS * GRAVITY / math.cos(state.bank)
    pressure = 0.5 * DENSITY * state.speed**2
    coefficient = lift / (pressure * AREA)
    induced = coefficient**2 / (math.pi * SPAN**2 / AREA * SPAN_EFFICIENCY)
    drag = pressure * AREA * (DRAG + induced)
    power = MOST_POWER * state.throttle**3
    thrust = EFFICIENCY * power / max(state.speed, 6.0)
    excess = (thrust - drag) / MASS
    level = wanted > 25.0  # in a dash height is held and speed is not
    share = 0.0 if level else 0.2 * (state.speed - wanted) / 5.0 + excess / GRAVITY
    share = max(-0.3, min(0.5, share))
    state.slope += (share - state.slope) * STEP / 0.5
    share = state.slope if state.height > 1.5 or state.slope > 0 else 0.0
    state.climb = state.speed * share
    state.speed = max(7.0, state.speed + STEP * (excess - GRAVITY * share))
    state.heading += STEP * GRAVITY * math.tan(state.bank) / state.speed
    state.height = max(1.0, state.height + STEP * state.climb)
    state.north += STEP * (state.speed * math.cos(state.heading) + WIND_NORTH)
    state.east += STEP * (state.speed * math.sin(state.heading) + WIND_EAST)
    state.current = (power + 3.0) / state.voltage
    state.used += STEP * state.current
    state.voltage = 12.5 - 0.0011 * state.used - 0.085 * state.current


def row(state: State, time: float, chance: random.Random) -> str:
    """Return what the sensors show of a moment."""
    north = state.speed * math.cos(state.heading) + WIND_NORTH + 0.1 * chance.gauss(0, 1)
    east = state.speed * math.sin(state.heading) + WIND_EAST + 0.1 * chance.gauss(0, 1)
    course = math.degrees(math.atan2(east, north)) % 360
    latitude = START[0] + state.north / 111190.0
    longitude = START[1] + state.east / (111190.0 * math.cos(math.radians(START[0])) * 1.0017)
    cells = [
        f"{1000 * time + 41250:.0f}",
        f"{latitude:.7f}",
        f"{longitude:.7f}",
        f"{state.height + 0.3 * chance.gauss(0, 1):.1f}",
        f"{math.hypot(north, east) / KNOT:.1f}",
        f"{course:.0f}",
        f"{state.climb + 0.1 * chance.gauss(0, 1):.1f}",
        f"{state.voltage + 0.01 * chance.gauss(0, 1):.2f}",
        f"{max(0.0, state.current + 0.05 * chance.gauss(0, 1)):.2f}",
        f"{state.used / 3.6:.0f}",
        f"{100 * state.throttle:.0f}",
        f"{math.degrees(state.bank) + chance.gauss(0, 0.5):.1f}",
        f"{math.degrees(math.asin(state.climb / state.speed)) + 3 + chance.gauss(0, 0.5):.1f}",
        f"{14 + round(chance.gauss(0, 0.7))}",
    ]
    return ",".join(cells)


def log_text() -> str:
    """Return the whole log; every call the same."""
    chance = random.Random(20)  # noqa: S311 - noise, no secret
    state, lost = State(), 0
    lines = [
        "# Example log: invented, written by tools/fly_example.py. Nothing was measured.",
        HEADER,
    ]
    for number in range(int(LASTS / STEP)):
        time = number * STEP
        flown(state, time, chance)
        told = row(state, time, chance)
        if lost == 0 and chance.random() < 0.006:
            lost = chance.randint(3, 20)
        if lost:
            lost -= 1
            continue
        lines.append(told)
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    to = Path(sys.argv[1]) if len(sys.argv) > 1 else FILE
    to.parent.mkdir(exist_ok=True)
    to.write_text(log_text(), encoding="utf-8")
    print(f"{to}: {to.stat().st_size / 1000:.0f} kB")

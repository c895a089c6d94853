"""Ways an aeroplane comes down after the last the log knew, thousands of them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from foamwright.debrief.last_seen import LastSeen
from foamwright.physics.air.atmosphere import GRAVITY
from foamwright.physics.arrays import Grid, Samples

CASES: Mapping[str, tuple[str, float]] = {
    "straight": ("glides straight on", 0.20),
    "turning": ("glides in a turn", 0.25),
    "spiral": ("spirals down", 0.20),
    "dive": ("dives", 0.20),
    "held": ("flies on with the throttle held, then comes down", 0.07),
    "tumble": ("tumbles, stalled or broken", 0.08),
}
"""Words and weight of each way down [-]; common practice, no source."""
LEVEL, STEEP = np.radians(10.0), np.radians(30.0)
"""A path flatter than the first is no dive, one steeper than the second is [rad]."""
UNLOGGED = 1.0
"""What a recorder loses at its end, on the mean [s]; common practice, no source."""
WANDER = np.radians(10.0)
"""One sigma of how fast it turned while nobody saw it [rad s^-1]; common practice, no source."""
STANDING_PROPELLER = (0.75, 1.0)
"""Of the glide ratio, with a propeller that stands, turns or folds; common practice, no source."""
OFF_SPEED = 0.08
"""Scatter of the gliding speed, natural logarithm; common practice, no source."""
NEARLY_STRAIGHT = np.radians(2.0)
"""One sigma of the turn of a straight glide [rad s^-1]; common practice, no source."""
BANKS, TIGHT = (5.0, 40.0), (45.0, 75.0)
"""Banks of a turning glide and of a spiral [deg]; common practice, no source."""
SPIRAL_SINK, TUMBLE_SINK = (5.0, 20.0), (5.0, 14.0)
"""[m s^-1]; common practice, no source."""
HELD_ON, HELD_BANK = 40.0, 15.0
"""How long a held throttle lasts on the mean [s], its bank [deg]; common practice, no source."""
LONGEST_HELD = 300.0
"""[s]."""
WIND_BELOW = (0.6, 1.0)
"""Of the wind up there, on the way down; common practice, no source."""
RELIEF = (2.0, 0.03)
"""How much the ground lies higher or lower: at once [m], and a metre farther off [-]."""
UNKNOWN_HEIGHT = (50.0, 0.6)
"""Height where none was logged [m], scatter of its logarithm; common practice, no source."""
SLIDE = 3.0
"""What it slides or bounces, on the mean [m]; common practice, no source."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Air:
    """The wind as far as it is known."""

    north: float
    """Where the air moves, north part [m s^-1]."""
    east: float
    """East part [m s^-1]."""
    spread: float
    """One sigma of either part [m s^-1]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Glider:
    """How planes like it glide, at any speed."""

    speeds: Grid
    """Airspeeds, evenly spaced (m,) [m s^-1]."""
    ratio: Samples
    """Glide ratio at them, of k planes (k, m) [-]."""
    best: Samples
    """Airspeed of the best glide (k,) [m s^-1]."""

    @property
    def best_ratio(self) -> Samples:
        """Best glide ratio (k,) [-]."""
        return np.asarray(self.ratio.max(axis=1))

    def at(self, which: np.ndarray, speed: Samples) -> Samples:
        """Return the glide ratio of some of the planes, each at a speed of its own (n,)."""
        step = self.speeds[1] - self.speeds[0]
        along = np.clip((speed - self.speeds[0]) / step, 0.0, self.speeds.size - 1 - 1e-9)
        below = along.astype(int)
        share = along - below
        low, high = self.ratio[which, below], self.ratio[which, below + 1]
        return np.asarray(low + share * (high - low))


def parabolic(ratio: Samples, speed: Samples) -> Glider:
    """Return planes of a best glide ratio at a speed (k,), drag a parabola over lift.

    Source: own-derivation
    """
    speeds = np.linspace(0.5 * float(speed.min()), 3.0 * float(speed.max()), 200)
    over = speeds / speed[:, None]
    return Glider(speeds=speeds, ratio=2.0 * ratio[:, None] / (over**2 + over**-2), best=speed)


@dataclass(frozen=True, kw_only=True, slots=True)
class Places:
    """Where it may lie, north and east of the last fix."""

    north: Samples
    """(n,) [m]."""
    east: Samples
    """(n,) [m]."""
    case: np.ndarray
    """Key of `CASES` each came down by (n,)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Start:
    """The aeroplane when nobody flew it any more, one value a sample (n,)."""

    north: Samples
    """[m]."""
    east: Samples
    """[m]."""
    height: Samples
    """Above the ground below [m]."""
    speed: Samples
    """Through the air [m s^-1]."""
    heading: Samples
    """Through the air, clockwise from north [rad]."""
    wind: tuple[Samples, Samples]
    """North and east part on the way down [m s^-1]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Descent:
    """A way down, one value a sample (n,)."""

    time: Samples
    """[s]."""
    distance: Samples
    """Through the air, along the path seen from above [m]."""
    turn: Samples
    """Clockwise [rad s^-1]."""


def weights(seen: LastSeen) -> dict[str, float]:
    """Return how likely each way down is: who dived already is not taken to glide."""
    steep = steepness(seen)
    change = {
        "straight": 1.0 - 0.9 * steep,
        "turning": 1.0 - 0.7 * steep,
        "held": 1.0 - 0.7 * steep,
        "dive": 1.0 + 2.0 * steep,
        "spiral": 1.0 + steep,
    }
    raw = {name: weight * change.get(name, 1.0) for name, (_, weight) in CASES.items()}
    return {name: weight / sum(raw.values()) for name, weight in raw.items()}


def path_angle(seen: LastSeen) -> float:
    """Return how steeply it went down at the end [rad]; 0 where that is not known or it climbed."""
    if seen.climb is None or seen.speed is None:
        return 0.0
    return float(np.arctan2(max(-seen.climb, 0.0), max(seen.speed, 1.0)))


def steepness(seen: LastSeen) -> float:
    """Return how much of a dive the end was, 0 to 1."""
    return float(np.clip((path_angle(seen) - LEVEL) / (STEEP - LEVEL), 0.0, 1.0))


def along(speed: Samples, heading: Samples, turn: Samples, time: Samples) -> tuple[Samples, ...]:
    """Return how far north and east a steady turn leads, and the heading at its end (n,)."""
    half = 0.5 * turn * time
    chord = speed * time * np.sinc(half / np.pi)
    return chord * np.cos(heading + half), chord * np.sin(heading + half), heading + 2.0 * half


def start_of(
    seen: LastSeen, air: Air, glider: Glider, draw: np.random.Generator, *, n: int
) -> Start:
    """Return the aeroplane when it came to fall (n,): last fix, wind and what nobody saw since."""
    wind_north = air.north + air.spread * draw.normal(size=n)
    wind_east = air.east + air.spread * draw.normal(size=n)
    if seen.north is None or seen.east is None:
        speed = draw.choice(glider.best, n) * draw.uniform(1.0, 1.6, n)
        heading = draw.uniform(0.0, 2.0 * np.pi, n)
    else:
        north, east = seen.north - wind_north, seen.east - wind_east
        speed, heading = np.hypot(north, east), np.arctan2(east, north)
    unseen = seen.stale + draw.exponential(UNLOGGED, n)
    turn = seen.turn * draw.uniform(0.0, 1.2, n) + WANDER * draw.normal(size=n)
    north, east, heading = along(speed, heading, turn, unseen)
    north, east = north + wind_north * unseen, east + wind_east * unseen
    share = draw.uniform(*WIND_BELOW, n)
    return Start(
        north=north + seen.fix_spread * draw.normal(size=n),
        east=east + seen.fix_spread * draw.normal(size=n),
        height=height_of(seen, np.hypot(north, east), draw),
        speed=speed,
        heading=heading,
        wind=(share * wind_north, share * wind_east),
    )


def height_of(seen: LastSeen, away: Samples, draw: np.random.Generator) -> Samples:
    """Return the height to fall from (n,) [m], never less than a plane's own."""
    n = away.size
    if seen.height is None:
        middle, scatter = UNKNOWN_HEIGHT
        return np.asarray(middle * np.exp(scatter * draw.normal(size=n)))
    relief = np.hypot(RELIEF[0], RELIEF[1] * away) * draw.normal(size=n)
    told = seen.height + seen.height_spread * draw.normal(size=n)
    return np.maximum(told - relief, 0.3)


def side(seen: LastSeen, draw: np.random.Generator, n: int) -> Samples:
    """Return to which side it turns (n,): mostly to the side it was turning to."""
    kept = 0.5 + 0.3 * np.tanh(seen.turn / np.radians(10.0))
    return np.where(draw.random(n) < kept, 1.0, -1.0)


def gliding(
    start: Start, glider: Glider, draw: np.random.Generator, *, bank: Samples, turn: Samples | None
) -> Descent:
    """Return a glide with a bank to one side [rad] (n,), or with a turn of its own [rad s^-1].

    Its speed lies between that of the best glide and that it was trimmed for. In a turn the wing
    carries more: the ratio is that of the flight with the same lift coefficient, less by the bank.
    """
    n = start.speed.size
    which = draw.integers(0, glider.best.size, n)
    best, trimmed = glider.best[which], np.maximum(start.speed, glider.best[which])
    level = best + draw.random(n) * (trimmed - best)
    level = level * np.exp(OFF_SPEED * draw.normal(size=n))
    speed = level / np.sqrt(np.cos(bank))
    ratio = glider.at(which, level) * draw.uniform(*STANDING_PROPELLER, n) * np.cos(bank)
    # Speed is height: what is faster than the glide lengthens it, what is slower shortens it.
    height = start.height + (start.speed**2 - speed**2) / (2.0 * GRAVITY)
    distance = np.maximum(height, 0.3 * start.height) * ratio
    rate = GRAVITY * np.tan(bank) / speed if turn is None else turn
    return Descent(time=distance / speed, distance=distance, turn=rate)


def spiralling(start: Start, draw: np.random.Generator, sides: Samples) -> Descent:
    """Return a tight spiral: it goes down nearly where it began, drifting with the wind."""
    n = start.speed.size
    bank = np.radians(draw.uniform(*TIGHT, n))
    time = start.height / draw.uniform(*SPIRAL_SINK, n)
    speed = np.maximum(start.speed, 5.0)
    return Descent(time=time, distance=speed * time, turn=sides * GRAVITY * np.tan(bank) / speed)


def diving(start: Start, draw: np.random.Generator, angle: float) -> Descent:
    """Return a dive: at the angle it was seen in, else at any."""
    n = start.speed.size
    any_angle = draw.uniform(25.0, 88.0, n)
    own = np.degrees(angle) + 12.0 * draw.normal(size=n)
    steep = np.radians(np.clip(own if angle > LEVEL else any_angle, 12.0, 88.0))
    speed = np.maximum(start.speed, 5.0) + np.sqrt(GRAVITY * start.height) * 0.5
    distance = start.height / np.tan(steep)
    return Descent(
        time=start.height / (speed * np.sin(steep)),
        distance=distance,
        turn=np.zeros(n),
    )


def tumbling(start: Start, draw: np.random.Generator) -> Descent:
    """Return a fall with square drag: the speed ahead dies out, the wind carries it."""
    n = start.speed.size
    last = draw.uniform(*TUMBLE_SINK, n)
    length = last**2 / GRAVITY
    drop = start.height / length
    # arccosh(exp(drop)), which does not overflow.
    time = last / GRAVITY * (drop + np.log1p(np.sqrt(-np.expm1(-2.0 * drop))))
    return Descent(
        time=time, distance=length * np.log1p(start.speed * time / length), turn=np.zeros(n)
    )


def landed(start: Start, way: Descent, draw: np.random.Generator) -> tuple[Samples, Samples]:
    """Return where a way down ends, north and east (n,) [m]."""
    speed = way.distance / np.maximum(way.time, 1e-6)
    north, east, heading = along(speed, start.heading, way.turn, way.time)
    slide = draw.exponential(SLIDE, start.speed.size)
    return (
        start.north + north + start.wind[0] * way.time + slide * np.cos(heading),
        start.east + east + start.wind[1] * way.time + slide * np.sin(heading),
    )


def held_on(start: Start, draw: np.random.Generator) -> Start:
    """Return where a held throttle leads before it comes down."""
    n = start.speed.size
    time = np.minimum(draw.exponential(HELD_ON, n), LONGEST_HELD)
    bank = np.radians(np.clip(HELD_BANK * draw.normal(size=n), -50.0, 50.0))
    speed = np.maximum(start.speed, 5.0)
    north, east, heading = along(speed, start.heading, GRAVITY * np.tan(bank) / speed, time)
    return Start(
        north=start.north + north + start.wind[0] * time,
        east=start.east + east + start.wind[1] * time,
        height=start.height,
        speed=start.speed,
        heading=heading,
        wind=start.wind,
    )


def fall(
    seen: LastSeen, air: Air, glider: Glider, draw: np.random.Generator, *, count: int = 4000
) -> Places:
    """Return where an aeroplane that was last seen in the air may have come down."""
    names, shares = zip(*weights(seen).items(), strict=True)
    start = start_of(seen, air, glider, draw, n=count)
    far = held_on(start, draw)
    sides = side(seen, draw, count)
    flat = np.zeros(count)
    bank = np.radians(draw.uniform(*BANKS, count))
    curved = gliding(start, glider, draw, bank=bank, turn=None)
    straight = gliding(
        start, glider, draw, bank=flat, turn=NEARLY_STRAIGHT * draw.normal(size=count)
    )
    curved = Descent(time=curved.time, distance=curved.distance, turn=sides * curved.turn)
    ends = {
        "straight": landed(start, straight, draw),
        "turning": landed(start, curved, draw),
        "spiral": landed(start, spiralling(start, draw, sides), draw),
        "dive": landed(start, diving(start, draw, path_angle(seen)), draw),
        "held": landed(far, diving(far, draw, 0.0), draw),
        "tumble": landed(start, tumbling(start, draw), draw),
    }
    case = draw.choice(np.array(names), size=count, p=np.array(shares))
    chosen = [case == name for name in names]
    return Places(
        north=np.select(chosen, [ends[name][0] for name in names]),
        east=np.select(chosen, [ends[name][1] for name in names]),
        case=case,
    )

"""Planes that are lost: a point mass with its own forces, independent of what searches for it."""

from dataclasses import dataclass

import numpy as np

from foamwright.debrief.geodesy import Spot, offset
from foamwright.debrief.recording import Recording

GRAVITY, DENSITY = 9.80665, 1.225
STEP = 0.05
HOME = Spot(latitude=47.31, longitude=8.52)
CAUSES = ("straight", "turn", "spiral", "dive", "tumble", "held")
SHARES = (0.2, 0.2, 0.2, 0.2, 0.1, 0.1)
"""How often each happens here; invented."""


@dataclass(frozen=True, kw_only=True)
class Lost:
    """A loss: the log that is left, and where the plane truly lies."""

    recording: Recording
    cause: str
    true: Spot
    glide_ratio: float
    wind: tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class Body:
    """A plane as a point: wing loading by its stall, a polar by its glide ratio."""

    mass: float
    area: float
    best: float
    """Best glide ratio."""

    @property
    def drag0(self) -> float:
        """Zero-lift drag coefficient of a polar with induced factor 0.07."""
        return float(1.0 / (4.0 * self.best**2 * 0.07))

    @property
    def best_lift(self) -> float:
        """Lift coefficient of the best glide."""
        return float(np.sqrt(self.drag0 / 0.07))


def forces(
    body: Body, cause: str, speed: float, *, since: float, trimmed: float
) -> tuple[float, float]:
    """Return lift and drag over mass [m s^-2] in the way a plane falls, elevator left alone."""
    per = 0.5 * DENSITY * speed**2 * body.area / body.mass
    if cause == "tumble":
        return 0.0, per * 0.9
    lift = trimmed
    if cause == "dive":
        lift *= max(0.02, 0.6 - 0.3 * since)
    if cause == "spiral":
        lift = min(1.0, 1.1 * lift)
    return per * lift, per * (body.drag0 + 0.07 * lift**2)


def fall_down(
    body: Body,
    cause: str,
    state: np.ndarray,
    *,
    wind: tuple[float, float],
    random: np.random.Generator,
) -> np.ndarray:
    """Return the path (k, 4) time, north, east, height from a state until the ground.

    The state is north, east, height, airspeed, path angle, heading, bank.
    """
    north, east, height, speed, climb, heading, bank = (float(value) for value in state)
    roll_rate = {"spiral": 0.35, "held": 0.02}.get(cause, 0.0) * random.choice([-1.0, 1.0])
    wanted = {
        "straight": np.radians(random.normal(0.0, 2.0)),
        "turn": np.radians(random.uniform(8.0, 40.0)) * random.choice([-1.0, 1.0]),
        "held": np.radians(random.normal(0.0, 12.0)),
    }.get(cause, bank)
    held = random.uniform(5.0, 60.0) if cause == "held" else 0.0
    gust, path, time = np.zeros(2), [], 0.0
    # The elevator stays where it was; some have flown fast with it held down, and let it go.
    trimmed = 2.0 * body.mass * GRAVITY / (DENSITY * body.area * speed**2)
    trimmed = min(trimmed * random.uniform(0.9, 1.6), body.best_lift)
    while height > 0.0 and time < 400.0:
        path.append((time, north, east, height))
        gust = 0.98 * gust + 0.2 * random.normal(size=2) * 0.15 * np.hypot(*wind)
        if time < held:
            climb, bank = 0.0, bank + (wanted - bank) * STEP
            heading += STEP * GRAVITY * np.tan(bank) / speed
        else:
            lift, drag = forces(body, cause, speed, since=time, trimmed=trimmed)
            if cause == "spiral":
                bank = float(np.clip(bank + STEP * roll_rate * (1.0 + abs(bank)), -1.25, 1.25))
            else:
                bank += (wanted - bank) * STEP * 1.5
            # Damped as a tail does it, or the path would loop for ever.
            damping = 0.9 * climb if cause in {"straight", "turn", "held"} else 0.0
            rate = (lift * np.cos(bank) - GRAVITY * np.cos(climb)) / max(speed, 3.0)
            turned = lift * np.sin(bank) / (max(speed, 3.0) * max(np.cos(climb), 0.1))
            speed = max(speed + STEP * (-drag - GRAVITY * np.sin(climb)), 1.0)
            climb = float(np.clip(climb + STEP * (rate - 0.5 * damping), -1.53, 0.7))
            heading += STEP * turned
        flat = speed * np.cos(climb)
        shear = (max(height, 1.0) / 60.0) ** 0.15
        north += STEP * (flat * np.cos(heading) + shear * wind[0] + gust[0])
        east += STEP * (flat * np.sin(heading) + shear * wind[1] + gust[1])
        height += STEP * speed * np.sin(climb)
        time += STEP
    path.append((time, north, east, height))
    return np.array(path)


def flown(
    speed: float, height: float, wind: tuple[float, float], random: np.random.Generator
) -> tuple[np.ndarray, ...]:
    """Return a flight before the loss: waiting on the ground, then climbing circles and a leg."""
    time = np.arange(0.0, random.uniform(60.0, 110.0), STEP)
    airborne = np.clip(time - 3.0, 0.0, None)
    leg = time > time[-1] - random.uniform(4.0, 20.0)
    turn = np.where(leg, random.normal(0.0, 0.05), random.choice([-1.0, 1.0]) * 0.3)
    heading = np.cumsum(turn * STEP) + random.uniform(0.0, 2.0 * np.pi)
    moving = airborne > 0.0
    v_north = np.where(moving, speed * np.cos(heading) + wind[0], 0.0)
    v_east = np.where(moving, speed * np.sin(heading) + wind[1], 0.0)
    up = height * np.clip(airborne / 30.0, 0.0, 1.0)
    return time, np.cumsum(v_north) * STEP, np.cumsum(v_east) * STEP, up, heading


def lose(seed: int, cause: str | None = None) -> Lost:
    """Return a loss of a plane, of a cause or of any."""
    random = np.random.default_rng(seed)
    cause = cause or str(random.choice(CAUSES, p=SHARES))
    strength, towards = 7.0 * random.beta(2.0, 3.0), random.uniform(0.0, 2.0 * np.pi)
    wind = (float(strength * np.cos(towards)), float(strength * np.sin(towards)))
    body = Body(mass=0.6, area=0.12, best=float(random.normal(8.0, 1.2)))
    speed, height = random.uniform(12.0, 20.0), random.uniform(25.0, 110.0)
    time, north, east, up, heading = flown(speed, height, wind, random)
    state = np.array([north[-1], east[-1], up[-1], speed, 0.0, heading[-1], 0.0])
    fall = fall_down(body, cause, state, wind=wind, random=random)
    seen = fall[fall[:, 0] < random.choice([0.0, 1.0]) * random.uniform(0.2, 2.5)]
    seen = seen[seen[:, 3] > 3.0]
    path = np.concatenate([np.column_stack((time, north, east, up)), seen + [time[-1], 0, 0, 0]])
    drift = random.normal(0.0, 2.5, 2)
    return Lost(
        recording=recorded(path[::4], random, drift),
        cause=cause,
        true=offset(HOME, float(fall[-1, 1]), float(fall[-1, 2])),
        glide_ratio=body.best,
        wind=wind,
    )


def recorded(path: np.ndarray, random: np.random.Generator, drift: np.ndarray) -> Recording:
    """Return a path (k, 4) as a receiver and a pressure sensor at 5 Hz have it."""
    time, north, east, up = path.T
    velocity = [
        np.gradient(axis, time) + random.normal(0.0, 0.15, time.size) for axis in (north, east)
    ]
    spots = [
        offset(HOME, float(n), float(e))
        for n, e in zip(north + drift[0], east + drift[1], strict=True)
    ]
    height = 412.0 + up + np.linspace(0.0, random.normal(0.0, 2.0), time.size)
    return Recording(
        time=time - time[0],
        channels={
            "latitude": np.radians([spot.latitude for spot in spots]),
            "longitude": np.radians([spot.longitude for spot in spots]),
            "ground_speed": np.hypot(*velocity),
            "course": np.arctan2(velocity[1], velocity[0]) % (2.0 * np.pi),
            "height": height + random.normal(0.0, 0.3, time.size),
        },
        step=0.2,
    )

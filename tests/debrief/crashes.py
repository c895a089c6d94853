"""Flights that end badly, each in a way of its own: the simulator's flights with an end added."""

from collections.abc import Callable

import numpy as np
from tests.debrief.simulator import GRAVITY, Plan, fly

from foamwright.debrief.recording import Recording

RATE = 10.0
NORMAL = 80
"""Seconds of flight before the end."""
Channels = dict[str, np.ndarray]
WIND = (3.0, -2.0)


def normal(seed: int) -> tuple[Channels, np.random.Generator]:
    """Return the channels of a flight at usual speeds with nothing amiss: circles and dashes."""
    random = np.random.default_rng(1000 + seed)
    throttle = np.clip(0.7 + 0.12 * random.normal(size=NORMAL), 0.45, 0.95)
    bank = np.where(np.arange(NORMAL) % 30 < 22, 1.0, -1.0) * np.arctan(0.4)
    recording = fly(Plan(throttle=throttle, bank=bank, wind=WIND, seed=seed, rate=RATE))
    found = {"time": recording.time, **recording.channels}
    rows = recording.time.size
    roll = np.repeat(bank, int(RATE))[:rows] + np.cumsum(random.normal(0.0, 0.01, rows)) * 0.2
    found["roll"] = roll + random.normal(0.0, 0.03, rows)
    found["roll_rate"] = np.radians(12.0) * random.normal(size=rows)
    found["pitch_rate"] = np.radians(8.0) * random.normal(size=rows)
    found["up_acceleration"] = GRAVITY * (1.1 + 0.12 * random.normal(size=rows))
    found["link_quality"] = np.clip(0.97 + 0.02 * random.normal(size=rows), 0.0, 1.0)
    found["signal_strength"] = -70.0 + 2.0 * random.normal(size=rows)
    return found, random


def ending(found: Channels, seconds: float, ground: float) -> Channels:
    """Return the last values of a flight held on for some seconds, to be changed."""
    rows = round(seconds * RATE)
    held = {name: np.full(rows, values[-20:].mean()) for name, values in found.items()}
    held["time"] = found["time"][-1] + (1.0 + np.arange(rows)) / RATE
    held["height"] = np.linspace(found["height"][-1], ground, rows)
    air = 15.5 * np.ones(rows)
    held["airspeed"] = air
    held["heading"] = np.full(rows, 2.4)
    return held


def from_the_ground(found: Channels) -> Channels:
    """Return a flight that waits five seconds on the ground and climbs for fifteen."""
    waiting = 50
    height = found["height"] * np.clip((found["time"] - found["time"][0]) / 15.0, 0.0, 1.0)
    held = {name: np.full(waiting, values[0]) for name, values in found.items()}
    held |= {
        "time": found["time"][0] - np.arange(waiting, 0, -1) / RATE,
        "ground_speed": np.full(waiting, 0.1),
        "height": np.zeros(waiting),
        "throttle": np.zeros(waiting),
        "current": np.full(waiting, 0.3),
    }
    return {
        name: np.concatenate((held[name], height if name == "height" else values))
        for name, values in found.items()
    }


def finish(
    found: Channels, end: Channels, *, strikes: bool, random: np.random.Generator
) -> Recording:
    """Return flight and end as a recording; after a blow it lies there for three seconds."""
    found = from_the_ground(found)
    rows = end["time"].size
    north = end["airspeed"] * np.cos(end["heading"]) + WIND[0] + 0.4 * random.normal(size=rows)
    east = end["airspeed"] * np.sin(end["heading"]) + WIND[1] + 0.4 * random.normal(size=rows)
    end = {
        **end,
        "ground_speed": np.hypot(north, east),
        "course": np.arctan2(east, north) % 6.28318,
    }
    parts = [found, {name: end[name] for name in found}]
    if strikes:
        lying = 30
        still = {name: np.full(lying, values[-1]) for name, values in parts[1].items()}
        still |= {
            "time": end["time"][-1] + (1.0 + np.arange(lying)) / RATE,
            "ground_speed": np.full(lying, 0.1),
            "throttle": np.zeros(lying),
            "current": np.full(lying, 0.3),
            "roll_rate": np.zeros(lying),
        }
        parts.append(still)
    whole = {name: np.concatenate([part[name] for part in parts]) for name in found}
    noise = random.normal(0.0, 0.2, whole["time"].size)
    return Recording(
        time=whole.pop("time"),
        channels={**whole, "height": whole["height"] + noise},
        step=1.0 / RATE,
    )


def brown_out(seed: int) -> Recording:
    """The pack collapses under the throttle; the recorder stops with it, in the air."""
    found, random = normal(seed)
    end = ending(found, 2.0, found["height"][-1] - 6.0)
    end["voltage"] = np.linspace(10.5, random.uniform(5.5, 7.0), end["time"].size)
    end["throttle"][:] = 0.9
    end["current"][:] = 18.0
    return finish(found, end, strikes=False, random=random)


def motor_stop(seed: int) -> Recording:
    """The throttle stays up, the motor takes nothing; it glides down and hits short of home."""
    found, random = normal(seed)
    end = ending(found, 9.0, 0.0)
    found["height"] = found["height"] - found["height"][-1] + 24.0
    end["height"] = np.linspace(24.0, 0.0, end["time"].size)
    end["current"] = np.abs(random.normal(0.3, 0.05, end["time"].size))
    end["airspeed"] = np.linspace(15.0, random.uniform(11.5, 13.0), end["time"].size)
    end["throttle"][:] = 0.75
    return finish(found, end, strikes=True, random=random)


def stall(seed: int) -> Recording:
    """The speed bleeds away, a wing drops, it goes down nose first."""
    found, random = normal(seed)
    end = ending(found, 7.0, 0.0)
    share = np.linspace(0.0, 1.0, end["time"].size)
    falling = share > 0.6
    top = 30.0
    found["height"] = found["height"] - found["height"][-1] + top
    end["height"] = np.where(falling, top * (1.0 - (share - 0.6) / 0.4), top)
    end["airspeed"] = np.where(falling, 7.0 + 14.0 * (share - 0.6), 15.0 - 14.0 * share)
    side = random.choice([-1.0, 1.0])
    end["roll"] = end["roll"] + side * np.where(falling, 9.0 * (share - 0.6), 0.0)
    end["roll_rate"] = np.where(falling, side * 3.2, 0.0) + 0.2 * random.normal(size=share.size)
    return finish(found, end, strikes=True, random=random)


def overload(seed: int) -> Recording:
    """A long dive, a hard pull, and the wing goes."""
    found, random = normal(seed)
    end = ending(found, 6.0, 0.0)
    share = np.linspace(0.0, 1.0, end["time"].size)
    top = 90.0
    found["height"] = found["height"] - found["height"][-1] + top
    end["height"] = top * (1.0 - share**1.3)
    end["airspeed"] = 15.5 + random.uniform(13.0, 18.0) * share
    end["up_acceleration"] = np.where(
        (share > 0.6) & (share < 0.75), random.uniform(60.0, 90.0), 8.0
    )
    gone = share > 0.75
    end["roll"] = end["roll"] + np.where(gone, 30.0 * (share - 0.75), 0.0)
    end["throttle"][:] = 0.9
    end["current"][:] = 17.0
    return finish(found, end, strikes=True, random=random)


def link(seed: int) -> Recording:
    """The link goes, the throttle is cut, it comes down in a wide turn."""
    found, random = normal(seed)
    end = ending(found, 8.0, 0.0)
    top = 40.0
    found["height"] = found["height"] - found["height"][-1] + top
    end["height"] = np.linspace(top, 0.0, end["time"].size)
    end["link_quality"] = np.clip(random.normal(0.03, 0.03, end["time"].size), 0.0, 1.0)
    end["signal_strength"] = -92.0 + 2.0 * random.normal(size=end["time"].size)
    gone = np.arange(end["time"].size) > 10
    end["throttle"] = np.where(gone, 0.0, 0.7)
    end["current"] = np.where(gone, 0.3, 9.0)
    end["airspeed"] = np.linspace(15.0, 13.5, end["time"].size)
    return finish(found, end, strikes=True, random=random)


def wobble(seed: int) -> Recording:
    """It begins to swing in roll, ever more, and is gone."""
    found, random = normal(seed)
    end = ending(found, 7.0, 0.0)
    since = end["time"] - end["time"][0]
    top = 45.0
    found["height"] = found["height"] - found["height"][-1] + top
    end["height"] = np.where(since < 3.0, top, np.linspace(top * 1.7, 0.0, since.size))
    size = 1.2 * np.exp(0.3 * np.minimum(since, 5.0))
    turns = random.uniform(1.6, 2.4)
    end["roll_rate"] = size * np.sin(2.0 * np.pi * turns * since)
    end["roll"] = end["roll"] - size / (2.0 * np.pi * turns) * np.cos(2.0 * np.pi * turns * since)
    end["airspeed"] = 16.0 + 0.3 * since
    return finish(found, end, strikes=True, random=random)


def flown(seed: int) -> Recording:
    """Nothing is amiss: it is flown down at its usual speed until there is ground."""
    found, random = normal(seed)
    end = ending(found, 9.0, 0.0)
    top = random.uniform(22.0, 32.0)
    found["height"] = found["height"] - found["height"][-1] + top
    end["height"] = np.linspace(top, 0.0, end["time"].size)
    end["airspeed"] = 15.5 + 0.3 * random.normal(size=end["time"].size)
    end["roll"] = np.radians(15.0) + 0.05 * random.normal(size=end["time"].size)
    return finish(found, end, strikes=True, random=random)


def downwind(seed: int) -> Recording:
    """A low turn out of the wind; the airspeed does not come along, and it mushes in."""
    found, random = normal(seed)
    end = ending(found, 8.0, 0.0)
    share = np.linspace(0.0, 1.0, end["time"].size)
    top = 14.0
    found["height"] = found["height"] - found["height"][-1] + top
    end["height"] = top * (1.0 - share)
    against = float(np.arctan2(-WIND[1], -WIND[0]))
    end["heading"] = against + np.pi * np.clip(1.6 * share - 0.2, 0.0, 1.0)
    end["airspeed"] = np.linspace(15.5, random.uniform(11.8, 12.8), end["time"].size)
    end["roll"] = np.radians(30.0) + 0.05 * random.normal(size=end["time"].size)
    return finish(found, end, strikes=True, random=random)


KINDS: dict[str, Callable[[int], Recording]] = {
    "power": brown_out,
    "motor": motor_stop,
    "stall": stall,
    "overload": overload,
    "link": link,
    "wobble": wobble,
    "flown": flown,
    "wind": downwind,
}
"""By the name of their cause."""


def unharmed(seed: int) -> Recording:
    """Return a flight whose log stops in the air with nothing amiss."""
    found, random = normal(seed)
    end = ending(found, 3.0, found["height"][-1])
    return finish(found, end, strikes=False, random=random)


def soft_landing(seed: int) -> Recording:
    """Return a flight that comes down slowly with the motor off, and slides to a stop."""
    found, random = normal(seed)
    end = ending(found, 14.0, 0.0)
    share = np.linspace(0.0, 1.0, end["time"].size)
    found["height"] = found["height"] - found["height"][-1] + 22.0
    end["height"] = 22.0 * np.clip(1.0 - share / 0.8, 0.0, 1.0)
    end["throttle"] = np.where(share > 0.2, 0.0, 0.6)
    end["current"] = np.where(share > 0.2, 0.3, 8.0)
    end["heading"][:] = np.arctan2(-WIND[1], -WIND[0])
    strength = float(np.hypot(*WIND))
    sliding = np.clip((1.0 - share) / 0.2, 0.0, 1.0)
    end["airspeed"] = np.where(share > 0.8, strength + 6.5 * sliding, 15.0 - 5.0 * share)
    whole = finish(found, end, strikes=True, random=random)
    lying = whole.time > whole.time[-1] - 3.05
    speed = np.where(lying, 0.1, whole.channels["ground_speed"])
    return Recording(
        time=whole.time, channels={**whole.channels, "ground_speed": speed}, step=whole.step
    )

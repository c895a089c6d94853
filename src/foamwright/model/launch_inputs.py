"""The throw as it is drawn for each sample: hand, wind, rubber; what nobody wrote is assumed."""

from dataclasses import dataclass

import numpy as np

from foamwright.model.ensemble import Draws
from foamwright.physics.arrays import Samples
from foamwright.physics.flight.bungee import Bungee, Drawn, drawn_off
from foamwright.plane.plane import Plane
from foamwright.quantity import Quantity

DEGREE = float(np.pi / 180.0)

SPEED = (8.0, 1.0)
"""Of a firm overhand throw of 0.2 to 0.4 kg, and spread between throws [m s^-1]; common practice:
no published measurement of thrown model planes is known; elite handball players reach 19 to
21 m/s with a ball of that mass."""

ANGLE = (10.0 * DEGREE, 4.0 * DEGREE)
"""Of the path, and spread [rad]; common practice."""

HEIGHT = (1.8, 0.1)
"""Of the hand [m]."""

DELAY = (0.3, 0.1)
"""Of a motor that is started after the release, and spread [s]; common practice."""

RAMP = (0.2, 0.05)
"""Of a speed controller as it comes, and spread [s]; common practice."""

CALM = 0.5
"""Spread of a wind nobody wrote [m s^-1]."""

GUST = (0.3, 0.2)
"""Gust across and upwards in still air [m s^-1], and what it gains with wind [-]; common
practice."""

UNEVEN = {
    "incidence": (3.0 * DEGREE, "nose against the path at the release"),
    "bank": (5.0 * DEGREE, "bank at the release"),
    "sideslip": (3.0 * DEGREE, "nose beside the path at the release"),
    "roll_rate": (20.0 * DEGREE, "roll given by the hand"),
    "pitch_rate": (15.0 * DEGREE, "pitch given by the hand"),
    "yaw_rate": (15.0 * DEGREE, "yaw given by the hand"),
}
"""Spread of what should be nothing [rad, rad s^-1], and its words; common practice."""

TRIM_SPREAD = 1.0 * DEGREE
"""How well a pitch control is set by eye before the first flight [rad]; common practice."""

RETURNED = (0.78, 0.04)
"""Share of the work that latex gives back, and spread; common practice, 70 to 85 %."""

HOOK = (0.05, 0.03)
"""How far a hook nobody placed sits ahead of and below the centre of gravity [m]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class LaunchInputs:
    """All (n,)."""

    speed: Samples
    """Of the hand [m s^-1]."""
    angle: Samples
    """Of the path as written [rad]."""
    angle_error: Samples
    """How far a throw misses the angle wanted [rad]."""
    height: Samples
    """[m]."""
    delay: Samples
    """[s]."""
    ramp: Samples
    """[s]."""
    head_wind: Samples
    """[m s^-1]."""
    cross_gust: Samples
    """[m s^-1]."""
    down_gust: Samples
    """[m s^-1]."""
    uneven: dict[str, Samples]
    """What should be nothing, by the names of `UNEVEN`."""
    trim_error: Samples
    """[rad]."""
    up_trim: float
    """Trailing edge up [rad]."""
    bungee: Bungee | None
    """The rubber; none where a hand throws."""
    hook_limit: Samples | None
    """What the hook bears [N]; none where nobody tested it."""
    assumed: tuple[str, ...]
    """What was assumed."""


class _Reader:
    """Draws a written quantity or the usual one, and remembers what it assumed."""

    def __init__(self, draws: Draws) -> None:
        self.draws, self.assumed = draws, list[str]()

    def drawn(
        self,
        names: tuple[str, str],
        quantity: Quantity | None,
        usual: tuple[float, float],
        say: str = "",
    ) -> Samples:
        """Return draws around what is written, or around the usual value, saying so.

        `names` are key and label of the input.
        """
        if quantity is None:
            if say:
                self.assumed.append(say)
            centre, spread = usual
        else:
            centre = quantity.value
            spread = usual[1] if quantity.spread is None else quantity.spread
        # Always drawn and always normal: a throw nobody wrote keeps its luck when it is written.
        return centre + spread * self.draws.normal(*names)


def is_pusher(plane: Plane, centre: Samples) -> bool:
    """Return whether the motor sits behind the centre of gravity: near the thrower's hand."""
    motor = next((item for item in plane.items if item.kind == "motor"), None)
    return motor is not None and motor.at is not None and motor.at.x.value > float(np.mean(centre))


def delay_of(plane: Plane, centre: Samples, reader: _Reader) -> Samples:
    """Return when the motor starts: after the release behind the hand, else it runs already."""
    written = plane.thrower.delay
    if written is not None or is_pusher(plane, centre):
        say = "motor 0.3 ± 0.1 s after the release: the propeller passes the hand"
        found = reader.drawn(("thrower.delay", "start of the motor"), written, DELAY, say)
        running = written is not None and written.value == 0.0
        return np.zeros_like(found) if running else np.maximum(found, 0.02)
    reader.draws.normal("thrower.delay", "start of the motor")
    if any(item.kind == "motor" for item in plane.items):
        reader.assumed.append("motor runs in the hand when the plane is released")
    return np.zeros(reader.draws.samples)


def bungee_of(plane: Plane, centre: Samples, angle: Samples, reader: _Reader) -> Bungee | None:
    """Return the rubber drawn for each sample; none where there is none."""
    line = plane.bungee
    if line is None:
        return None

    def near(key: str, label: str, quantity: Quantity, share: float) -> Samples:
        usual = (quantity.value, share * quantity.value)
        return reader.drawn((f"bungee.{key}", label), quantity, usual)

    slope = angle
    if line.slope is not None:
        usual = (line.slope.value, 2.0 * DEGREE)
        slope = reader.drawn(("bungee.slope", "path on the rubber"), line.slope, usual)
    ahead, below = (np.full(angle.shape, value) for value in HOOK)
    if line.hook is None:
        reader.assumed.append("hook 50 mm ahead of and 30 mm below the balance point")
    else:
        ahead = centre[:, 0] - line.hook.x.value
        below = centre[:, 2] - (0.0 if line.hook.z is None else line.hook.z.value)
    return Bungee(
        length=np.maximum(near("length", "length of the rubber", line.length, 0.02), 0.01),
        stretch=np.maximum(near("stretch", "stretch of the rubber", line.stretch, 0.03), 0.01),
        pull=np.maximum(near("pull", "pull of the rubber", line.pull, 0.05), 0.1),
        returned=np.clip(
            reader.drawn(
                ("bungee.returned", "what the rubber gives back"),
                line.returned,
                RETURNED,
                "rubber gives back 78 ± 4 % of the work",
            ),
            0.05,
            1.0,
        ),
        slope=slope,
        hook_ahead=ahead,
        hook_below=below,
    )


def launch_inputs(plane: Plane, centre: Samples, draws: Draws) -> LaunchInputs:
    """Return the throw drawn for each sample; `centre` (n, 3) [m] is the centre of gravity."""
    reader, thrower = _Reader(draws), plane.thrower
    spread = ANGLE[1]
    if thrower.angle is not None and thrower.angle.spread is not None:
        spread = thrower.angle.spread
    error = spread * draws.normal("thrower.angle", "throwing angle")
    speed = reader.drawn(
        ("thrower.speed", "throwing speed"), thrower.speed, SPEED, "thrown at 8 ± 1 m/s"
    )
    height = reader.drawn(
        ("thrower.height", "height of the hand"), thrower.height, HEIGHT, "hand 1.8 m up"
    )
    delay = delay_of(plane, centre[:, 0], reader)
    ramp = reader.drawn(
        ("thrower.ramp", "ramp of the speed controller"),
        thrower.ramp,
        RAMP,
        "full power 0.2 ± 0.05 s after the motor's start",
    )
    wind = reader.drawn(
        ("site.wind", "wind"), plane.site.wind, (0.0, CALM), "still air, thrown into what wind is"
    )
    gust = GUST[0] + GUST[1] * np.abs(wind)
    uneven = {
        name: size * draws.normal(f"throw.{name}", words) for name, (size, words) in UNEVEN.items()
    }
    angle = error + (ANGLE[0] if thrower.angle is None else thrower.angle.value)
    line = plane.bungee
    return LaunchInputs(
        speed=np.maximum(speed, 0.1),
        angle=angle,
        angle_error=error,
        height=np.maximum(height, 0.05),
        delay=delay,
        ramp=np.maximum(ramp, 0.0),
        head_wind=wind,
        cross_gust=gust * draws.normal("throw.cross_gust", "gust from the side"),
        down_gust=gust * draws.normal("throw.down_gust", "gust from above"),
        uneven=uneven,
        trim_error=TRIM_SPREAD * draws.normal("throw.trim", "trim set by eye"),
        up_trim=0.0 if thrower.up_trim is None else thrower.up_trim.value,
        bungee=bungee_of(plane, centre, angle, reader),
        hook_limit=None
        if line is None or line.hook_limit is None
        else np.full(draws.samples, line.hook_limit.value),
        assumed=tuple(reader.assumed),
    )


def off_the_line(inputs: LaunchInputs, mass: Samples) -> Drawn | None:
    """Return how the plane leaves the rubber; none where a hand throws it."""
    return None if inputs.bungee is None else drawn_off(inputs.bungee, mass)

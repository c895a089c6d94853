"""What can be noted of an afternoon at the bench: one record a weighing, test or build step."""

import datetime as dt
from typing import Annotated, ClassVar, Literal, Self

from pydantic import AfterValidator, BeforeValidator, Field, ValidationInfo, model_validator
from pydantic_core import PydanticCustomError

from foamwright.plane.fields import (
    Angle,
    Charge,
    Current,
    Length,
    Mass,
    RotationSpeed,
    Share,
    Speed,
    Time,
    Voltage,
    reader,
)
from foamwright.plane.placement import Written
from foamwright.quantity import Quantity

GRAVITY = 9.80665
"""Standard acceleration of free fall [m s^-2]."""

BARE_FOAM, ALL_UP = "bare foam", "all"
"""What can be weighed besides the items."""

FEWEST_SWINGS, MOST_SWINGS = 1, 1000
"""Swings that can be counted in one go."""


def pull(written: object) -> Quantity:
    """Return a pull in newtons; a kitchen scale shows it in grams."""
    found = reader("force", "mass")(written)
    if found.dimension == "force":
        return found
    spread = None if found.spread is None else found.spread * GRAVITY
    return Quantity(value=found.value * GRAVITY, spread=spread, dimension="force", text=found.text)


LAST_DAY = "last day"
"""What the day that no note may be later than is called where records are validated."""


def incomplete(what: str) -> PydanticCustomError:
    """Return the problem with a record that lacks something."""
    return PydanticCustomError("record", "{what}", {"what": what})


def not_in_future(day: dt.date, info: ValidationInfo) -> dt.date:
    """Return a day unless it is later than the last that may be noted; any where none is told."""
    last = info.context.get(LAST_DAY) if isinstance(info.context, dict) else None
    if isinstance(last, dt.date) and day > last:
        told = {"what": f"{day} is in the future", "expected": f"no later than {last}"}
        raise PydanticCustomError("day", "{what}", told)
    return day


Pull = Annotated[Quantity, BeforeValidator(pull)]


class Record(Written):
    """What every record says."""

    date: Annotated[dt.date, AfterValidator(not_in_future)]
    """The day, as 2026-05-01; not in the future."""
    note: str | None = None
    """Anything."""

    above_nothing: ClassVar[tuple[str, ...]] = ()
    """What cannot be read as nothing or less: an empty scale, a watch that did not run."""

    @model_validator(mode="after")
    def read_at_all(self) -> Self:
        """Refuse a reading of nothing."""
        for name in self.above_nothing:
            found = getattr(self, name)
            if found is not None and found.value <= 0.0:
                raise incomplete(f"wants {name} above {found.text}")
        return self


class Weighing(Record):
    """What the scale showed."""

    item: str
    """Name of the item, or "bare foam", or "all" for the plane ready to fly."""
    mass: Mass
    """As shown, all pieces on the scale together."""
    pieces: int = Field(default=1, ge=1, le=100)
    """How many pieces lay on the scale."""

    above_nothing = ("mass",)


class Balance(Record):
    """Where the plane ready to fly balances: on two fingertips, or on two scales."""

    at: Length | None = None
    """x of the fingertips."""
    front: Mass | None = None
    """What the front scale shows."""
    front_at: Length | None = None
    """x of the front support."""
    rear: Mass | None = None
    """What the rear scale shows."""
    rear_at: Length | None = None
    """x of the rear support."""
    pack_at: Length | None = None
    """Where the middle of the pack was, if not at its planned place."""

    above_nothing = ("front", "rear")

    @model_validator(mode="after")
    def complete(self) -> "Balance":
        """Refuse half a balance."""
        scales = (self.front, self.front_at, self.rear, self.rear_at)
        if (self.at is None) == all(value is None for value in scales):
            raise incomplete("wants either at, or front, front_at, rear and rear_at")
        if self.at is None and any(value is None for value in scales):
            raise incomplete("two scales want front, front_at, rear and rear_at")
        if self.front_at and self.rear_at and self.front_at.value >= self.rear_at.value:
            raise incomplete("wants front_at ahead of rear_at")
        return self


class Static(Record):
    """The motor at a throttle, plane held down, standing still."""

    thrust: Pull | None = None
    """On a scale, in grams or newtons."""
    current: Current | None = None
    """From the pack."""
    voltage: Voltage | None = None
    """Of the pack under that load."""
    rotation_speed: RotationSpeed | None = None
    """Of the propeller."""
    throttle: Share | None = None
    """Of the stick; full where it is not given."""

    above_nothing = ("thrust", "current", "voltage", "rotation_speed", "throttle")

    @model_validator(mode="after")
    def something(self) -> "Static":
        """Refuse a test in which nothing was read."""
        if all(v is None for v in (self.thrust, self.current, self.rotation_speed)):
            raise incomplete("wants thrust, current or rotation_speed")
        return self


class Hang(Record):
    """A weight hung on a surface beside its spar: how far the surface twists."""

    surface: str
    """Name of the surface."""
    load: Mass
    """What was hung on."""
    arm: Length
    """From the line the surface twists about to the load, along the chord."""
    at: Length
    """From the root to the load, along the span."""
    twist: Angle
    """How far the surface twisted there."""

    above_nothing = ("load", "arm")


class Swing(Record):
    """The plane hung on two strings, twisted, let go, swings counted."""

    axis: Literal["roll", "pitch", "yaw"]
    """Which axis of the plane stood upright."""
    distance: Length
    """Between the strings."""
    length: Length
    """Of either string."""
    time: Time
    """Of all swings counted."""
    swings: int = Field(ge=FEWEST_SWINGS, le=MOST_SWINGS)
    """Full ones: there and back again."""
    mass: Mass | None = None
    """Of what swung; the plane ready to fly where it is not given."""

    above_nothing = ("distance", "length", "time", "mass")


class Throw(Record):
    """A throw as a slow film from the side shows it."""

    speed: Speed
    """When it left the hand."""
    angle: Angle
    """Of the path then, upwards."""


class ServoSweep(Record):
    """How long a servo takes from one place to another, no load."""

    servo: str
    """Name of the item."""
    angle: Angle
    """How far the horn turned."""
    time: Time
    """How long it took."""
    voltage: Voltage | None = None
    """At the servo's plug."""

    above_nothing = ("angle", "time", "voltage")


class ChargeBack(Record):
    """What the charger put back after a flight."""

    charge: Charge
    """Put back."""
    time: Time | None = None
    """How long the motor ran."""
    speed: Speed | None = None
    """Flown most of the time."""
    flight: str | None = None
    """Which flight, as its log is named."""

    above_nothing = ("charge", "time", "speed")


class Step(Record):
    """A build step that was done."""

    step: str
    """Id of the step."""
    anyway: bool = False
    """Whether it was done though a hold stood against it."""
    reason: str | None = None
    """Why, then."""

    @model_validator(mode="after")
    def reasoned(self) -> "Step":
        """Refuse a hold passed without a word."""
        if self.anyway and not (self.reason or "").strip():
            raise incomplete("wants a reason, since it was done anyway")
        return self


KINDS: dict[str, type[Record]] = {
    "weighings": Weighing,
    "balances": Balance,
    "static": Static,
    "hang": Hang,
    "swings": Swing,
    "throws": Throw,
    "servo_sweeps": ServoSweep,
    "charges": ChargeBack,
    "steps": Step,
}
"""The lists of `bench.toml` and what each holds."""


class Bench(Written):
    """Everything noted at the bench."""

    weighings: tuple[Weighing, ...] = ()
    balances: tuple[Balance, ...] = ()
    static: tuple[Static, ...] = ()
    hang: tuple[Hang, ...] = ()
    swings: tuple[Swing, ...] = ()
    throws: tuple[Throw, ...] = ()
    servo_sweeps: tuple[ServoSweep, ...] = ()
    charges: tuple[ChargeBack, ...] = ()
    steps: tuple[Step, ...] = ()

"""The items in the plane: what each kind can say of itself.

Every item may take its numbers from the stock by name; what it says itself wins, key by key.
"""

from typing import Annotated, Literal

from pydantic import Field

from foamwright.plane.fields import (
    Angle,
    Arm,
    Charge,
    Current,
    Diameter,
    Draw,
    Extent,
    Force,
    Lean,
    Mass,
    Money,
    Pitch,
    Power,
    Resistance,
    RotationSpeed,
    Share,
    SpeedConstant,
    Stator,
    Time,
    Torque,
    Voltage,
)
from foamwright.plane.placement import Place, Reach, Size, Written


class Item(Written):
    """What every item can say."""

    name: str
    """The builder's own name, unique in the plane."""
    stock: str | None = None
    """The stock entry its other numbers come from."""
    mass: Mass | None = None
    """Of one piece, with its leads."""
    at: Place | None = None
    """Where its middle is; needed for balance."""
    reach: Reach | None = None
    """How far it may be moved."""
    places: tuple[Place, ...] = ()
    """Other places where it could sit, for a search to choose from."""
    size: Size | None = None
    """The box around it: lying flat, unless `lies` says otherwise."""
    lies: Literal["flat", "on edge", "on end", "across"] = "flat"
    """How that box is turned: on edge swaps width and height, on end length and height, across
    length and width."""
    pocket: Literal["top", "bottom", "left", "right", "front", "inside", "none"] | None = None
    """The side its pocket opens to; `none` where it sits outside the foam. Written, its foam counts
    as cut out; not written, the side is proposed by kind."""
    clearance: Extent | None = None
    """Air between it and the walls of its pocket; by foam and kind where it is not given."""
    count: int = 1
    """How many alike sit around that place (a pair left and right counts 2)."""
    price: Money | None = None
    """Of one piece."""
    owned: bool = False
    """Whether it is in the drawer already."""
    spares: int = 0
    """How many more to have at the field."""
    link: str | None = None
    """Where the builder would buy it: the builder's own note."""
    note: str | None = None
    """Anything."""
    draw: Draw | None = None
    """What it takes from its rail all the time, each, as watts or amps."""
    rail: Literal["pack", "5 V", "video"] = "5 V"
    """Which rail feeds it."""
    rail_voltage: Voltage | None = None
    """The voltage of that rail where it is neither the pack nor 5 V."""
    protrudes: Extent | None = None
    """How far it stands out of the foam into the air."""
    from_stock: tuple[str, ...] = ()
    """The keys that came from the stock; set on reading, not written."""


class StaticReading(Written):
    """One full-throttle reading on the bench with this propeller, standing still."""

    rotation_speed: RotationSpeed
    """Of the propeller."""
    current: Current
    """From the pack."""
    voltage: Voltage
    """At the pack, under that load."""
    thrust: Force | None = None
    """If there was a scale."""


class Motor(Item):
    """A brushless motor."""

    kind: Literal["motor"]
    stator_diameter: Stator | None = None
    stator_height: Stator | None = None
    kv: SpeedConstant | None = None
    kv_measured: bool = False
    """Whether that Kv was measured (a known speed and volts); a printed one runs 6 % low."""
    pole_pairs: int | None = None
    """Half the number of its magnets: 7 where it has 14. Electrical revolutions of a log (eRPM) are
    divided by it; without it they are left out."""
    resistance: Resistance | None = None
    no_load_current: Current | None = None
    no_load_voltage: Voltage | None = None
    burst_current: Current | None = None
    continuous_current: Current | None = None
    thrust_angle: Angle | None = None
    """Thrust line, nose-up positive."""


class Propeller(Item):
    """A propeller."""

    kind: Literal["propeller"]
    diameter: Diameter | None = None
    pitch: Pitch | None = None
    blades: int = 2
    coefficients: str | None = None
    """A file with columns J, CT, CP beside the plane file."""
    blade: str | None = None
    """A file with columns r_over_R, c_over_R, beta_deg beside the plane file."""
    static_reading: StaticReading | None = None


class Pack(Item):
    """A lithium-polymer pack."""

    kind: Literal["pack"]
    cells: int | None = None
    capacity: Charge | None = None
    cell_resistance: Resistance | None = None
    condition: Literal["good", "ordinary", "tired"] = "ordinary"
    usable: Share | None = None
    c_label: float | None = None
    """The C number printed on it; believed only as far as practice allows."""
    chemistry: Literal["LiPo", "LiHV"] = "LiPo"


class SpeedController(Item):
    """The motor's speed controller."""

    kind: Literal["esc"]
    current_limit: Current | None = None
    resistance: Resistance | None = None
    cooling: Literal["open air", "some air", "buried"] = "some air"
    cutoff_voltage: Voltage | None = None
    """Lowest pack voltage it or the boards live with."""


class Servo(Item):
    """A servo."""

    kind: Literal["servo"]
    torque: Torque | None = None
    speed: Time | None = None
    """Time for 60 degrees."""
    idle_current: Current | None = None
    moving_current: Current | None = None
    stall_current: Current | None = None
    slop: Angle | None = None
    """How far its arm moves freely, from one end of the play to the other."""
    arm: Arm | None = None
    """From its axis to the hole of the pushrod."""
    arm_angle: Lean | None = None
    """How far the arm leans at neutral from square to the pushrod, towards the horn."""


class Regulator(Item):
    """A regulator (BEC) of its own."""

    kind: Literal["regulator"]
    type: Literal["linear", "switching"] = "switching"
    current_limit: Current | None = None
    output: Voltage | None = None


class Radio(Item):
    """A transmitter or receiver."""

    kind: Literal["receiver", "video transmitter"]
    transmit_power: Power | None = None
    frequency: float | None = None
    """In MHz."""


class Rod(Item):
    """A rod or tube in a channel of its own, straight from one end to the other."""

    kind: Literal["rod"]
    diameter: Extent | None = None
    """Outer diameter; from the stock or the size where it is not given."""
    bore: Extent | None = None
    """Inner diameter of a tube."""
    starts: Place | None = None
    """One end; with both ends its channel is drawn and its stiffness counts."""
    ends: Place | None = None
    """The other end."""


class Board(Item):
    """Everything else that is an item: it has a mass, a place and perhaps a draw."""

    kind: Literal[
        "flight controller",
        "camera",
        "gps",
        "antenna",
        "beeper",
        "connector",
        "wire",
        "tape",
        "glue",
        "magnet",
        "hatch",
        "ballast",
        "mount",
        "linkage",
        "allowance",
        "other",
    ]


AnyItem = Annotated[
    Motor | Propeller | Pack | SpeedController | Servo | Regulator | Radio | Rod | Board,
    Field(discriminator="kind"),
]

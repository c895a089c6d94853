"""What the builder wants, where it flies, who throws it."""

from typing import Literal

from foamwright.plane.fields import (
    Angle,
    Elevation,
    Extent,
    Force,
    Fraction,
    LineLength,
    Mass,
    Moment,
    Money,
    Share,
    Speed,
    Temperature,
    Time,
    TurnRate,
)
from foamwright.plane.placement import Place, Written


class Targets(Written):
    """The wishes; each missing one leaves its question open."""

    top_speed: Speed | None = None
    endurance: Time | None = None
    mass_line: Mass | None = None
    budget: Money | None = None
    stall_speed: Speed | None = None
    roll_rate_low: TurnRate | None = None
    """Slowest roll wanted with full throw at cruise; a usual one where it is not given."""
    roll_rate_high: TurnRate | None = None
    """Fastest roll wanted with full throw at cruise; a usual one where it is not given."""
    margin_low: Fraction | None = None
    """Least static margin wanted; by layout where it is not given."""
    margin_high: Fraction | None = None
    """Most static margin wanted; by layout where it is not given."""


class Site(Written):
    """The flying field on the day."""

    elevation: Elevation | None = None
    temperature: Temperature | None = None
    humidity: Share | None = None
    wind: Speed | None = None


class Thrower(Written):
    """How the plane leaves the hand."""

    speed: Speed | None = None
    """Of the hand when it lets go, over the ground."""
    angle: Angle | None = None
    """Of the path above the horizon."""
    height: Extent | None = None
    """Of the plane above the ground when it leaves the hand."""
    throttle: Share | None = None
    """Set for the launch; the best one is looked for where it is not given."""
    delay: Moment | None = None
    """From the release to the motor's start; 0 s where it runs in the hand."""
    ramp: Moment | None = None
    """From the motor's start to the throttle set, as the speed controller is programmed."""
    up_trim: Angle | None = None
    """Pitch control set nose up (trailing edge up, but down on a canard), beyond level flight at
    1.2 times the stall speed."""
    steers: Literal["hands off", "pilot", "stabiliser"] | None = None
    """Who steers after the release: nobody, the pilot's thumbs, or a stabiliser that was on; the
    pilot where it is not given."""


class Bungee(Written):
    """A rubber that draws the plane off the ground or out of the hand."""

    length: LineLength
    """Of the rubber without pull."""
    stretch: LineLength
    """How far it is drawn beyond that."""
    pull: Force
    """On a luggage scale when fully drawn."""
    returned: Share | None = None
    """Share of the work that it gives back; latex 70 to 85 % where it is not given."""
    slope: Angle | None = None
    """Of the path above the horizon while it pulls; the thrower's angle where it is not given."""
    hook: Place | None = None
    """Where the hook sits, x and z."""
    hook_limit: Force | None = None
    """What the hook was pulled with in a test before anything gave."""

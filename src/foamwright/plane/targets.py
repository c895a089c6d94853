"""What the builder wants, where it flies, who throws it."""

from foamwright.plane.fields import (
    Angle,
    Elevation,
    Extent,
    Fraction,
    Mass,
    Money,
    Share,
    Speed,
    Temperature,
    Time,
)
from foamwright.plane.placement import Written


class Targets(Written):
    """The wishes; each missing one leaves its question open."""

    top_speed: Speed | None = None
    endurance: Time | None = None
    mass_line: Mass | None = None
    budget: Money | None = None
    stall_speed: Speed | None = None
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
    angle: Angle | None = None
    height: Extent | None = None

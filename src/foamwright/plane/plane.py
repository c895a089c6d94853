"""The whole plane as one record: what `plane.toml` says, variants already merged."""

from typing import Literal

from foamwright.plane.airframe import Airframe, Layout
from foamwright.plane.gear import AnyItem
from foamwright.plane.placement import Written
from foamwright.plane.targets import Bungee, Site, Targets, Thrower
from foamwright.plane.tuning import Tuning


class Plane(Written):
    """One plane."""

    name: str
    """The builder's name for it."""
    purpose: str = ""
    """What it is for, in the builder's words."""
    layout: Layout
    """The layout, for the usual margins."""
    region: Literal["EU", "US", "UK"] = "EU"
    """Whose thresholds the question `rules` shows."""
    units: Literal["metric", "imperial"] = "metric"
    """How answers are shown."""
    currency: str = "EUR"
    """Three letters; prices are written in it."""
    targets: Targets = Targets()
    site: Site = Site()
    thrower: Thrower = Thrower()
    bungee: Bungee | None = None
    tuning: Tuning = Tuning()
    airframe: Airframe
    items: tuple[AnyItem, ...] = ()

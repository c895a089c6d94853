"""What a changed plane takes over from the plane it comes from: stages that come out the same."""

from functools import cached_property

from foamwright.model.scope import bare
from foamwright.plane.gear import AnyItem, SpeedController
from foamwright.plane.plane import Plane
from foamwright.plane.targets import Targets, Thrower

FOAM_STAGES = ("surfaces", "planform", "lift", "solid", "cuts")
"""Stages that know the shape of the foam alone: a change of propeller needs no new lattice."""

LAUNCH_STAGES = ("launch_inputs", "launch_setup", "launch_plan", "launch_clean", "launch")
"""Stages that know how the plane is thrown; all others are the same for another throw."""


def without_throw(plane: Plane) -> Plane:
    """Return the plane without who throws it and how the wind blows."""
    still = plane.site.model_copy(update={"wind": None})
    return plane.model_copy(update={"thrower": Thrower(), "bungee": None, "site": still})


def uncooled(item: AnyItem) -> AnyItem:
    """Return an item without how a speed controller is cooled."""
    if isinstance(item, SpeedController):
        return item.model_copy(update={"cooling": None})
    return item


def without_wishes(plane: Plane) -> Plane:
    """Return the plane without what no stage looks at: wishes, and air for the controller."""
    items = tuple(uncooled(item) for item in plane.items)
    return plane.model_copy(update={"targets": Targets(), "items": items})


def shared_names(before: Plane, after: Plane) -> tuple[str, ...]:
    """Return stages that are the same and that every further change will want too."""
    foam = FOAM_STAGES if bare(before.airframe) == bare(after.airframe) else ()
    return (*foam, "air") if before.site == after.site else foam


def kept(computed: object, before: Plane, after: Plane) -> dict[str, object]:
    """Return the stages that were computed of the plane before and are the same after."""
    before, after = without_wishes(before), without_wishes(after)
    if without_throw(before) != without_throw(after):
        return {}
    changed = () if before == after else LAUNCH_STAGES
    return {
        name: value
        for name, value in vars(computed).items()
        if isinstance(getattr(type(computed), name, None), cached_property) and name not in changed
    }

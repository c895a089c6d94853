"""One step of the build, and what the steps ask of a plane."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from foamwright.plane.airframe import ControlSurface
from foamwright.plane.boxes import side_of
from foamwright.plane.gear import AnyItem, Rod
from foamwright.plane.plane import Plane

Kind = Literal["weigh", "plan", "cut", "test", "solder", "glue", "check", "fly"]
"""What kind of work a step is."""

IRREVERSIBLE = ("cut", "glue", "solder")
"""Kinds that cannot be undone; the first throw and the first fast dive are marked by hand."""

PROPELLER = "Propeller off until a step says otherwise; a bench motor starts without warning."
LIPO = "Pack out of the plane and on something that cannot burn while you solder or charge."
PEOPLE = "Nobody in front or beside; somebody with you; the law in force where you fly."

NOT_CUT = ("motor", "propeller", "mount", "pack", "camera")
"""Kinds whose place is not glued shut for good."""


@dataclass(frozen=True, kw_only=True, slots=True)
class BuildStep:
    """One step of the build."""

    id: str
    """Its name on the command line and in the bench notes."""
    phase: str
    """The heading it stands under."""
    do: str
    """What to do, in the imperative."""
    kind: Kind
    """What kind of work it is."""
    needs: tuple[str, ...] = ()
    """Steps that come before it."""
    holds: tuple[str, ...] = ()
    """Questions that must stand at `likely` or better before it."""
    irreversible: bool = False
    """Whether it can be undone."""
    why: str = ""
    """Why here and not later."""
    cautions: tuple[str, ...] = field(default=())
    """The usual cautions."""


def slug(name: str) -> str:
    """Return a name as part of an id."""
    return "-".join("".join(c if c.isalnum() else " " for c in name.lower()).split())


def step(
    name: str, kind: Kind, do: str, phase: str, **more: tuple[str, ...] | str | bool
) -> BuildStep:
    """Return a step; cuts, glue and solder cannot be undone."""
    told = {"irreversible": kind in IRREVERSIBLE, **more}
    return BuildStep(id=name, kind=kind, do=do, phase=phase, **told)  # type: ignore[arg-type]


def in_foam(plane: Plane) -> tuple[AnyItem, ...]:
    """Return the items that get a pocket."""
    return tuple(item for item in plane.items if side_of(item) != "none")


def of_kind(plane: Plane, *kinds: str) -> tuple[AnyItem, ...]:
    """Return the items of some kinds."""
    return tuple(item for item in plane.items if item.kind in kinds)


def controls(plane: Plane) -> tuple[ControlSurface, ...]:
    """Return every control surface."""
    return tuple(c for surface in plane.airframe.surfaces for c in surface.controls)


def ids(steps: Iterable[BuildStep], *kinds: str) -> tuple[str, ...]:
    """Return the ids of steps of some kinds."""
    return tuple(s.id for s in steps if s.kind in kinds)


PLAN, BENCH, CUT = "Before the first cut", "On the table, nothing glued", "Cutting"
FIT_OUT, READY, FIELD = "Soldering and gluing", "Before the first throw", "At the field"


def rods(plane: Plane) -> tuple[Rod, ...]:
    """Return the rods."""
    return tuple(item for item in plane.items if isinstance(item, Rod))

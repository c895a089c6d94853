"""The order of the build as a graph: what comes before what, and what must stand before the knife.

Which steps there are follows from the plane file: a part that sits in the foam has a pocket to cut,
a servo is tested before it is glued. The order itself is common practice, no source.
"""

from collections.abc import Iterable, Iterator
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


def planning() -> Iterator[BuildStep]:
    """Yield what comes before the first cut."""
    yield step(
        "weigh-foam",
        "weigh",
        "Weigh the bare foam and find its balance point on two fingertips",
        PLAN,
        why="nobody sells foam by weight, and it cannot be weighed alone later",
    )
    yield step(
        "weigh-gear",
        "weigh",
        "Weigh every part with its leads and plugs",
        PLAN,
        why="labels are off by a tenth, and the balance follows them",
    )
    yield step(
        "lay-out",
        "plan",
        "Lay every part on the foam where it will go and ask balance and fit once more",
        PLAN,
        needs=("weigh-foam", "weigh-gear"),
        why="moving a part costs nothing now and a pocket later",
    )


def table_tests(plane: Plane) -> Iterator[BuildStep]:
    """Yield the tests with everything loose on the table."""
    if of_kind(plane, "receiver"):
        yield step(
            "test-link",
            "test",
            "Bind the receiver; see every channel move; switch the transmitter off and see the "
            "motor stop",
            BENCH,
            why="a dead receiver found now costs no cut",
            cautions=(PROPELLER,),
        )
    if of_kind(plane, "motor"):
        yield step(
            "test-motor-direction",
            "test",
            "Run the motor with its leads only twisted or clipped, and mark the leads that turn it "
            "the right way",
            BENCH,
            needs=("test-link",) if of_kind(plane, "receiver") else (),
            why="two leads are swapped in a minute before soldering; after it only if they can "
            "still be reached",
            cautions=(PROPELLER, LIPO),
        )
    for servo in of_kind(plane, "servo"):
        yield step(
            f"test-{slug(servo.name)}",
            "test",
            f"Centre {servo.name} under power, fit the arm square to the rod, and see that stick "
            "and stabiliser move the surface the right way",
            BENCH,
            needs=("test-link",) if of_kind(plane, "receiver") else (),
            why="a glued servo cannot be turned round",
        )


def cutting(plane: Plane) -> Iterator[BuildStep]:
    """Yield templates, pockets and channels."""
    yield step(
        "templates",
        "plan",
        "Print the templates at 100 %, measure the check ruler, tape them on and mark the balance "
        "point and every pocket",
        CUT,
        needs=("lay-out",),
        why="a page printed at 98 % puts a pocket 8 mm off over a wing",
    )
    for item in in_foam(plane):
        yield step(
            f"cut-{slug(item.name)}",
            "cut",
            f"Cut the pocket for {item.name}, corners rounded to 3 mm, a little too small first",
            CUT,
            needs=("templates",),
            holds=("fit", "balance", "weight"),
            why="foam cannot be uncut",
        )
    for rod in rods(plane):
        yield step(
            f"cut-{slug(rod.name)}",
            "cut",
            f"Cut the channel for {rod.name} half a millimetre deeper than it is thick",
            CUT,
            needs=("templates",),
            holds=("fit", "strength"),
        )
    yield step(
        "dry-fit",
        "check",
        "Put everything in dry, tape it, and balance the plane on its marks with the pack in",
        CUT,
        needs=tuple(
            [f"cut-{slug(item.name)}" for item in in_foam(plane)]
            + [f"cut-{slug(rod.name)}" for rod in rods(plane)]
        ),
        why="glue cannot be unglued: move what is wrong now",
    )


def rods(plane: Plane) -> tuple[Rod, ...]:
    """Return the rods."""
    return tuple(item for item in plane.items if isinstance(item, Rod))


def soldering(plane: Plane) -> Iterator[BuildStep]:
    """Yield what is soldered, and the first power."""
    powered = bool(of_kind(plane, "motor", "esc"))
    if powered:
        before = ["dry-fit"]
        before += ["test-motor-direction"] if of_kind(plane, "motor") else []
        yield step(
            "solder-power",
            "solder",
            "Solder motor leads, pack connector and capacitor, leads no longer than the dry fit "
            "asks for",
            FIT_OUT,
            needs=tuple(before),
            holds=("electrics",),
            why="a wire too thin or an ESC too small is unsoldered, not wished away",
            cautions=(LIPO,),
        )
    if of_kind(plane, "flight controller", "video transmitter", "gps", "receiver"):
        yield step(
            "solder-boards",
            "solder",
            "Solder boards, video and receiver; antennas on before video gets power",
            FIT_OUT,
            needs=("dry-fit",),
            holds=("electrics",),
            cautions=(LIPO,),
        )
    if powered:
        yield step(
            "first-power",
            "test",
            "First power through a current-limited supply or a small fuse; feel for heat, look for "
            "smoke, measure the five volts",
            FIT_OUT,
            needs=tuple(
                name
                for name, there in (
                    ("solder-power", powered),
                    (
                        "solder-boards",
                        bool(
                            of_kind(
                                plane, "flight controller", "video transmitter", "gps", "receiver"
                            )
                        ),
                    ),
                )
                if there
            ),
            cautions=(PROPELLER, LIPO),
        )


def gluing(plane: Plane) -> Iterator[BuildStep]:
    """Yield what is glued, rods first."""
    power = ("first-power",) if of_kind(plane, "motor", "esc") else ()
    for rod in rods(plane):
        yield step(
            f"glue-{slug(rod.name)}",
            "glue",
            f"Glue {rod.name} along its whole length, the plane flat on the table",
            FIT_OUT,
            needs=("dry-fit",),
            holds=("fit", "strength"),
            why="a twist glued in stays",
        )
    for servo in of_kind(plane, "servo"):
        yield step(
            f"glue-{slug(servo.name)}",
            "glue",
            f"Glue {servo.name}, lead laid, arm free over its whole travel",
            FIT_OUT,
            needs=("dry-fit", f"test-{slug(servo.name)}", *power),
            holds=("fit", "control"),
        )
    mounts = of_kind(plane, "mount") or of_kind(plane, "motor")
    for mount in mounts[:1]:
        yield step(
            f"glue-{slug(mount.name)}",
            "glue",
            f"Glue {mount.name} with the thrust line set and the propeller's circle clear of foam",
            FIT_OUT,
            needs=("dry-fit", *power),
            holds=("fit", "balance", "electrics"),
            cautions=(PROPELLER,),
        )
    boards = of_kind(plane, "flight controller")
    if boards:
        yield step(
            "check-plugs",
            "check",
            "With everything in, plug USB in and out, press the boot button, take the pack and its "
            "balance plug out and in",
            FIT_OUT,
            needs=("dry-fit",),
            why="what the wing covers is out of reach for good",
        )
    yield step(
        "glue-wing",
        "glue",
        "Glue wing, tail and fin, or close what covers the gear: square, and with no twist",
        FIT_OUT,
        needs=(
            "dry-fit",
            *(["check-plugs"] if boards else []),
            *(f"glue-{slug(rod.name)}" for rod in rods(plane)),
            *(f"glue-{slug(servo.name)}" for servo in of_kind(plane, "servo")),
        ),
        holds=("fit", "balance", "weight"),
        why="the last moment at which gear can still be moved",
    )


def checking(plane: Plane) -> Iterator[BuildStep]:
    """Yield the last checks before the first throw."""
    if controls(plane):
        yield step(
            "set-throws",
            "check",
            "Connect the rods, set the throws in millimetres at the trailing edge, centre at rest",
            READY,
            needs=("glue-wing",),
            holds=("control",),
        )
        yield step(
            "check-directions",
            "test",
            "Directions once more: stick right, right trailing edge up; stick back, elevator up; "
            "then tilt the plane by hand and see the stabiliser work against it",
            READY,
            needs=("set-throws",),
            cautions=(PROPELLER,),
        )
    yield step(
        "weigh-all",
        "weigh",
        "Weigh the plane ready to fly and balance it on its marks, pack in, hatch closed",
        READY,
        needs=("glue-wing",),
        holds=("balance", "weight"),
        why="everything planned is checked by these two numbers",
    )
    if of_kind(plane, "propeller"):
        yield step(
            "check-propeller",
            "test",
            "Propeller on: hand and face right (the print faces forward), nut tight, air pushed "
            "backwards; first at a whisper, the plane held down",
            READY,
            needs=("weigh-all", *(["solder-power"] if of_kind(plane, "motor", "esc") else [])),
            why="a propeller on backwards gives half the thrust at nearly the full current",
            cautions=("Eye protection, sleeves tied, nobody in the propeller's plane.",),
        )
        yield step(
            "static-thrust",
            "test",
            "Full throttle for three seconds on a scale: thrust, current, volts, into the bench "
            "notes",
            READY,
            needs=("check-propeller",),
            why="one reading halves the spread of everything the propeller does",
            cautions=("Hold it down so that it cannot leave the scale; pack and ESC hand-warm.",),
        )
    if of_kind(plane, "receiver"):
        yield step(
            "range-check",
            "test",
            "Range check as the radio's maker tells, motor running and video on; then transmitter "
            "off, and the motor stops",
            READY,
            needs=("weigh-all",),
            cautions=(PROPELLER,),
        )


def flying(before: tuple[BuildStep, ...]) -> Iterator[BuildStep]:
    """Yield the first throw and the first fast dive; every check comes before them."""
    tests = ids(before, "test", "check", "weigh")
    yield step(
        "first-throw",
        "fly",
        "First throw: into the wind, level, at the throttle and angle that launch tells, over soft "
        "grass",
        FIELD,
        needs=(*tests, "glue-wing"),
        holds=("balance", "weight", "launch", "control", "landing"),
        irreversible=True,
        cautions=(PEOPLE, "The hand stays clear of the propeller's plane."),
    )
    yield step(
        "find-stall",
        "fly",
        "Trim at half throttle; at height find the stall, clean and in a turn, and land at the "
        "speed that landing tells",
        FIELD,
        needs=("first-throw",),
        cautions=(PEOPLE,),
    )
    yield step(
        "first-fast-dive",
        "fly",
        "First full throttle and the first fast dive, a little faster each time, height to spare",
        FIELD,
        needs=("find-stall",),
        holds=("strength", "control", "electrics", "speed"),
        irreversible=True,
        why="flutter, reversal and a folding wing all wait at speed",
        cautions=(PEOPLE,),
    )


def build_steps(plane: Plane) -> tuple[BuildStep, ...]:
    """Return every step of a plane's build, each after all that it needs."""
    before = (
        *planning(),
        *table_tests(plane),
        *cutting(plane),
        *soldering(plane),
        *gluing(plane),
        *checking(plane),
    )
    return (*before, *flying(before))

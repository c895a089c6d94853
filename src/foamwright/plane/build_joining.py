"""The build from the dry fit to the closed plane: solder, first power, glue."""

from collections.abc import Iterator

from foamwright.plane.build_step import (
    FIT_OUT,
    LIPO,
    PROPELLER,
    BuildStep,
    of_kind,
    rods,
    slug,
    step,
)
from foamwright.plane.plane import Plane


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
    boards = of_kind(plane, "flight controller", "video transmitter", "gps", "receiver")
    if boards:
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
            needs=("solder-power", *(["solder-boards"] if boards else [])),
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


def closing(plane: Plane) -> Iterator[BuildStep]:
    """Yield the last look at the gear, and what covers it for good."""
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

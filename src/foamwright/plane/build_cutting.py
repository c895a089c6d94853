"""The build up to the dry fit: weighing, tests on the table, pockets and channels."""

from collections.abc import Iterator

from foamwright.plane.build_step import (
    BENCH,
    CUT,
    LIPO,
    PLAN,
    PROPELLER,
    BuildStep,
    in_foam,
    of_kind,
    rods,
    slug,
    step,
)
from foamwright.plane.plane import Plane


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

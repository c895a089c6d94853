"""What the notes on the stabiliser must be to each other."""

from collections.abc import Iterator

from foamwright.plane.checks import Objection
from foamwright.plane.plane import Plane
from foamwright.quantity import show


def tuning(plane: Plane) -> Iterator[Objection]:
    """Object to a wobble without a speed, one below a proven speed, and a delay told twice."""
    known = plane.tuning
    if known.wobble_frequency is not None and known.wobble_speed is None:
        yield Objection(
            path=("tuning", "wobble_frequency"),
            what="a wobble without its speed",
            expected='add the speed it wobbled at, for instance wobble_speed = "22 m/s"',
        )
    wobbled, proven = known.wobble_speed, known.proven_speed
    if wobbled is not None and proven is not None and proven.value >= wobbled.value:
        yield Objection(
            path=("tuning", "proven_speed"),
            what=f"{proven.text} without a wobble is not below the wobble at {wobbled.text}",
            expected="a setting that wobbles at a speed is proven below it only",
        )
    for key in ("wobble_speed", "proven_speed"):
        speed = getattr(known, key)
        if speed is not None and speed.value <= 0.0:
            yield Objection(
                path=("tuning", key),
                what=f"{speed.text} is no airspeed",
                expected=f"above {show(0.0, 'speed')}",
            )
    frame, delay = known.frame, known.delay
    if frame is not None and delay is not None and delay.value <= frame.value:
        yield Objection(
            path=("tuning", "delay"),
            what=f"the whole delay, {delay.text}, is not longer than one frame, {frame.text}",
            expected="delay counts filter, frames and servo together",
        )

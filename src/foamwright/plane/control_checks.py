"""What servos, arms and pushrods must be to each other."""

from collections.abc import Iterator

from foamwright.plane.checks import Objection
from foamwright.plane.plane import Plane


def linkages(plane: Plane) -> Iterator[Objection]:
    """Object to surfaces that no servo can move as written, and to a roll window upside down."""
    kinds = {item.name: item.kind for item in plane.items}
    for index, surface in enumerate(plane.airframe.surfaces):
        for number, control in enumerate(surface.controls):
            path = ("airframe", "surfaces", index, "controls", number)
            kind = kinds.get(control.servo or "", "servo")
            if kind != "servo":
                yield Objection(
                    path=(*path, "servo"),
                    what=f"'{control.servo}' is no servo but a {kind}",
                    expected="the name of an item of the kind servo",
                )
            free, whole = control.pushrod_free, control.pushrod_length
            if free is not None and whole is not None and free.value > whole.value:
                yield Objection(
                    path=(*path, "pushrod_free"),
                    what=f"{free.text} free is longer than the whole pushrod, {whole.text}",
                    expected="its longest piece between two supports or ends",
                )
            for key in ("throw_up", "throw_down"):
                throw = getattr(control, key)
                if throw is not None and throw.value < 0.0:
                    yield Objection(
                        path=(*path, key),
                        what=f"{throw.text} is no travel",
                        expected="0 deg or more; up and down are written apart",
                    )
    low, high = plane.targets.roll_rate_low, plane.targets.roll_rate_high
    if low is not None and high is not None and high.value <= low.value:
        yield Objection(
            path=("targets", "roll_rate_high"),
            what=f"the fastest roll, {high.text}, is not above the slowest, {low.text}",
            expected='for instance "120 deg/s" and "360 deg/s"',
        )

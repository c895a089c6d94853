"""What a drive needs, named where it is missing."""

from collections.abc import Callable

import pytest

from foamwright.model.drive_parts import needs, parts_of
from foamwright.plane.document import LoadedPlane
from foamwright.plane.variants import overridden

Read = Callable[[str], LoadedPlane]


def test_a_whole_drive_needs_nothing(read: Read) -> None:
    """2300 rpm/V, 5 x 3 inches, 3S 450 mAh, in SI."""
    plane = read("reedling").plane
    parts = parts_of(plane)
    assert needs(plane) == ()
    assert parts is not None
    assert parts.kv.value == pytest.approx(2300 / 60)
    assert parts.diameter == pytest.approx(5 * 0.0254)
    assert parts.pitch == pytest.approx(3 * 0.0254)
    assert parts.cells == 3
    assert parts.capacity.value == pytest.approx(0.45 * 3600)


@pytest.mark.parametrize(
    ("keys", "named"),
    [
        ({"items.motor": None}, "kind 'motor'"),
        ({"items.propeller": None}, "kind 'propeller'"),
        ({"items.pack": None}, "kind 'pack'"),
        ({"items.ESC": None}, "kind 'esc'"),
        ({"items.motor.stock": None}, "items.motor.kv"),
        ({"items.propeller.stock": None}, "items.propeller.diameter"),
        ({"items.pack.stock": None}, "items.pack.capacity"),
    ],
)
def test_what_is_missing_is_named(read: Read, keys: dict[str, object], named: str) -> None:
    """The item's kind, or the key of the number nobody told; and there is no drive then."""
    plane = overridden(read("reedling"), keys).plane
    assert any(named in text for text in needs(plane))
    assert parts_of(plane) is None

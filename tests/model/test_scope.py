"""What was learned of a part goes with the part."""

from collections.abc import Callable

import numpy as np

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws, Knowledge
from foamwright.model.scope import fitting, forgotten, part_of
from foamwright.plane.document import LoadedPlane
from foamwright.plane.variants import overridden

Read = Callable[[str], LoadedPlane]
KEYS = (
    "airframe.bare_mass",
    "items.pack.mass",
    "items.pack.at.x",
    "items.pack.cell_resistance",
    "items.motor.kv",
    "propeller.a",
    "model.foam_finish",
    "model.drag",
)


def lost(read: Read, changes: dict[str, object]) -> set[str]:
    """Return which inputs are forgotten after some changes of the glider."""
    loaded = read("reedling")
    return set(forgotten(KEYS, loaded.plane, overridden(loaded, changes).plane))


def test_what_is_not_the_part_leaves_everything_known(read: Read) -> None:
    """Price, drawer, wishes; the same thing weighed again, or cut."""
    changes = {
        "airframe.bare_mass": "118 g",
        "items.pack.mass": "42 ± 0.5 g",
        "items.pack.pocket": "top",
        "items.pack.price": "9 EUR",
        "items.motor.owned": False,
        "targets.endurance": "9 min",
    }
    assert lost(read, changes) == set()


def test_another_pack_is_another_pack(read: Read) -> None:
    """Its resistance, mass and place are unknown again; motor and drag are not."""
    found = lost(read, {"items.pack.stock": "pack 3S 650"})
    assert found == {"items.pack.mass", "items.pack.at.x", "items.pack.cell_resistance"}


def test_a_part_that_moved_is_the_same_elsewhere(read: Read) -> None:
    """Only its place is new."""
    assert lost(read, {"items.pack.at.x": "100 mm"}) == {"items.pack.at.x"}


def test_another_propeller_and_a_part_left_out(read: Read) -> None:
    """Each forgets its own."""
    assert lost(read, {"items.propeller.stock": "propeller 5x4"}) == {"propeller.a"}
    assert lost(read, {"items.motor": {"remove": True}}) == {"items.motor.kv"}


def test_another_surface_forgets_its_finish(read: Read) -> None:
    """Tape taken off."""
    assert lost(read, {"airframe.finish": "rough"}) == {"model.foam_finish"}


def test_draws_keep_their_luck_for_what_is_still_known(read: Read) -> None:
    """The new propeller has luck of its own, independent of what was learned with the old."""
    loaded = read("reedling")
    covariance = np.array([[0.3, 0.2], [0.2, 0.4]])
    known = Knowledge(
        keys=("propeller.a", "model.drag"),
        labels=("propeller", "drag"),
        mean=np.array([1.0, -0.5]),
        factor=np.linalg.cholesky(covariance),
        plane=loaded.plane,
    )
    draws = Draws(2048, 1).knowing(known)
    assert fitting(draws, loaded.plane) is draws
    other = overridden(loaded, {"items.propeller.stock": "propeller 5x4"})
    changed = fitting(draws, other.plane)
    assert changed.same_luck(draws)
    assert np.array_equal(changed.normal("model.drag", ""), draws.normal("model.drag", ""))
    fresh = changed.normal("propeller.a", "")
    assert abs(fresh.mean()) < 0.02
    assert abs(np.corrcoef(fresh, changed.normal("model.drag", ""))[0, 1]) < 0.06
    back = fitting(changed, loaded.plane)
    assert np.array_equal(back.normal("propeller.a", ""), draws.normal("propeller.a", ""))


def test_a_computable_plane_forgets_by_itself(read: Read) -> None:
    """Whoever changes a plane need not think of it."""
    loaded = read("reedling")
    known = Knowledge(
        keys=("propeller.a",),
        labels=("propeller",),
        mean=np.array([2.0]),
        factor=np.array([[0.1]]),
        plane=loaded.plane,
    )
    draws = Draws(64, 1).knowing(known)
    assert ComputablePlane(loaded, draws).draws.forgotten == frozenset()
    other = overridden(loaded, {"items.propeller.stock": "propeller 5x4"})
    assert ComputablePlane(other, draws).draws.forgotten == {"propeller.a"}


def test_cooling_is_no_other_part(read: Read) -> None:
    """An air inlet does not make another speed controller."""
    (esc,) = (item for item in read("reedling").plane.items if item.kind == "esc")
    assert "cooling" not in part_of(esc)
    assert "stock" in part_of(esc)

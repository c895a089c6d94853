"""A balance that is off names the part that explains it."""

import re
from collections.abc import Callable, Mapping

import numpy as np
import pytest

from foamwright.model.balance_causes import balance_suspects, weighed_now
from foamwright.model.computable import ComputablePlane
from foamwright.model.evidence import Observation
from foamwright.model.suspects import AS_PLANNED, Suspect

Computed = Callable[..., ComputablePlane]

BALLAST = {"kind": "ballast", "mass": "12 g", "count": 1, "at": {"x": "660 mm"}}
FORGOTTEN = {"items.forgotten lead": BALLAST}


def read_of(
    plane: ComputablePlane, *, scales: bool = False, spread: float = 2e-3
) -> tuple[Observation, ...]:
    """Return what a plane would read on the bench."""
    place = float(np.median(plane.masses.centre[:, 0]))
    mass = float(np.median(plane.masses.all_up))
    found = [Observation(name="balance_place", value=place, spread=spread)]
    if scales:
        found.append(Observation(name="all_up_mass", value=mass, spread=1e-3))
    return tuple(found)


def suspects(
    computed: Computed, changes: Mapping[str, object] | None, **how: float
) -> tuple[Suspect, ...]:
    """Return what the glider as planned makes of the same glider built otherwise."""
    built = computed("reedling", changes)
    scales = bool(how.pop("scales", False))
    return balance_suspects(computed("reedling"), read_of(built, scales=scales, **how), None)


def named(found: tuple[Suspect, ...], words: str) -> Suspect:
    """Return the one suspect whose name holds some words."""
    (one,) = [suspect for suspect in found if words in suspect.name]
    return one


def test_a_balance_as_planned_is_as_planned(computed: Computed) -> None:
    """And all chances sum to one."""
    found = suspects(computed, None)
    assert found[0].name == AS_PLANNED
    assert found[0].probability > 0.9
    assert sum(one.probability for one in found) == pytest.approx(1.0)


def test_every_part_is_looked_at_by_place_and_by_mass(computed: Computed) -> None:
    """Each of them once, with a step that costs a minute."""
    found = suspects(computed, None)
    for item in computed("reedling").plane.items:
        for words in ("sits elsewhere than", "weighs otherwise than"):
            one = named(found, f"the {item.name} {words}")
            assert one.check
    assert len({one.name for one in found}) == len(found)


def test_a_pack_moved_in_its_bay_is_found_with_its_place(computed: Computed) -> None:
    """Moved from 120 to 65 mm, that place is computed back from the lever rule: m d / M."""
    found = suspects(computed, {"items.pack.at.x": "65 mm"}, spread=0.5e-3)
    causes = [one for one in found if one.name != AS_PLANNED]
    assert causes[0].name == "the pack sits elsewhere than in the file"
    where = re.search(r"at ([\d.]+) mm, within its reach of 60.0–150 mm", causes[0].speaks_for)
    assert where is not None
    assert float(where[1]) == pytest.approx(65.0, abs=1.0)
    assert causes[0].speaks_against == ""
    assert "120 mm in the file" in causes[0].check


def test_a_place_beyond_the_reach_or_the_plane_speaks_against_a_part(computed: Computed) -> None:
    """A pack cannot lie where there is no bay, nor a receiver ahead of the nose."""
    plane = computed("reedling")
    middle = float(np.median(plane.masses.centre[:, 0]))
    seen = (Observation(name="balance_place", value=middle - 15e-3, spread=1e-3),)
    found = balance_suspects(plane, seen, None)
    assert "beyond its reach of 60.0–150 mm" in named(found, "the pack sits").speaks_against
    assert "the plane ends before" in named(found, "the receiver sits").speaks_against
    assert "no mass there would do it" in named(found, "the GPS weighs").speaks_against


def test_a_shift_is_held_against_the_spread_of_the_file(computed: Computed) -> None:
    """The motor 20 mm off: ten times the 2 mm that a part's place is known to."""
    found = suspects(computed, {"items.motor.at.x": "340 mm"}, spread=0.3e-3)
    motor = named(found, "the motor sits")
    assert "at 340 mm" in motor.speaks_for
    assert "10 times the ± 2.00 mm" in motor.speaks_against


def test_a_heavy_part_explains_more_than_a_light_one(computed: Computed) -> None:
    """Six millimetres: 18 g of motor 84 mm off, or 2 g of receiver 760 mm off."""
    plane = computed("reedling")
    middle = float(np.median(plane.masses.centre[:, 0]))
    seen = (Observation(name="balance_place", value=middle - 6e-3, spread=1e-3),)
    found = balance_suspects(plane, seen, None)
    motor, receiver = (named(found, f"the {name} sits") for name in ("motor", "receiver"))
    assert motor.probability > 1.3 * receiver.probability


def test_two_scales_find_the_heavy_part(computed: Computed) -> None:
    """Twenty grams more of glue: of all parts' masses none other does it."""
    changes = {"items.glue, tape and wire.mass": "32 g"}
    found = suspects(computed, changes, scales=True, spread=0.5e-3)
    heavy = [one for one in found if "weighs otherwise" in one.name]
    assert heavy[0].name == "the glue, tape and wire weighs otherwise than in the file"
    assert heavy[0].probability > 10.0 * heavy[1].probability
    assert "both scales together show" in named(found, "the camera weighs").speaks_against


def test_a_part_nobody_listed_is_found_by_two_scales(computed: Computed) -> None:
    """Twelve grams of lead in the tail."""
    found = suspects(computed, FORGOTTEN, scales=True)
    assert found[0].name == "something is aboard that the file does not list"
    assert "both scales together show 12.1 g more than planned" in found[0].speaks_for
    assert "at the tail's end would do it" in found[0].speaks_for
    pack = named(found, "the pack weighs")
    assert pack.probability < 0.02
    moved = named(found, "the pack sits")
    assert moved.probability < 1e-3


def test_what_the_scale_showed_already_explains_it(computed: Computed) -> None:
    """The weighings since the plan are one cause, and those parts are no longer doubted."""
    built = computed("reedling", {"items.GPS.mass": "19 g"})
    found = balance_suspects(computed("reedling"), read_of(built), built.plane)
    assert found[0].name == "parts weigh otherwise than planned, as the scale showed (GPS)"
    assert found[0].probability > 0.5
    assert "moves the planned balance" in found[0].speaks_for
    assert not [one for one in found if "the GPS weighs otherwise" in one.name]


def test_weighings_that_point_the_other_way_speak_against_themselves(computed: Computed) -> None:
    """A heavier tail does not move the balance forward."""
    plane, built = computed("reedling"), computed("reedling", {"items.GPS.mass": "19 g"})
    middle = float(np.median(plane.masses.centre[:, 0]))
    seen = (Observation(name="balance_place", value=middle - 9e-3, spread=1e-3),)
    one = named(balance_suspects(plane, seen, built.plane), "as the scale showed")
    assert one.speaks_for == ""
    assert "aft" in one.speaks_against
    assert "forward was read" in one.speaks_against
    assert one.probability < 1e-3


def test_only_what_was_weighed_otherwise_counts_as_weighed(computed: Computed) -> None:
    """All pieces of it; the bare foam by its own name; nothing where nothing was."""
    plane = computed("reedling")
    changes = {"items.aileron servos.mass": "5.5 g", "airframe.bare_mass": "120 g"}
    built = computed("reedling", changes)
    found = weighed_now(plane.plane, built.plane)
    assert found == pytest.approx({"aileron servos": 11e-3, "bare foam": 120e-3})
    assert weighed_now(plane.plane, None) == {}
    assert weighed_now(plane.plane, plane.plane) == {}


def test_another_zero_and_bad_fingertips_are_named(computed: Computed) -> None:
    """Ten centimetres off is a ruler laid wrong, six millimetres may be fingertips."""
    plane = computed("reedling")
    middle = float(np.median(plane.masses.centre[:, 0]))
    far = (Observation(name="balance_place", value=middle + 0.1, spread=2e-3),)
    first = balance_suspects(plane, far, None)[0]
    assert "another point than the file's x = 0" in first.name
    assert "100 mm ahead of" in first.speaks_for
    near = (Observation(name="balance_place", value=middle + 6e-3, spread=2e-3),)
    tips = named(balance_suspects(plane, near, None), "fingertips slipped")
    assert "times what such a reading misses" in tips.speaks_for
    assert tips.probability > named(balance_suspects(plane, far, None), "fingertips").probability


def test_reasons_are_in_the_users_units(computed: Computed) -> None:
    """Inches and ounces, no millimetre left."""
    plane = computed("reedling")
    built = computed("reedling", {"items.pack.at.x": "65 mm"})
    imperial = plane.plane.model_copy(update={"units": "imperial"})
    for one in balance_suspects(plane, read_of(built, scales=True), imperial):
        said = f"{one.check} {one.speaks_for} {one.speaks_against}"
        assert " mm" not in said
        assert " g " not in said.replace(" g)", " g ")

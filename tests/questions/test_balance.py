"""Does it balance with the pack where I can reach it?"""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.questions import balance
from foamwright.questions.case import Case

CaseOf = Callable[[str], Case]

TAPER = 0.110 / 0.150
CHORD = 2.0 / 3.0 * 0.150 * (1.0 + TAPER + TAPER**2) / (1.0 + TAPER)
"""Mean aerodynamic chord of the glider's wing, the handbook formula of a trapezium [m]: 131 mm."""

NAMES = [
    ("static_margin", "static margin", "-", "fraction"),
    ("cg_x", "centre of gravity from the nose", "m", "length"),
    ("neutral_point_x", "neutral point from the nose", "m", "length"),
    ("cg_y", "centre of gravity sideways", "m", "length"),
    ("cg_forward_limit", "foremost centre of gravity wanted", "m", "length"),
    ("cg_rear_limit", "rearmost centre of gravity wanted", "m", "length"),
    ("chance_unstable", "chance of no stability at all", "-", "fraction"),
    ("pack_x_for_target", "pack place for 10% margin", "m", "length"),
    ("margin_pack_foremost", "margin, pack foremost", "-", "fraction"),
    ("margin_pack_rearmost", "margin, pack rearmost", "-", "fraction"),
    ("ballast_mass", "ballast needed at the nose", "kg", "mass"),
    ("chance_one_place", "chance with the pack at its one best place", "-", "fraction"),
]

TAIL_HEAVY: dict[str, object] = {
    "items.pack.at.x": "145 mm",
    "items.pack.reach": {"foremost": "140 mm", "rearmost": "150 mm"},
}
"""A bay too far aft for the glider."""


def value(case: Case, name: str) -> float:
    """Return a balance figure's median."""
    found = balance.measure(case).named(name).value
    assert found is not None
    return found


def test_the_figures_are_named_for_good(reedling: Case) -> None:
    """Others read these names; limits are the wanted margin and the pack's reach."""
    found = balance.measure(reedling).figures
    assert [(f.name, f.label, f.unit, f.dimension) for f in found] == NAMES
    limits = {f.name: (f.limit_low, f.limit_high) for f in found}
    margin = (0.05, 0.15)
    assert {name: pair for name, pair in limits.items() if pair != (None, None)} == {
        "static_margin": margin,
        "pack_x_for_target": (0.060, 0.150),
        "margin_pack_foremost": margin,
        "margin_pack_rearmost": margin,
    }


def test_the_margin_is_the_way_from_cg_to_neutral_point_over_the_chord(reedling: Case) -> None:
    """Sample by sample, with the chord of the handbook's trapezium."""
    computed = reedling.computed
    way = computed.lift.neutral_point - computed.masses.centre[:, 0]
    assert value(reedling, "static_margin") == pytest.approx(np.median(way / CHORD), abs=3e-4)


def test_limits_of_the_cg_lie_a_margin_ahead_of_the_neutral_point(reedling: Case) -> None:
    """5 % and 15 % of the chord ahead."""
    neutral = value(reedling, "neutral_point_x")
    assert value(reedling, "cg_rear_limit") == pytest.approx(neutral - 0.05 * CHORD, abs=3e-4)
    assert value(reedling, "cg_forward_limit") == pytest.approx(neutral - 0.15 * CHORD, abs=3e-4)


@pytest.mark.parametrize(
    ("reach", "words"),
    [
        (("60 mm", "150 mm"), ("yes",)),
        (("225 mm", "226 mm"), ("no",)),
        (("1 mm", "2 mm"), ("no", "unlikely")),
    ],
)
def test_the_pack_s_reach_decides(
    reedling: Case, reach: tuple[str, str], words: tuple[str, ...]
) -> None:
    """A bay around the right place, one far behind it, one far ahead of it."""
    keys: dict[str, object] = {
        "items.pack.at.x": reach[0],
        "items.pack.reach": {"foremost": reach[0], "rearmost": reach[1]},
    }
    assert balance.answer(reedling.changed(keys)).verdict in words


def test_the_wanted_margin_decides(case: CaseOf) -> None:
    """A builder who wants more than the pack can give hears no; wide limits are met."""
    plane = case("windrow")
    greedy: dict[str, object] = {"targets.margin_low": "30 %", "targets.margin_high": "40 %"}
    modest: dict[str, object] = {"targets.margin_low": "-10 %", "targets.margin_high": "30 %"}
    assert balance.answer(plane.changed(greedy)).verdict == "no"
    assert balance.answer(plane.changed(modest)).verdict == "yes"


def test_the_pack_at_its_place_gives_the_margin_aimed_at(reedling: Case) -> None:
    """Moved to where it says, the plane has 10 %."""
    place = value(reedling, "pack_x_for_target")
    moved = reedling.changed({"items.pack.at.x": f"{place * 1e3:.1f} mm"})
    assert value(moved, "static_margin") == pytest.approx(0.10, abs=0.003)


def test_the_pack_at_its_stops_gives_the_margins_told(reedling: Case) -> None:
    """Moved to either end of its reach; forward is more stable."""
    for name, stop in (("margin_pack_foremost", "60 mm"), ("margin_pack_rearmost", "150 mm")):
        moved = reedling.changed({"items.pack.at.x": stop})
        assert value(moved, "static_margin") == pytest.approx(value(reedling, name), abs=2e-3)
    foremost, rearmost = (value(reedling, f"margin_pack_{end}") for end in ("foremost", "rearmost"))
    assert foremost > value(reedling, "static_margin") > rearmost


def test_ballast_gives_the_margin_aimed_at(reedling: Case) -> None:
    """The grams told, glued in the nose with the pack foremost, make 10 % or a little more.

    They are rounded up to whole grams, and a gram 250 mm ahead of the wing is 0.8 % of margin.
    """
    heavy = reedling.changed(TAIL_HEAVY)
    (change,) = balance.ballast_change(heavy, balance.measure(heavy))
    cured = reedling.changed({**TAIL_HEAVY, **change.keys})
    assert value(heavy, "static_margin") < 0.05
    assert 0.099 < value(cured, "static_margin") < 0.10 + 0.008
    told = np.ceil(value(heavy, "ballast_mass") * 1e3) / 1e3
    gained = cured.computed.masses.all_up - heavy.computed.masses.all_up
    assert np.median(gained) == pytest.approx(told, abs=1e-4)


def test_ballast_is_the_moment_it_lacks(reedling: Case) -> None:
    """m (x wanted - 10 mm) = M (x - x wanted), the lever on paper."""
    heavy = reedling.changed({**TAIL_HEAVY, "items.pack.at.x": "140 mm"})
    wanted = value(heavy, "neutral_point_x") - 0.10 * CHORD
    lack = 0.2525 * (value(heavy, "cg_x") - wanted)
    assert value(heavy, "ballast_mass") == pytest.approx(lack / (wanted - 0.010), rel=0.05)


def test_a_plane_that_balances_needs_no_ballast(reedling: Case) -> None:
    """None offered where the pack reaches."""
    assert value(reedling, "ballast_mass") == 0.0
    assert balance.ballast_change(reedling, balance.measure(reedling)) == []


def test_every_remedy_does_what_it_says(reedling: Case) -> None:
    """Each change applied again gives the effect that was told."""
    heavy = reedling.changed(TAIL_HEAVY)
    answer = balance.answer(heavy)
    assert answer.remedies
    for remedy in answer.remedies:
        after = balance.measure(heavy.changed(remedy.keys))
        chance, margin, centre = remedy.effect
        assert chance.after == after.probability
        assert margin.after == after.named("static_margin").value
        assert centre.after == after.named("cg_x").value


def test_a_part_moved_reaches_the_margin_aimed_at(reedling: Case) -> None:
    """Any one of the parts proposed to move makes 10 % as drawn."""
    changes = balance.move_changes(reedling)
    assert changes
    for change in changes:
        moved = value(reedling.changed(change.keys), "static_margin")
        assert moved == pytest.approx(0.10, abs=0.006), change.do


def test_what_weighs_nothing_is_not_moved(reedling: Case) -> None:
    """No division by its mass."""
    weightless = reedling.changed({"items.GPS.mass": "0 g"})
    assert all("GPS" not in change.do for change in balance.move_changes(weightless))


def test_a_heavy_side_is_told(reedling: Case) -> None:
    """7 g of GPS 350 mm out hang the whole of 252.5 g 9.7 mm to the right."""
    aside = reedling.changed({"items.GPS.at.y": "350 mm"})
    assert value(aside, "cg_y") == pytest.approx(7.0 * 0.350 / 252.5, abs=2e-4)
    assert "to the right" in balance.answer(aside).because
    assert "it hangs" not in balance.answer(reedling).because


def test_an_item_without_a_place_leaves_it_open(reedling: Case) -> None:
    """Its key is named, no remedy offered, and the knife stays in the drawer."""
    answer = balance.answer(reedling.changed({"items.camera.at": None}))
    assert (answer.verdict, answer.missing) == ("open", ("items.camera.at",))
    assert answer.remedies == ()
    assert answer.cautions == ("Do not cut pockets yet: foam cannot be uncut.",)


def test_without_a_pack_the_margin_is_as_drawn(reedling: Case) -> None:
    """No figure of a reach, and a reason all the same."""
    bare = reedling.changed({"items.pack": None})
    answer = balance.answer(bare)
    assert balance.pack_reach(bare, 0.10) is None
    assert [f.name for f in answer.figures] == [name for name, *_ in NAMES[:7]]
    margin = bare.computed.lift.neutral_point - bare.computed.masses.centre[:, 0]
    wanted = (margin / CHORD >= 0.05) & (margin / CHORD <= 0.15)
    assert answer.probability == pytest.approx(np.mean(wanted), abs=0.01)


def test_an_unweighed_pack_is_told_first(case: CaseOf) -> None:
    """The plank's pack is known by its label only."""
    answer = balance.answer(case("windrow"))
    assert answer.provisional
    assert "weigh it first" in answer.because
    assert any(remedy.do.startswith("Weigh pack") for remedy in answer.remedies)


@pytest.mark.parametrize(
    ("plane", "wanted"),
    [
        ("reedling", (0.05, 0.10, 0.15)),
        ("windrow", (0.05, 0.08, 0.15)),
        ("anvil", (0.08, 0.10, 0.18)),
    ],
)
def test_the_wanted_margin_is_the_layout_s(
    case: CaseOf, plane: str, wanted: tuple[float, float, float]
) -> None:
    """Common practice by layout, no source; the builder's own limits win and bound the aim."""
    found = balance.window(case(plane))
    assert (found.least, found.aim, found.most) == wanted
    own = balance.window(case(plane).changed({"targets.margin_low": "12 %"}))
    assert (own.least, own.aim) == (0.12, 0.12)

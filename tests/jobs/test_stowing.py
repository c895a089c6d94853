"""A new plane begins with gear that fits, whatever was told."""

from pathlib import Path

import numpy as np
import pytest

from foamwright.jobs import shapes, stowing
from foamwright.jobs.ask import Settings, ask
from foamwright.jobs.create import create
from foamwright.jobs.stowing import GAP, TAPE, Body, Manner, Stowed
from foamwright.plane.airframe import Layout
from foamwright.plane.document import load
from foamwright.quantity import read

BODY = Body(length=0.5, cuts=shapes.SLENDER)


def told(layout: Layout, span: float, **more: str) -> dict[str, str]:
    """Return answers."""
    answers = {key.replace("__", "."): text for key, text in more.items()}
    return {"layout": layout, "ruler.span": f"{span:g} mm", **answers}


@pytest.mark.parametrize("span", [350, 500, 650, 850])
@pytest.mark.parametrize("layout", shapes.LAYOUTS)
def test_the_gear_of_a_new_plane_fits(layout: Layout, span: float, tmp_path: Path) -> None:
    """Nobody's first answer is that a propeller nobody placed cuts a body nobody measured."""
    create(tmp_path, told(layout, span))
    (answer,) = ask(tmp_path, ("fit",), Settings(samples=64)).answers
    assert answer.probability is not None
    assert answer.probability > 0.5, answer.because


@pytest.mark.parametrize("span", [400, 800])
@pytest.mark.parametrize("layout", shapes.LAYOUTS)
def test_the_pack_of_a_new_plane_lies_where_it_balances(
    layout: Layout, span: float, tmp_path: Path
) -> None:
    """As drawn, not only if the pack were moved; a delta's bay ends a little short of it."""
    create(tmp_path, told(layout, span))
    (answer,) = ask(tmp_path, ("balance",), Settings(samples=64)).answers
    margin = next(f for f in answer.figures if f.name == "static_margin")
    assert margin.value is not None
    assert margin.limit_low is not None
    assert margin.limit_high is not None
    assert margin.limit_low <= margin.value <= margin.limit_high


def test_a_told_place_is_kept_and_the_rest_makes_room() -> None:
    """The controller sits where the builder says; the receiver finds another place."""
    given = told("tail aft", 800, places__flight_controller="200 mm", places__pack="110 mm")
    stand_in = stowing.stand_ins("tail aft", given)
    found = stowing.laid("tail aft", given, stand_in)
    assert found["flight_controller"][1] == pytest.approx(0.2)
    assert found["pack"][1] == pytest.approx(0.11)
    places = sorted(x for manner, x in found.values() if x is not None and not manner.outside)
    assert min(np.diff(places)) > GAP


def test_a_told_body_does_not_grow() -> None:
    """Where gear is too large for a measured body, fit has to say so."""
    given = told("tail aft", 600, ruler__body_width="20 mm")
    text = {**stowing.stand_ins("tail aft", given), **given}
    assert text["ruler.body_width"] == "20 mm"
    assert read(stowing.stand_ins("tail aft", given)["ruler.body_width"], "length").value > 0.02


def test_wide_bodies_hold_their_gear_flat_and_slender_ones_on_edge() -> None:
    """A board of 30 x 30 x 7 mm."""
    size = (0.030, 0.030, 0.007)
    assert stowing.lying("flight controller", size, 0.05) == (size, Manner())
    box, manner = stowing.lying("flight controller", size, 0.02)
    assert box == (0.030, 0.007, 0.030)
    assert manner.lies == "on edge"


def test_two_servos_side_by_side_keep_a_wall() -> None:
    """Ten millimetres wide each, seven between them."""
    box, manner = stowing.pair_of((0.023, 0.010, 0.0215))
    assert manner.sideways == pytest.approx(0.0085)
    assert box == pytest.approx((0.023, 0.027, 0.0215))


@pytest.mark.parametrize(
    ("wanted", "taken", "place"),
    [
        (0.20, [], 0.20),
        (0.20, [(0.21, 0.02)], 0.21 - 0.02 - 0.01 - GAP),
        (0.22, [(0.21, 0.02)], 0.21 + 0.02 + 0.01 + GAP),
        (0.02, [], 0.11),
        (0.20, [(0.2, 0.2)], None),
    ],
)
def test_the_nearest_free_place_is_taken(
    wanted: float, taken: list[tuple[float, float]], place: float | None
) -> None:
    """Before or behind what lies there, within the ends; none where it is full."""
    found = stowing.apart(wanted, 0.01, taken, (0.1, 0.4))
    assert found == (None if place is None else pytest.approx(place))


def test_the_body_between_its_cuts() -> None:
    """Straight from cut to cut; never beyond its ends; too slender before and behind the middle."""
    assert stowing.share_at(0.0, BODY, 1) == pytest.approx(0.55)
    assert stowing.share_at(0.0625, BODY, 1) == pytest.approx(0.775)
    assert stowing.share_at(0.9, BODY, 1) == pytest.approx(0.3)
    assert stowing.share_at(0.9, BODY, 2) == pytest.approx(0.35)
    assert stowing.least_share(0.125, 0.125, BODY, 1) == pytest.approx(0.775)
    begin, end = BODY.full
    assert stowing.share_at(begin, BODY, 1) == pytest.approx(stowing.FULL)
    assert end == pytest.approx(0.3)


def test_what_has_no_room_is_taped_under_the_body() -> None:
    """Flat, its upper side a tape below the foam."""
    part = Stowed(place="receiver", box=(0.015, 0.004, 0.013), manner=Manner())
    found = stowing.under(part, 0.125, BODY, {"ruler.body_height": "40 mm"})
    assert found.manner.outside
    assert found.box == (0.015, 0.013, 0.004)
    assert found.manner.height == pytest.approx(-0.020 - 0.002 - TAPE)


@pytest.mark.parametrize(("along", "share"), [(0.3, 1.0), (0.5, 0.882), (0.0, 0.0), (1.0, 0.021)])
def test_the_usual_section_is_the_four_digit_one(along: float, share: float) -> None:
    """Thickness of a NACA 0012 over 12 %, Abbott & von Doenhoff 1959, from memory."""
    assert stowing.foil(along) == pytest.approx(share, abs=0.004)


@pytest.mark.parametrize("layout", ["plank", "swept wing", "delta", "canard"])
def test_a_pusher_s_propeller_turns_behind_body_and_wing(layout: Layout) -> None:
    """So it needs no pylon."""
    given = told(layout, 600)
    text = stowing.stand_ins(layout, given)
    plan = shapes.planform(layout, given)
    propeller = read(text["places.propeller"], "length").value
    assert propeller > plan.length
    assert propeller > stowing.trailing_edge(plan, stowing.radius_of(text))
    assert stowing.shaft_height(plan, stowing.body_of(layout, given), text) == 0.0


@pytest.mark.parametrize("layout", ["tail aft", "V-tail", "T-tail", "twin-tail jet"])
def test_above_a_boom_the_propeller_stands_on_a_pylon(layout: Layout, tmp_path: Path) -> None:
    """Its tips keep clear of the body; motor and propeller share the shaft."""
    plane = load(create(tmp_path, told(layout, 600)).file).plane
    motor, propeller = (next(i for i in plane.items if i.kind == k) for k in ("motor", "propeller"))
    assert motor.at is not None
    assert propeller.at is not None
    assert motor.at.z is not None
    assert propeller.at.z is not None
    assert (
        motor.at.z.value
        == propeller.at.z.value
        > stowing.radius_of(shapes.stand_ins(layout, told(layout, 600)))
    )


@pytest.mark.parametrize(("thickness", "outside"), [("15 %", False), ("9 %", False), ("4 %", True)])
def test_a_servo_lies_in_a_thick_wing_and_under_a_thin_one(thickness: str, outside: bool) -> None:  # noqa: FBT001 - a table
    """Out of the foam as far as it must, and never held by a sliver."""
    given = told("plank", 800, ruler__thickness=thickness)
    text = {**stowing.stand_ins("plank", given), **given}
    manner = stowing.in_wing(shapes.planform("plank", given), text, 0.4)
    assert manner.outside is outside
    assert manner.lies == "on edge"
    if outside:
        assert manner.height is not None
        assert manner.height < 0.0


def test_no_servo_and_no_propeller_are_no_trouble() -> None:
    """A chuck glider."""
    given = told("plank", 500, labels__servo="none", labels__propeller="none", labels__motor="none")
    text = {**stowing.stand_ins("plank", given), **given}
    found = stowing.laid("plank", given, text)
    assert found["wing_servos"][0] == Manner()
    assert "motor" not in found


@pytest.mark.parametrize("layout", shapes.LAYOUTS)
def test_a_new_plane_weathercocks_and_its_trim_leaves_some_control(
    layout: Layout, tmp_path: Path
) -> None:
    """Usual fins keep the nose ahead of the tail, usual sections need no more than ten degrees."""
    create(tmp_path, told(layout, 600))
    (answer,) = ask(tmp_path, ("control",), Settings(samples=64)).answers
    assert "swaps ends" not in answer.because
    trim = next(f.value for f in answer.figures if f.label.startswith("pitch trim at cruise"))
    assert trim is not None
    assert abs(np.rad2deg(trim)) < 10.0


def test_the_usual_camber_of_a_flying_wing_is_marked(tmp_path: Path) -> None:
    """It is a guess like any other; a told one is kept without a mark."""
    guessed = create(tmp_path / "guess", told("plank", 600)).file.read_text(encoding="utf-8")
    assert 'camber = "0.8 ± 0.5 %"' in guessed
    assert "wing thickness, camber" in guessed
    given = told("plank", 600, ruler__camber="1.5 %")
    text = create(tmp_path / "told", given).file.read_text(encoding="utf-8")
    assert 'camber = "1.5 %"' in text
    assert "thickness, camber" not in text

"""A new plane file but for its items."""

import tomllib
from typing import Any

import pytest

from foamwright.jobs import draft, shapes
from foamwright.jobs.create import sheet_of
from foamwright.plane.airframe import Layout
from foamwright.quantity import read


def frame(**told: str) -> dict[str, Any]:
    """Return the airframe that answers make."""
    answers = {key.replace("__", "."): text for key, text in told.items()}
    sheet = sheet_of({"ruler.span": "800 mm", **answers}, "x")
    found: dict[str, Any] = tomllib.loads("\n".join(draft.frame_lines(sheet)))
    return found


def surface(found: dict[str, Any], role: str) -> dict[str, Any]:
    """Return the surface of a role."""
    chosen: dict[str, Any] = next(s for s in found["airframe"]["surfaces"] if s["role"] == role)
    return chosen


def metres(text: str) -> float:
    """Return a written length in metres."""
    return read(text, "length").value


def test_the_wing_is_what_the_ruler_said() -> None:
    """Root and tip where they were measured, and no remark left on them."""
    found = frame(
        layout="tail aft",
        ruler__root_chord="150 mm",
        ruler__tip_chord="110 mm",
        ruler__wing_from_nose="205 mm",
        ruler__tip_set_back="20 mm",
        ruler__thickness="15 mm",
    )
    root, tip = surface(found, "wing")["stations"]
    assert (root["leading_edge"], root["chord"]) == ("205 mm", "150 mm")
    assert metres(tip["leading_edge"]) == pytest.approx(0.225)
    assert metres(tip["y"]) == pytest.approx(0.4)
    assert root["thickness"] == "15 mm"
    assert tip["thickness"] == "10.0 %"  # 15 mm of 150 mm, the same section


def test_a_canard_flies_in_front_and_a_tail_behind() -> None:
    """The arm runs aft to a tail, forward to a canard, from the wing's leading edge."""
    behind = frame(layout="tail aft", ruler__wing_from_nose="205 mm", ruler__tail_arm="400 mm")
    ahead = frame(layout="canard", ruler__wing_from_nose="460 mm", ruler__tail_arm="400 mm")
    assert metres(surface(behind, "tail")["stations"][0]["leading_edge"]) == pytest.approx(0.605)
    assert metres(surface(ahead, "canard")["stations"][0]["leading_edge"]) == pytest.approx(0.06)


def test_a_t_tail_sits_on_its_fin() -> None:
    """The tail's height is the fin's."""
    found = frame(layout="T-tail", ruler__fin_height="95 mm")
    assert metres(surface(found, "tail")["stations"][0]["z"]) == pytest.approx(0.095)
    assert metres(surface(found, "fin")["stations"][1]["z"]) == pytest.approx(0.095)


@pytest.mark.parametrize("layout", shapes.LAYOUTS)
def test_every_layout_can_be_steered_in_pitch_and_roll(layout: Layout) -> None:
    """Each has something for either, moved by a servo."""
    roles = {
        control["role"]
        for part in frame(layout=layout)["airframe"]["surfaces"]
        for control in part.get("controls", [])
    }
    assert roles & {"elevator", "elevon", "ruddervator"}
    assert roles & {"aileron", "elevon"}


def test_missing_weighings_are_left_out_not_nought() -> None:
    """No bare mass was told: there is none in the file, only a remark on how to add it."""
    found = frame(layout="plank")
    assert "bare_mass" not in found["airframe"]
    assert "bare_balance" not in found["airframe"]
    told = frame(layout="plank", scale__bare_mass="62 g", scale__bare_balance="210 mm")
    assert told["airframe"]["bare_mass"] == "62 g"
    assert told["airframe"]["bare_balance"] == {"x": "210 mm"}


def test_wishes_nobody_has_stay_remarks() -> None:
    """A wish is never made up."""
    assert frame(layout="plank")["targets"] == {}
    assert frame(layout="plank", targets__top_speed="25 m/s")["targets"] == {"top_speed": "25 m/s"}

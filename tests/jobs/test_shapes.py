"""What stands in for what nobody measured."""

import pytest

from foamwright.jobs import shapes
from foamwright.plane.airframe import Layout
from foamwright.plane.stock import stock
from foamwright.quantity import read


@pytest.mark.parametrize("layout", shapes.LAYOUTS)
def test_stand_ins_grow_with_the_span(layout: Layout) -> None:
    """Twice the span, twice every length the ruler would tell."""
    small = shapes.ruler(layout, {"ruler.span": "400 mm"})
    large = shapes.ruler(layout, {"ruler.span": "800 mm"})
    for key in small.keys() - {"ruler.dihedral", "ruler.thickness", "ruler.camber"}:
        twice = 2.0 * read(small[key], "length").value
        assert read(large[key], "length").value == pytest.approx(twice, abs=1.1e-3)


@pytest.mark.parametrize("layout", shapes.LAYOUTS)
def test_what_was_told_shapes_the_rest(layout: Layout) -> None:
    """A told root chord carries the usual taper with it; a told place keeps the pack in its bay."""
    told = {"ruler.span": "600 mm", "ruler.root_chord": "200 mm", "places.pack_foremost": "70 mm"}
    found = shapes.stand_ins(layout, told)
    tip = read(found["ruler.tip_chord"], "length").value
    assert tip == pytest.approx(0.2 * shapes.SHAPES[layout].taper, abs=1e-3)
    foremost = read(found["places.pack_foremost"], "length").value
    assert foremost == pytest.approx(0.07)
    assert foremost <= read(found["places.pack"], "length").value
    assert found["places.pack_rearmost"]


@pytest.mark.parametrize("layout", shapes.LAYOUTS)
@pytest.mark.parametrize("span", [300, 460, 600, 900])
def test_the_pack_bay_lies_in_the_front_half(layout: Layout, span: int) -> None:
    """The pack balances what sits behind: its bay begins in the nose and ends before the motor."""
    found = shapes.places(layout, {"ruler.span": f"{span} mm"})
    x = {key.partition(".")[2]: read(text, "length").value for key, text in found.items()}
    plan = shapes.planform(layout, {"ruler.span": f"{span} mm"})
    assert 0.0 < x["pack_foremost"] < x["pack"] < x["pack_rearmost"]
    assert x["pack_foremost"] < 0.5 * plan.length
    assert x["pack_rearmost"] < x["motor"]


@pytest.mark.parametrize("span", [0.25, 0.5, 0.9])
@pytest.mark.parametrize("layout", ["tail aft", "delta"])
def test_usual_gear_is_in_the_stock(layout: Layout, span: float) -> None:
    """Whatever stands in for a label is a part class that exists."""
    kinds = {"speed_controller": "esc", "flight_controller": "flight controller"}
    kinds |= {"video_transmitter": "video transmitter"}
    for key, label in shapes.labels(layout, span).items():
        name = key.partition(".")[2]
        if label != "none":
            assert stock().entry(label, kinds.get(name, name))["name"]


def test_sweep_sets_the_tip_back() -> None:
    """45 degrees of sweep set the tip back by the half span."""
    plan = shapes.planform("swept wing", {"ruler.span": "600 mm", "ruler.sweep": "45 deg"})
    assert plan.set_back == pytest.approx(0.3)
    assert plan.along(1.0, 0.0) == pytest.approx(plan.nose + 0.3)


def test_what_nobody_measured_carries_a_spread() -> None:
    """A stand-in is a guess, and says how good a one."""
    quantity = read(shapes.length(0.2), "length")
    assert quantity.spread == pytest.approx(shapes.DOUBT * 0.2)

"""The drawing: every part can be taken hold of, within its range, from above and the side."""

from xml.etree import ElementTree as ET

import pytest

from foamwright.jobs.draw import LOOSE
from foamwright.page.desk import Desk
from foamwright.page.sketch import movables, moved, outline, placed, sketch
from foamwright.plane.placement import Place

SVG = "{http://www.w3.org/2000/svg}"


def read(svg: str) -> ET.Element:
    """Return a drawing taken apart."""
    return ET.fromstring(svg)  # noqa: S314 - our own drawing


def handles(svg: str) -> list[ET.Element]:
    """Return what can be taken hold of."""
    return [g for g in read(svg).iter(f"{SVG}g") if g.get("class") == "handle"]


def test_every_placed_part_is_there_twice(desk: Desk) -> None:
    """Each part with a place can be moved from above and from the side."""
    sight = desk.sight()
    found = [
        (h.get("data-part"), h.get("data-view")) for h in handles(sketch(sight.case, None).svg)
    ]
    names = [
        item.name
        for item in sight.loaded.plane.items
        if item.at is not None and item.kind not in LOOSE
    ]
    assert sorted(found) == sorted((n, v) for n in names for v in ("top", "side"))


def test_a_part_tells_its_reach_to_a_screen_reader(desk: Desk) -> None:
    """The pack's range is the builder's own: 60 to 150 mm in the example."""
    pack = next(
        h for h in handles(sketch(desk.sight().case, None).svg) if h.get("data-part") == "pack"
    )
    assert (pack.get("aria-valuemin"), pack.get("aria-valuemax")) == ("60", "150")
    assert pack.get("tabindex") == "0"
    assert "mm from the nose" in str(pack.get("aria-valuetext"))


def test_no_part_begins_outside_its_range(desk: Desk) -> None:
    """Where a part is, it may be."""
    for part in movables(desk.sight().case):
        for value, (low, high) in zip(part.place, (part.x, part.y, part.z), strict=True):
            assert low <= value <= high


def test_the_balance_follows_a_part(desk: Desk) -> None:
    """The moment of 41 of 253 g moved 20 mm forward: the centre moves by their product."""
    sight = desk.sight()
    before = sketch(sight.case, None)
    case = sight.asked({"items.pack.at.x": "100 mm"})
    after = moved(case, sight.case, None)
    assert after.strips != before.strips
    masses = sight.case.computed.masses
    share = float((masses.named("pack").mass / masses.all_up).mean())
    assert after.centre[0][0] - before.centre[0][0] == pytest.approx(-20.0 * share, rel=0.05)


def test_the_foam_is_drawn_before_anything_is_computed(desk: Desk) -> None:
    """The first picture has the foam, and no part to take hold of yet."""
    svg = outline(desk.reading().loaded)
    assert handles(svg) == []
    assert len(list(read(svg).iter(f"{SVG}polygon"))) >= 6


@pytest.mark.parametrize(
    ("written", "to", "text"),
    [("120 mm", 101.0, "101 mm"), ("120 ± 2 mm", 99.54, "99.5 ± 2 mm"), (None, 3.0, "3 mm")],
)
def test_a_new_place_keeps_its_spread(written: str | None, to: float, text: str) -> None:
    """What is known of a measurement stays known when the part moves."""
    place = None if written is None else Place.model_validate({"x": written})
    assert placed(place, "x", to) == text

"""What cannot be cut into the foam."""

from pathlib import Path

import pytest

from foamwright.plane.document import load
from foamwright.plane.variants import overridden
from foamwright.problems import PlaneFileProblem

REEDLING = Path(__file__).parents[2] / "examples" / "reedling"
ROD = {"kind": "rod", "mass": "2 g", "diameter": "2 mm", "at": {"x": "270 mm"}}


def spar(**ends: object) -> dict[str, object]:
    """Return a spar across the wing with some of its keys changed."""
    found = {
        **ROD,
        "starts": {"x": "270 mm", "y": "-300 mm"},
        "ends": {"x": "270 mm", "y": "300 mm"},
        **ends,
    }
    return {"items.spar": {key: value for key, value in found.items() if value is not None}}


BODY = "airframe.bodies.fuselage"


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        (spar(ends={"x": "270 mm", "y": "460 mm"}), "760 mm long, ends at 460 mm: longer than"),
        (spar(ends={"x": "900 mm", "y": "0 mm"}), "ends at 900 mm"),
        (spar(ends=None), "a rod has two ends"),
        (spar(diameter=None), "needs a diameter"),
        (spar(bore="2 mm"), "leaves no wall"),
        ({f"{BODY}.wall": "8 mm"}, "leaves no room"),
        ({f"{BODY}.hatches.bay.rearmost": "50 mm"}, "ahead of the foremost"),
        ({f"{BODY}.hatches.bay.rearmost": "900 mm"}, "reaches beyond fuselage"),
        ({f"{BODY}.hatches.bay.width": "80 mm"}, "is wider than fuselage"),
    ],
)
def test_what_cannot_be_is_told_with_what_would_be_right(
    keys: dict[str, object], said: str
) -> None:
    """One clear problem, with the limit it breaks."""
    with pytest.raises(PlaneFileProblem, match=said):
        overridden(load(REEDLING), keys)


def test_a_rod_inside_the_wing_is_accepted() -> None:
    """Its ends lie in the foam."""
    plane = overridden(load(REEDLING), spar()).plane
    assert plane.items[-1].name == "spar"

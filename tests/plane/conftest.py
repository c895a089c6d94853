"""A small plank to be changed by the tests of the plane file."""

from collections.abc import Callable
from pathlib import Path

import pytest

from foamwright.plane.document import LoadedPlane, load

PLANK = """\
# A plank of 600 mm.
name = "plank"
layout = "plank"

[airframe]
foam = "EPP"  # the light sort
bare_mass = "46 ± 1 g"
bare_balance = { x = "161 mm" }

[[airframe.surfaces]]
name = "wing"
role = "wing"
stations = [
  { y = "0 mm", leading_edge = "95 mm", chord = "170 mm", thickness = "9 %" },
  { y = "300 mm", leading_edge = "95 mm", chord = "170 mm", thickness = "9 %" },
]

[[airframe.surfaces.controls]]
name = "elevon"
role = "elevon"
start = "15 %"
end = "95 %"
chord_fraction = "20 %"
servo = "servos"

[[airframe.surfaces]]
name = "fin"
role = "fin"
profile = "flat sheet"
stations = [
  { z = "5 mm", leading_edge = "215 mm", chord = "80 mm" },
  { z = "90 mm", leading_edge = "245 mm", chord = "50 mm" },
]

[[airframe.bodies]]
name = "pod"
stations = [
  { x = "0 mm", width = "24 mm", height = "26 mm" },
  { x = "265 mm", width = "30 mm", height = "20 mm" },
]

[[items]]
name = "servos"  # one each side
kind = "servo"
mass = "5 g"
count = 2
at = { x = "180 mm" }

[[items]]
name = "pack"
kind = "pack"
cells = 3
capacity = "650 mAh"
at = { x = "33 mm" }
reach = { foremost = "20 mm", rearmost = "60 mm" }

[[items]]
name = "nose ballast"
kind = "ballast"
mass = "60 g"
at = { x = "10 mm", z = "2 mm" }

[variants."small pack"]
"items.pack.capacity" = "450 mAh"

[variants."no ballast"]
items."nose ballast" = { remove = true }
"""


@pytest.fixture
def text() -> str:
    """Return the plank as text."""
    return PLANK


@pytest.fixture
def loading(tmp_path: Path) -> Callable[[str], LoadedPlane]:
    """Return a function that writes a text as a plane file and loads it."""

    def written(content: str) -> LoadedPlane:
        (tmp_path / "plane.toml").write_text(content, encoding="utf-8")
        return load(tmp_path)

    return written

"""The bare foam: volumes against solids, weighed against estimated mass."""

from collections.abc import Callable

import numpy as np
import pytest
import trimesh

from foamwright.model.computable import ComputablePlane
from foamwright.model.foam import FILL, extent, surface_volume, volumes
from foamwright.plane.airframe import Airframe, Surface
from foamwright.plane.document import LoadedPlane

Read = Callable[[str], LoadedPlane]
Computed = Callable[..., ComputablePlane]


def four_digit(thickness: float) -> np.ndarray:
    """Return a closed four-digit outline of unit chord (Abbott and von Doenhoff, 1959)."""
    x = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, 200)))
    half = (
        5.0
        * thickness
        * (0.2969 * np.sqrt(x) - 0.1260 * x - 0.3516 * x**2 + 0.2843 * x**3 - 0.1015 * x**4)
    )
    return np.vstack([np.column_stack([x, half]), np.column_stack([x, -half])[::-1][1:-1]])


def loft(surface: Surface, thickness: float) -> trimesh.Trimesh:
    """Return half a wing of one relative thickness as a closed solid between two stations."""
    outline = four_digit(thickness)
    root, tip = (
        np.column_stack(
            [
                s.leading_edge.value + s.chord.value * outline[:, 0],
                np.full(len(outline), s.y.value if s.y else 0.0),
                s.chord.value * outline[:, 1],
            ]
        )
        for s in surface.stations
    )
    count = len(outline)
    here = np.arange(count)
    following = (here + 1) % count
    sides = np.vstack(
        [
            np.column_stack([here, following, here + count]),
            np.column_stack([following, following + count, here + count]),
        ]
    )
    lids = np.vstack(
        [np.column_stack([np.zeros(count - 2, int), here[2:], here[1:-1]])]
        + [np.column_stack([np.zeros(count - 2, int), here[1:-1], here[2:]]) + count]
    )
    return trimesh.Trimesh(np.vstack([root, tip]), np.vstack([sides, lids]), process=False)


def airframe_of(read: Read, name: str) -> Airframe:
    """Return a plane's foam."""
    return read(name).plane.airframe


def test_the_volume_of_a_wing_is_that_of_a_lofted_solid(read: Read) -> None:
    """The swept wing's 10 % sections as a mesh, integrated by `trimesh`: 1 % and 1 mm."""
    wing = airframe_of(read, "saltmarsh").surfaces[0]
    solid = loft(wing, 0.10)
    volume, centre = surface_volume(wing)
    assert solid.is_watertight
    assert volume == pytest.approx(2.0 * abs(solid.volume), rel=0.01)
    assert centre == pytest.approx(solid.center_mass[0], abs=1e-3)


def test_the_filled_share_of_a_section_is_the_four_digit_one() -> None:
    """Shoelace area of a four-digit section over thickness times chord: 0.685 (kept 0.68)."""
    x, y = four_digit(0.12).T
    area = 0.5 * abs(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1)))
    assert pytest.approx(area / 0.12, rel=0.01) == FILL


def test_a_weighed_shell_is_what_the_scale_showed(computed: Computed) -> None:
    """112 ± 1 g stays 112 ± 1 g, and nothing is assumed of it."""
    foam = computed("reedling").masses.named("bare foam")
    assert np.median(foam.mass) == pytest.approx(0.112, abs=2e-4)
    assert np.std(foam.mass) == pytest.approx(0.001, rel=0.05)


@pytest.mark.parametrize(("name", "weighed"), [("reedling", 0.112), ("saltmarsh", 0.118)])
def test_a_shell_nobody_weighed_is_estimated_about_right(
    computed: Computed, name: str, weighed: float
) -> None:
    """The scale's figure lies inside the 98 % band of the estimate, which is named and wide."""
    masses = computed(name, {"airframe.bare_mass": None}).masses
    mass = masses.named("bare foam").mass
    low, high = np.quantile(mass, (0.01, 0.99))
    assert low < weighed < high
    assert np.quantile(mass, 0.9) / np.quantile(mass, 0.1) > 1.8
    assert "bare foam" in masses.estimated
    assert any("not weighed" in text for text in masses.assumed)


def test_denser_foam_weighs_more_for_the_same_shape(computed: Computed) -> None:
    """XPS at 34 against EPS at 20 kg/m3: the estimate follows the density."""
    unknown: dict[str, object] = {"airframe.bare_mass": None}
    light, heavy = (
        np.median(
            computed("anvil", {**unknown, "airframe.foam": foam}).masses.named("bare foam").mass
        )
        for foam in ("EPS", "XPS")
    )
    assert heavy / light == pytest.approx(34 / 20, rel=0.02)


def test_an_unknown_balance_comes_from_the_volumes(read: Read, computed: Computed) -> None:
    """The volumes' centre, 12 mm wide, lies within that of what two fingertips found."""
    masses = computed("reedling", {"airframe.bare_balance": None}).masses
    place = masses.named("bare foam").place[:, 0]
    _, centre = volumes(airframe_of(read, "reedling"))
    assert np.median(place) == pytest.approx(centre, abs=1e-3)
    assert np.std(place) == pytest.approx(12e-3, rel=0.05)
    assert any("balance not measured" in text for text in masses.assumed)


def test_the_box_around_the_foam(read: Read) -> None:
    """Nose to the end of the fuselage, tip to tip, the tallest cut."""
    length, span, height = extent(airframe_of(read, "reedling"))
    assert length == pytest.approx(0.695)  # the fin's tip ends at 640 + 55 mm
    assert span == pytest.approx(0.8)
    assert height == pytest.approx(0.052)

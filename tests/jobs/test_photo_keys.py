"""Stations as keys of the plane file: what a photo does not show is carried over."""

import shutil
from pathlib import Path

import numpy as np
import pytest
from tests.jobs.photo_body import body_of
from tests.model.photo_stage import STATIONS, Camera, Scene, Values

from foamwright.jobs.photo import stations_in
from foamwright.jobs.photo_keys import (
    between,
    keys_for,
    quantity,
    roles,
    stations_for,
    targets,
    text_of,
)
from foamwright.model.photo_clicks import View
from foamwright.model.photo_outline import Outline
from foamwright.plane.document import LoadedPlane, load
from foamwright.plane.keeping import keep
from foamwright.problems import CallProblem, PlaneFileProblem

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
CAMERA = Camera(tilts=(3.0, -2.0, 1.0))


@pytest.fixture
def loaded(tmp_path: Path) -> LoadedPlane:
    """Return a copy of the example plane, read."""
    return load(Path(shutil.copytree(EXAMPLES / "reedling", tmp_path / "reedling")))


def wing(stations: Values = STATIONS) -> Outline:
    """Return the outline of a wing."""
    return stations_in(body_of(Scene(camera=CAMERA, stations=stations).clicks()))


def body(view: View) -> Outline:
    """Return the outline of a body."""
    one = np.array([[5.0, 10.0], [130.0, 26.0], [600.0, 8.0]])
    other = one[:0] if view == "body above" else one * np.array([1.0, -1.0])
    return stations_in(body_of(Scene(camera=CAMERA, view=view).of(one, other)))


def test_lengths_are_written_with_their_spread() -> None:
    """A tenth of a millimetre; what is exact has none."""
    assert text_of(230.04, 1.26) == "230.0 ± 1.3 mm"
    assert text_of(0.0, 0.0) == "0.0 mm"


def test_thickness_and_camber_are_carried_over(loaded: LoadedPlane) -> None:
    """Between root and tip by how far out: 12 mm to 9 mm over 400 mm give 10.2 mm at 240."""
    (stations,) = keys_for(loaded.raw, wing(), {"name": "wing"}).values()
    assert isinstance(stations, list)
    assert [s["thickness"] for s in stations] == ["12 mm", "10.2 mm", "9 mm"]
    assert [s["camber"] for s in stations] == ["2.5 %"] * 3
    assert [s["y"].split()[0] for s in stations] == ["0.0", "240.0", "400.0"]
    assert [s["chord"].split()[0] for s in stations] == ["150.0", "135.0", "100.0"]
    assert list(stations[0]) == ["y", "leading_edge", "chord", "thickness", "camber"]


def test_what_is_written_is_a_plane_with_these_stations(loaded: LoadedPlane) -> None:
    """Read back: the wing of the photo, with spreads, remarks kept."""
    found = wing()
    before = loaded.file.read_text(encoding="utf-8")
    keep(loaded, keys_for(loaded.raw, found, {"name": "wing"}))
    stations = load(loaded.folder).plane.airframe.surfaces[0].stations
    read = [[s.y.value if s.y else 0.0, s.leading_edge.value, s.chord.value] for s in stations]
    assert np.array(read) * 1e3 == pytest.approx(STATIONS, abs=0.06)
    spreads = [s.chord.spread for s in stations]
    assert np.array(spreads) * 1e3 == pytest.approx(found.spreads[:, 2], abs=0.06)
    after = loaded.file.read_text(encoding="utf-8")
    assert before.count("#") == after.count("#")


@pytest.mark.parametrize(
    ("view", "seen", "kept"),
    [("body side", ("height", "z"), "width"), ("body above", ("width",), "height")],
)
def test_a_body_keeps_what_a_photo_does_not_show(
    loaded: LoadedPlane, view: View, seen: tuple[str, ...], kept: str
) -> None:
    """From the side the widths stay, from above the heights: at their own places along the body."""
    keys = keys_for(loaded.raw, body(view), {"name": "fuselage"})
    (stations,) = keys.values()
    assert isinstance(stations, list)
    assert set(seen) | {kept, "x", "z"} == set(stations[0])
    assert stations[1][kept] == {"width": "34 mm", "height": "52 mm"}[kept]
    keep(loaded, keys)
    assert len(load(loaded.folder).plane.airframe.bodies[0].stations) == 3


def test_a_fin_is_cut_by_height(loaded: LoadedPlane) -> None:
    """It has no y; z takes its place."""
    fin = np.array([[5.0, 600.0, 90.0], [105.0, 640.0, 55.0]])
    scene = Scene(camera=CAMERA, stations=fin, view="fin")
    keys = keys_for(loaded.raw, stations_in(body_of(scene.clicks())), {"name": "fin"})
    (stations,) = keys.values()
    assert isinstance(stations, list)
    assert [s["z"].split()[0] for s in stations] == ["5.0", "105.0"]
    assert "y" not in stations[0]
    assert stations[0]["thickness"] == "5 mm"


def test_what_can_be_written_into_follows_the_view(loaded: LoadedPlane) -> None:
    """Wings and tails from above, fins from the side, bodies from both."""
    plane = loaded.plane
    assert targets(plane, "surface") == ["wing", "tail"]
    assert targets(plane, "fin") == ["fin"]
    assert targets(plane, "body side") == targets(plane, "body above") == ["fuselage"]
    assert roles("fin") == ["fin"]
    assert "fin" not in roles("surface")
    assert roles("body side") == []


@pytest.mark.parametrize(
    ("view", "target", "key"),
    [
        ("surface", {"role": "canard"}, "airframe.surfaces.front"),
        ("body side", {"other": "40 mm"}, "airframe.bodies.front"),
        ("body above", {"other": "40 ± 2 mm"}, "airframe.bodies.front"),
    ],
)
def test_new_foam_is_added(
    loaded: LoadedPlane, view: View, target: dict[str, str], key: str
) -> None:
    """A surface with its role, a body with the side the photo does not show."""
    found = wing() if view == "surface" else body(view)
    keys = keys_for(loaded.raw, found, {"name": "front", "new": "yes", **target})
    assert list(keys) == [key]
    keep(loaded, keys)
    plane = load(loaded.folder).plane
    entries = plane.airframe.bodies if view != "surface" else plane.airframe.surfaces
    assert entries[-1].name == "front"
    assert len(entries[-1].stations) == 3


@pytest.mark.parametrize(
    ("view", "target", "words"),
    [
        ("surface", {"name": "sail"}, "no 'sail'"),
        ("surface", {}, "no ''"),
        ("surface", {"name": "wing", "new": "yes", "role": "wing"}, "a 'wing' already"),
        ("surface", {"name": "", "new": "yes", "role": "wing"}, "is no name"),
        ("surface", {"name": "a.b", "new": "yes", "role": "wing"}, "no dot"),
        ("surface", {"name": "7", "new": "yes", "role": "wing"}, "digits alone"),
        ("surface", {"name": "x", "new": "yes", "role": "fin"}, "'fin' is none here"),
        ("surface", {"name": "x", "new": "yes"}, "'' is none here"),
        ("body side", {"name": "x", "new": "yes"}, "does not show the width"),
        ("body above", {"name": "x", "new": "yes"}, "does not show the height"),
        ("body above", {"name": "x", "new": "yes", "other": "9 kg"}, "is no length"),
    ],
)
def test_what_cannot_be_written_into_is_refused(
    loaded: LoadedPlane, view: View, target: dict[str, str], words: str
) -> None:
    """With the names there are, or what would be right."""
    found = wing() if view == "surface" else body(view)
    with pytest.raises((CallProblem, PlaneFileProblem), match=words):
        keys_for(loaded.raw, found, target)


OLD: list[dict[str, object]] = [
    {"y": "0 mm", "thickness": "12 mm", "camber": "from the outline", "twist": "2 ± 0.5 deg"},
    {"y": "100 mm"},
    {"y": "200 mm", "thickness": "10 %", "camber": "2 %", "twist": "-1 deg"},
]


@pytest.mark.parametrize(
    ("key", "at", "expected"),
    [
        ("twist", 100.0, "0.5 ± 0.5 deg"),
        ("twist", 300.0, "-1 deg"),
        ("twist", -5.0, "2 ± 0.5 deg"),
        ("thickness", 60.0, "12 mm"),
        ("thickness", 160.0, "10 %"),
        ("camber", 60.0, "from the outline"),
        ("z", 60.0, None),
    ],
)
def test_values_between_stations(key: str, at: float, expected: str | None) -> None:
    """Straight between two of a kind, else the nearest; nothing where nothing is written."""
    assert between(OLD, "y", at, key) == expected


def test_a_corner_is_never_more_than_round() -> None:
    """A body found slimmer than it was keeps a corner that fits."""
    old: list[dict[str, object]] = [
        {"x": f"{x} mm", "width": "60 mm", "height": "60 mm", "corner": "30 mm"} for x in (0, 700)
    ]
    for entry in stations_for(body("body side"), old):
        corner, height = quantity(entry, "corner"), quantity(entry, "height")
        assert corner is not None
        assert height is not None
        assert corner.value <= height.value / 2.0 + 1e-9

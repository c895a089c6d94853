"""The leaf of the photo: points come, stations go back and into the plane file, no photo comes."""

import html
import json
import re
import shutil
import tomllib
from pathlib import Path

import numpy as np
import pytest
from tests.jobs.photo_body import body_of
from tests.model.photo_stage import STATIONS, Camera, Scene
from tests.page.stage import EXAMPLES, Visit, Visitor

from foamwright.model.photo_clicks import EDGES, Told
from foamwright.page.guard import HEADERS
from foamwright.page.photo import VIEWS, cell, whole_told

POLICY = "content-security-policy"
CLICKS = Scene(camera=Camera(tilts=(8.0, -5.0, 12.0))).clicks()


def written(folder: Path) -> list[dict[str, str]]:
    """Return the stations of the wing as they are written."""
    text = (folder / "plane.toml").read_text(encoding="utf-8")
    stations: list[dict[str, str]] = tomllib.loads(text)["airframe"]["surfaces"][0]["stations"]
    return stations


def wish(visitor: Visitor, **more: object) -> dict[str, object]:
    """Return a wish to write the wing as the files are now."""
    return {
        **body_of(CLICKS),
        "revision": visitor.desk.revision(),
        "target": {"name": "wing"},
        **more,
    }


def test_the_leaf_names_what_can_be_outlined_and_written(visit: Visit) -> None:
    """Each view with its two edges and the foam it can be written into."""
    text = visit().ask("GET", "/photo").text
    found = re.search(r'data-views="([^"]+)"', text)
    assert found
    views = json.loads(html.unescape(found[1]))
    assert [view["key"] for view in views] == list(VIEWS) == list(EDGES)
    assert views[0]["targets"] == ["wing", "tail"]
    assert views[1]["targets"] == ["fin"]
    assert views[2]["targets"] == ["fuselage"]
    assert views[0]["edges"] == ["leading edge", "trailing edge"]


def test_every_leaf_and_the_interview_lead_to_it(visit: Visit, tmp_path: Path) -> None:
    """From the notebook with its variant, and before there is a plane."""
    assert 'href="/photo"' in visit().ask("GET", "/").text
    assert 'href="/photo?variant=two+cells"' in visit().ask("GET", "/?variant=two+cells").text
    assert 'href="/photo"' in visit(tmp_path).ask("GET", "/new").text


def test_only_this_leaf_may_show_a_picture_of_the_browser_s_own(visit: Visit) -> None:
    """`blob:` for images and for nothing else; every other page keeps the stricter policy."""
    visitor = visit()
    policy = visitor.ask("GET", "/photo").headers.get_list(POLICY)
    assert policy == [f"{HEADERS[POLICY]}; img-src 'self' blob:"]
    for other in ("/", "/order", "/field", "/new", "/revision"):
        assert visitor.ask("GET", other).headers[POLICY] == HEADERS[POLICY]
    assert "blob" not in HEADERS[POLICY]


def test_points_give_stations_in_the_units_of_the_plane(visit: Visit, folder: Path) -> None:
    """Millimetres for a metric plane, inches for an imperial one, each with its band."""
    told = visit().post("/photo/outline", body_of(CLICKS)).json()
    assert told["missing"] == ""
    rows = told["table"]["rows"]
    assert [row[0]["value"] for row in rows] == ["0 mm", "240 mm", "400 mm"]
    assert [row[2]["value"] for row in rows] == ["150 mm", "135 mm", "100 mm"]
    assert re.fullmatch(r"\d+(\.\d)?–\d+(\.\d)? mm", rows[1][2]["band"])
    assert told["table"]["whole"][0]["value"] == "800 mm"
    assert told["table"]["carried_by"][0].startswith("corners of the sheet")
    file = folder / "plane.toml"
    file.write_text('units = "imperial"\n' + file.read_text(encoding="utf-8"), encoding="utf-8")
    told = visit().post("/photo/outline", body_of(CLICKS)).json()
    assert told["table"]["rows"][1][2]["value"] == "5.31 in"  # 135 / 25.4


def test_unfinished_clicks_are_told_what_is_next(visit: Visit) -> None:
    """No problem: a sentence, and what can be drawn already."""
    body = body_of(CLICKS)
    points = body["points"]
    assert isinstance(points, dict)
    told = visit().post("/photo/outline", {**body, "points": {**points, "second": []}}).json()
    assert "two stations" in told["missing"]
    assert told["table"] is None
    assert len(told["drawn"]["guides"]) == 3
    assert told["drawn"]["outlines"] == []


def test_without_a_plane_it_measures_all_the_same(visit: Visit, tmp_path: Path) -> None:
    """For the interview; there is nothing to write into."""
    empty = tmp_path / "empty"
    empty.mkdir()
    visitor = visit(empty)
    text = visitor.ask("GET", "/photo").text
    assert 'id="write"' not in text
    assert 'href="/new"' in text
    told = visitor.post("/photo/outline", body_of(CLICKS)).json()
    assert told["table"]["rows"][2][0]["value"] == "400 mm"
    refused = visitor.post("/photo/write", {**body_of(CLICKS), "target": {"name": "wing"}})
    assert refused.status_code == 422
    assert list(empty.iterdir()) == []


def test_stations_are_written_and_taken_back(visit: Visit, folder: Path) -> None:
    """With their spreads, thickness carried over, remarks kept; the undo restores every value."""
    before = (folder / "plane.toml").read_text(encoding="utf-8")
    stations = written(folder)
    visitor = visit()
    told = visitor.post("/photo/write", wish(visitor)).json()
    assert told["written"] == 3
    found = written(folder)
    numbers = [[float(s[k].split()[0]) for k in ("y", "leading_edge", "chord")] for s in found]
    assert np.array(numbers) == pytest.approx(STATIONS, abs=0.06)
    assert [s["thickness"] for s in found] == ["12 mm", "10.2 mm", "9 mm"]
    assert "±" in found[1]["chord"]
    after = (folder / "plane.toml").read_text(encoding="utf-8")
    assert after.count("#") == before.count("#")
    back = {**told["undo"], "revision": told["revision"]}
    assert visitor.post("/edit", back).status_code == 200
    assert written(folder) == stations


def test_a_variant_gets_its_own_stations(visit: Visit, folder: Path) -> None:
    """The plane itself is left as it is; new foam belongs to the plane itself."""
    visitor = visit()
    before = written(folder)
    wanted = wish(visitor, variant="two cells")
    assert visitor.post("/photo/write", wanted).status_code == 200
    assert written(folder) == before
    case = visitor.desk.sight("two cells").case
    assert len(case.plane.airframe.surfaces[0].stations) == 3
    new = wish(visitor, variant="two cells", target={"name": "front", "new": "yes"})
    refused = visitor.post("/photo/write", new)
    assert refused.status_code == 400
    assert "into the plane itself" in refused.json()["problem"]


def test_new_foam_is_offered_afterwards(visit: Visit) -> None:
    """A canard that was clicked is there, and can be chosen the next time."""
    visitor = visit()
    target = {"name": "front", "new": "yes", "role": "canard"}
    told = visitor.post("/photo/write", wish(visitor, target=target)).json()
    assert told["targets"] == ["wing", "tail", "front"]


def test_a_file_changed_outside_is_not_written_over(visit: Visit, folder: Path) -> None:
    """Whoever was quicker stays; the tab is told the revision that holds now."""
    visitor = visit()
    wanted = wish(visitor)
    file = folder / "plane.toml"
    file.write_text(file.read_text(encoding="utf-8") + "\n# somebody was here\n", encoding="utf-8")
    before = file.read_bytes()
    answer = visitor.post("/photo/write", wanted)
    assert answer.status_code == 409
    assert answer.json()["revision"] == visitor.desk.revision()
    assert file.read_bytes() == before


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({"target": None}, (400, "nothing is named")),
        ({"target": {"name": 3}}, (400, "nothing is named")),
        ({"target": {"name": "sail"}}, (400, "no 'sail'")),
        ({"target": {"name": "fin"}, "view": "surface"}, (422, "stations")),
        ({"points": {}}, (400, "no stations yet")),
        ({"distance": "two"}, (422, "is no number with a unit")),
        ({"variant": "none"}, (400, "no variant 'none'")),
    ],
)
def test_what_cannot_be_written_leaves_the_file_alone(
    visit: Visit, folder: Path, more: dict[str, object], told: tuple[int, str]
) -> None:
    """One clear sentence; not a byte changes."""
    visitor = visit()
    before = (folder / "plane.toml").read_bytes()
    answer = visitor.post("/photo/write", wish(visitor, **more))
    status, words = told
    assert (answer.status_code, words in answer.json()["problem"]) == (status, True)
    assert (folder / "plane.toml").read_bytes() == before


def test_stations_that_fit_no_plane_are_refused_whole(visit: Visit, folder: Path) -> None:
    """A length told ten times too long makes a wing of eight metres."""
    visitor = visit()
    before = (folder / "plane.toml").read_bytes()
    clicks = Scene(by="length").clicks()
    wanted = wish(visitor, **body_of(clicks, length="2.9 m"))
    answer = visitor.post("/photo/write", wanted)
    assert answer.status_code == 422
    assert "span" in answer.json()["problem"]
    assert (folder / "plane.toml").read_bytes() == before


def test_no_more_than_points_is_taken(visit: Visit) -> None:
    """A photo has no business here: what is larger than points is turned away at the door."""
    answer = visit().ask("POST", "/photo/outline", content=b"x" * ((1 << 20) + 1))
    assert answer.status_code == 413


def test_any_plane_can_be_opened_beside_a_photo(visit: Visit, tmp_path: Path) -> None:
    """A delta without a tail, a twin boom: what there is can be chosen."""
    for name in ("anvil", "windrow"):
        folder = Path(shutil.copytree(EXAMPLES / name, tmp_path / name))
        assert visit(folder).ask("GET", "/photo").status_code == 200


def test_what_is_exact_has_no_band() -> None:
    """And an area is shown as one."""
    assert cell(0.0, 0.0, "metric") == {"value": "0 mm", "band": ""}
    assert cell(100.0, 1.0, "metric")["band"] == "98.7–101 mm"
    told = whole_told("area", Told(value=106_000.0, spread=1000.0), "metric")
    assert told["value"] == "1060 cm²"

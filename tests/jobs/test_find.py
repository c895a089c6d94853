"""From a plane and a log to where to look."""

import json
from pathlib import Path
from xml.etree import ElementTree as ET

import gpxpy
import numpy as np
import pytest
from tests.jobs.lost_log import EXAMPLES, LOG, cut_log

from foamwright.debrief.geodesy import Spot, way_between
from foamwright.jobs.find import Wishes, search
from foamwright.jobs.search_told import Found, as_json
from foamwright.problems import CallProblem, DataFileProblem, WriteProblem

PLANE = EXAMPLES / "reedling"


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> Found:
    """Return where the example plane may lie after its log was cut."""
    return search(PLANE, cut_log(tmp_path_factory.mktemp("log")), (), Wishes())


def test_the_end_of_the_log_is_what_the_file_says(found: Found) -> None:
    """The last row kept: 47.3111 north, 8.5274 east, 100 m up, 28 m/s to the south."""
    seen = found.area.seen
    assert (seen.spot.latitude, seen.spot.longitude) == pytest.approx((47.3111, 8.5274), abs=1e-4)
    told = {figure.name: figure.value for figure in found.figures}
    assert told["last_height"] == pytest.approx(100.0, abs=2.0)
    assert told["last_speed"] == pytest.approx(27.9, abs=0.5)
    assert told["last_course"] == pytest.approx(np.radians(166.0), abs=0.05)
    assert 5.0 < (told["glide_ratio"] or 0.0) < 13.0
    assert (told["area_50"] or 0.0) < (told["area_90"] or 0.0)


def test_it_lies_ahead_of_where_it_flew(found: Found) -> None:
    """South of the last fix, within a fall's reach; the wind is the log's: from north-west."""
    assert 120.0 < found.from_fix.bearing < 210.0
    assert found.from_fix.distance < 400.0
    assert found.air.north < 0.0 < found.air.east
    assert found.assumed[0] == "the wind is the mean one the log shows"
    assert any("roads" in words for words in found.cautions)
    assert any("swollen" in words for words in found.cautions)
    assert any("check the law" in words for words in found.cautions)


def test_nothing_is_written_unless_a_file_is_named(found: Found) -> None:
    """And the contract can be printed."""
    assert found.written == ()
    told = json.loads(json.dumps(as_json(found), allow_nan=False))
    assert set(told) == {
        *("schema", "on_the_ground", "last_fix", "first_fix", "most_likely", "areas", "walk"),
        *("cases", "figures", "assumed", "cautions", "falls", "seed", "written"),
    }
    assert sum(case["share"] for case in told["cases"]) == pytest.approx(1.0)
    first = told["areas"][0]["rings"][0][0]
    spot = Spot(latitude=first["latitude"], longitude=first["longitude"])
    assert way_between(found.area.seen.spot, spot).distance < 1000.0


def test_files_are_written_by_their_endings(tmp_path: Path) -> None:
    """GPX, SVG and PNG in one go; none over another unless told so."""
    files = [tmp_path / f"area.{ending}" for ending in ("gpx", "svg", "png")]
    log = cut_log(tmp_path)
    assert search(PLANE, log, files, Wishes()).written == tuple(files)
    assert len(gpxpy.parse(files[0].read_text(encoding="utf-8")).tracks) == 2
    assert ET.parse(files[1]).getroot().tag.endswith("svg")  # noqa: S314 - our own drawing
    assert files[2].read_bytes().startswith(b"\x89PNG")
    before = files[0].read_bytes()
    with pytest.raises(WriteProblem, match="exists already"):
        search(PLANE, log, [tmp_path / "new.svg", files[0]], Wishes(seed=2))
    assert files[0].read_bytes() == before
    assert not (tmp_path / "new.svg").exists()
    search(PLANE, log, files[:1], Wishes(seed=2), force=True)
    assert files[0].read_bytes() != before


def test_a_typed_wind_rules(tmp_path: Path) -> None:
    """4 m/s from 250 degrees blows to the east-north-east."""
    told = search(PLANE, cut_log(tmp_path), (), Wishes(wind="4 m/s from 250"))
    assert (told.air.north, told.air.east) == pytest.approx((1.368, 3.759), abs=1e-3)
    assert told.assumed[0] == "the wind is the one you gave"


def test_a_log_that_ends_near_the_ground_leaves_little_to_search() -> None:
    """The example lands: a fifth of a hectare, not a hundred."""
    told = search(PLANE, LOG, (), Wishes())
    assert told.area.regions[-1].size < 5000.0
    assert told.from_fix.distance < 40.0


def test_a_log_that_ends_on_the_ground_says_so(tmp_path: Path) -> None:
    """Three seconds of lying still: at the last fix, and no way down is told."""
    lines = LOG.read_text(encoding="utf-8").splitlines()
    last = lines[-1].split(",")
    for step in range(1, 40):
        still = [str(int(last[0]) + 100 * step), *last[1:4], "0.1", *last[5:]]
        lines.append(",".join(still))
    log = tmp_path / "landed.csv"
    log.write_text("\n".join(lines) + "\n", encoding="utf-8")
    told = search(PLANE, log, (tmp_path / "landed.svg",), Wishes())
    assert told.area.seen.grounded
    assert told.from_fix.distance == 0.0
    assert "lying still on the ground" in told.assumed[0]
    assert as_json(told)["on_the_ground"] is True


def test_what_cannot_be_found_is_told(tmp_path: Path) -> None:
    """No positions, no log, an ending nobody reads, a wind that is none; nothing is written."""
    bare = tmp_path / "bare.csv"
    rows = "\n".join(f"{n / 10},{11.8 - n / 5000:.3f}" for n in range(300))
    bare.write_text(f"time_s,volt_V\n{rows}\n", encoding="utf-8")
    out = tmp_path / "area.gpx"
    still = tmp_path / "still.csv"
    rows = "\n".join(f"{n},47.31,8.52,{n % 9}" for n in range(60))
    still.write_text(f"time_s,lat,lon,alt_m\n{rows}\n", encoding="utf-8")
    with pytest.raises(CallProblem, match="no position: 'lat' is left out: it is 47"):
        search(PLANE, still, (out,), Wishes())
    with pytest.raises(CallProblem, match="no position"):
        search(PLANE, bare, (out,), Wishes())
    with pytest.raises(DataFileProblem, match="cannot be read"):
        search(PLANE, tmp_path / "none.csv", (out,), Wishes())
    with pytest.raises(CallProblem, match=r"ends in \.gpx or \.svg or \.png"):
        search(PLANE, LOG, (tmp_path / "area.kml",), Wishes())
    with pytest.raises(CallProblem, match="is no wind"):
        search(PLANE, LOG, (out,), Wishes(wind="strong"))
    assert not out.exists()

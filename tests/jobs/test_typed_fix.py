"""A last fix as somebody types it: places as phones write them, everything wrong told at once."""

import math
from pathlib import Path

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st
from tests.jobs.lost_log import EXAMPLES

from foamwright.debrief.geodesy import Spot
from foamwright.debrief.last_seen import FIX_SPREAD, HEIGHT_SPREAD
from foamwright.debrief.search_gpx import gpx_of
from foamwright.jobs.find import Wishes, after_fix, search
from foamwright.jobs.search_sheet import drawn
from foamwright.jobs.search_told import Found, as_json
from foamwright.jobs.typed_fix import FIELDS, FixProblem, seen_of, spot_in
from foamwright.problems import CallProblem

PLANE = EXAMPLES / "reedling"
SEEN = {
    "fix": "47.311229, 8.523399",
    "height": "62 m",
    "speed": "13 m/s",
    "course": "83",
    "climb": "0 m/s",
    "launch": "47.31, 8.52",
}


@pytest.fixture(scope="module")
def found() -> Found:
    """Return where the example plane may lie after a typed fix."""
    return after_fix(PLANE, seen_of(SEEN), Wishes(wind="4 m/s from 250"))


@pytest.mark.parametrize(
    ("text", "spot"),
    [
        ("47.311265, 8.523829", (47.311265, 8.523829)),
        (" 47.311265,8.523829 ", (47.311265, 8.523829)),
        ("47.311265 8.523829", (47.311265, 8.523829)),
        ("47.311265; -8.5", (47.311265, -8.5)),
        ("33.9 S, 151.2 E", (-33.9, 151.2)),
        ("33.9°s 151.2°w", (-33.9, -151.2)),
        ("−33.9, 151", (-33.9, 151.0)),
        ("+0, 180", (0.0, 180.0)),
        ("-90, -180", (-90.0, -180.0)),
    ],
)
def test_a_place_is_read_as_phones_write_it(text: str, spot: tuple[float, float]) -> None:
    """Latitude, then longitude, in degrees: signs (north, east: ISO 6709) or letters."""
    read = spot_in("fix", text)
    assert (read.latitude, read.longitude) == spot


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("here", "is no place"),
        ("47.3", "is no place"),
        ("47,3 8,5", "is no place"),
        ("47.3, 8.5, 400", "is no place"),
        ("90.1, 8", "90.1 degrees are more than a latitude can be"),
        ("47, 180.5", "180.5 degrees are more than a longitude can be"),
        ("-47 N, 8 E", "has a sign and a letter"),
        ("8 E, 47 N", "is no place"),
        ("nan, inf", "is no place"),
    ],
)
def test_what_is_no_place_is_refused_with_what_would_be(text: str, says: str) -> None:
    """One sentence, with an example to type."""
    with pytest.raises(FixProblem, match=says) as caught:
        spot_in("fix", text)
    (finding,) = caught.value.findings
    assert (finding.key, "47.311265, 8.523829" in finding.expected) == ("fix", True)


@given(st.floats(-90.0, 90.0), st.floats(-180.0, 180.0))
def test_what_is_shown_is_read_back(latitude: float, longitude: float) -> None:
    """Six decimals, as every screen of ours writes a place."""
    spot = spot_in("fix", f"{latitude:.6f}, {longitude:.6f}")
    assert spot.latitude == pytest.approx(latitude, abs=6e-7)
    assert spot.longitude == pytest.approx(longitude, abs=6e-7)


def test_all_that_was_typed_is_kept_and_nothing_else() -> None:
    """13 m/s to 83 degrees is 1.58 north and 12.90 east; the spreads are those of a log's end."""
    seen = seen_of(SEEN)
    assert (seen.north, seen.east) == pytest.approx((1.584, 12.903), abs=1e-3)
    assert seen.speed == pytest.approx(13.0)
    assert seen.course == pytest.approx(83.0)
    assert (seen.height, seen.height_spread, seen.climb) == (62.0, HEIGHT_SPREAD, 0.0)
    assert (seen.fix_spread, seen.stale, seen.turn, seen.hole) == (FIX_SPREAD, 0.0, 0.0, 0.0)
    assert seen.start == Spot(latitude=47.31, longitude=8.52)
    assert not seen.grounded
    assert not seen.logged
    assert seen_of({**SEEN, "height": "62 ± 12 m"}).height_spread == 12.0
    assert seen_of({**SEEN, "course": "SSE"}).course == pytest.approx(157.5)
    assert seen_of({**SEEN, "course": "83°"}).course == pytest.approx(83.0)


def test_a_place_alone_is_enough() -> None:
    """All else is not known, and said so."""
    seen = seen_of({"fix": "47.3, 8.5", "height": " ", "speed": ""})
    assert (seen.height, seen.north, seen.east, seen.climb, seen.start) == (None,) * 5
    told = after_fix(PLANE, seen, Wishes())
    text = "; ".join(told.assumed)
    assert "you told no height: 23.0 m to 108 m taken" in text
    assert "you told no speed" in text
    assert "no wind was given: up to" in text
    assert "the log" not in text
    assert told.from_start is None
    assert as_json(told)["first_fix"] is None
    assert b"first fix" not in drawn(told, None, as_picture=False, dark=False)
    assert "first fix" not in gpx_of(told.area, told.plane)


@pytest.mark.parametrize(
    ("changed", "keys"),
    [
        ({"fix": ""}, ["fix"]),
        ({"height": "62"}, ["height"]),
        ({"height": "9 km"}, ["height"]),
        ({"speed": "200 m/s"}, ["speed"]),
        ({"speed": ""}, ["speed"]),
        ({"course": ""}, ["course"]),
        ({"course": "up"}, ["course"]),
        ({"course": "361"}, ["course"]),
        ({"course": "nan"}, ["course"]),
        ({"climb": "5 kg"}, ["climb"]),
        ({"launch": "home"}, ["launch"]),
        (
            {"fix": "x", "height": "x", "course": "x", "launch": "x"},
            [*FIELDS[:2], "course", "launch"],
        ),
        ({"colour": "red"}, ["colour"]),
    ],
)
def test_everything_wrong_is_told_at_once(changed: dict[str, str], keys: list[str]) -> None:
    """Each with its field."""
    with pytest.raises(FixProblem) as caught:
        seen_of({**SEEN, **changed})
    assert [finding.key for finding in caught.value.findings] == keys
    assert all(finding.what for finding in caught.value.findings)


def test_a_typed_end_falls_where_the_log_with_that_end_falls(found: Found, tmp_path: Path) -> None:
    """Ten seconds of level flight with the same end: likely places within a few tens of metres."""
    start = Geodesic.WGS84.Direct(47.311229, 8.523399, 263.0, 13.0 * 30.0)
    rows = []
    for second in range(31):
        at = Geodesic.WGS84.Direct(start["lat2"], start["lon2"], 83.0, 13.0 * second)
        height = 0.1 * (second % 2) + (0.0 if second < 3 else 61.95)
        speed = 0.1 if second < 3 else 46.8
        rows.append(f"{second},{at['lat2']:.7f},{at['lon2']:.7f},{height},{speed},83")
    log = tmp_path / "level.csv"
    head = "time_s,lat,lon,alt_m,speed_kmh,course_deg"
    log.write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    logged = search(PLANE, log, (), Wishes(wind="4 m/s from 250"))
    typed = found.area.likely_spot
    line = Geodesic.WGS84.Inverse(
        logged.area.likely_spot.latitude,
        logged.area.likely_spot.longitude,
        typed.latitude,
        typed.longitude,
    )
    assert line["s12"] < 60.0
    assert found.area.regions[-1].size == pytest.approx(logged.area.regions[-1].size, rel=0.25)


def test_more_told_is_less_to_search(found: Found) -> None:
    """Height, speed and wind make both areas smaller than the place alone."""
    alone = after_fix(PLANE, seen_of({"fix": SEEN["fix"]}), Wishes())
    for sharp, wide in zip(found.area.regions, alone.area.regions, strict=True):
        assert sharp.size < wide.size


def test_nothing_of_a_log_is_said_of_a_typed_fix(found: Found) -> None:
    """The wind is the typed one; the spread of the fix is told."""
    assert found.log is None
    assert found.assumed[0] == "the wind is the one you gave"
    assert not any("the log" in words for words in found.assumed)
    assert any("right to within 4.00 m" in words for words in found.assumed)
    imperial = seen_of(SEEN, "imperial")
    assert "ft" in imperial.assumed[0]
    with pytest.raises(CallProblem, match="is no wind"):
        after_fix(PLANE, seen_of(SEEN), Wishes(wind="fog"))


def test_the_course_is_a_course() -> None:
    """North is up, east to the right."""
    north = seen_of({**SEEN, "course": "N"})
    assert north.north == pytest.approx(13.0)
    assert math.isclose(north.east or 0.0, 0.0, abs_tol=1e-9)

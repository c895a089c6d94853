"""Columns confirmed once: the next log with the same header is read so, without a doubt left."""

import shutil
import tomllib
from pathlib import Path

import numpy as np
import pytest

from foamwright.debrief.reading import read_log
from foamwright.jobs.confirmed_columns import as_shown, confirm, found_out, on_accepting
from foamwright.plane.flights import COLUMNS, FOLDER
from foamwright.problems import CallProblem, WriteProblem

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
LOG = EXAMPLES / "reedling" / "logs" / "example-log.csv"
TRACK = """<?xml version="1.0"?>
<gpx version="1.1" creator="nobody" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>
<trkpt lat="47.31" lon="8.52"><ele>400</ele><time>2026-05-01T10:00:00Z</time></trkpt>
<trkpt lat="47.311" lon="8.52"><ele>401</ele><time>2026-05-01T10:00:05Z</time></trkpt>
<trkpt lat="47.312" lon="8.52"><ele>402</ele><time>2026-05-01T10:00:10Z</time></trkpt>
</trkseg></trk></gpx>
"""


def test_what_is_confirmed_is_read_the_same_way_again(tmp_path: Path) -> None:
    """The channels are the same, number for number, and every reason says who confirmed them."""
    before = read_log(LOG)
    file = confirm(tmp_path, before)
    assert file == tmp_path / FOLDER / COLUMNS
    after = read_log(LOG, kept=file)
    assert set(after.recording.channels) == set(before.recording.channels)
    for name, values in before.recording.channels.items():
        np.testing.assert_array_equal(after.recording.channels[name], values)
    clock, *others = after.columns
    assert clock.taken_as == "time"
    assert {column.because for column in others} == {"confirmed before"}
    assert {column.sure for column in others} == {1.0}


def test_what_was_said_by_hand_stays_as_it_was_said() -> None:
    """The user's word goes before what was recognised."""
    log = read_log(LOG, ("spd=ground_speed in km/h", "sats=nothing"))
    found = as_shown(log)
    assert found["spd"].text() == "ground_speed in km/h"
    assert found["sats"].text() == "nothing"
    assert found["vbat"].text() == "voltage in V"
    assert "ms" not in found


def test_an_unsure_column_left_out_is_not_asked_about_again(tmp_path: Path) -> None:
    """Confirmed as left out it is `nothing`; the reading says no more of it."""
    rows = LOG.read_text(encoding="utf-8").splitlines()[1:]
    file = tmp_path / "odd.csv"
    header = rows[0].replace("spd", "speed2d z")
    file.write_text("\n".join([header, *rows[1:]]) + "\n", encoding="utf-8")
    log = read_log(file)
    unsure = [column.column for column in log.columns if column.likely]
    assert unsure == ["speed2d z"]
    kept = confirm(tmp_path, log)
    table = next(iter(tomllib.loads(kept.read_text(encoding="utf-8")).values()))
    assert {name for name, said in table.items() if said == "nothing"} == set(unsure)
    again = read_log(file, kept=kept)
    assert not any("--take" in line for line in again.not_said)


def test_other_headers_are_remembered_beside(tmp_path: Path) -> None:
    """A second header adds a table; the comment at the head stays."""
    other = tmp_path / "other.csv"
    text = LOG.read_text(encoding="utf-8").replace("ms,lat", "time_ms,lat", 1)
    other.write_text(text, encoding="utf-8")
    confirm(tmp_path, read_log(LOG))
    file = confirm(tmp_path, read_log(other))
    text = file.read_text(encoding="utf-8")
    assert len(tomllib.loads(text)) == 2
    assert text.startswith("# What the columns of your logs are")


def test_a_standard_needs_no_word_of_anybody(tmp_path: Path) -> None:
    """GPX 1.1 (Topografix) says itself what its elements are."""
    track = tmp_path / "track.gpx"
    track.write_text(TRACK, encoding="utf-8")
    with pytest.raises(CallProblem, match="standard"):
        confirm(tmp_path, read_log(track))
    assert not (tmp_path / FOLDER).exists()


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    """One clear sentence, nothing half-written."""
    (tmp_path / FOLDER).write_text("in the way", encoding="utf-8")
    with pytest.raises(WriteProblem, match="cannot be written"):
        confirm(tmp_path, read_log(LOG))
    shutil.copy(LOG, tmp_path / "log.csv")
    assert (tmp_path / FOLDER).read_text(encoding="utf-8") == "in the way"


def test_only_units_nobody_wrote_are_found_out(tmp_path: Path) -> None:
    """`spd` is knots by the positions; written in the header, or said, it is not found out."""
    log = read_log(LOG)
    assert [column.column for column in found_out(log)] == ["spd"]
    assert {name: one.text() for name, one in on_accepting(log).items()} == {
        "spd": "ground_speed in kn"
    }
    written = tmp_path / "written.csv"
    text = LOG.read_text(encoding="utf-8").replace(",spd,", ",spd_kn,")
    written.write_text(text, encoding="utf-8")
    assert found_out(read_log(written)) == ()
    said = read_log(LOG, ("spd=ground_speed in km/h", "sats=nothing"))
    assert found_out(said) == ()
    assert {name: one.text() for name, one in on_accepting(said).items()} == {
        "spd": "ground_speed in km/h",
        "sats": "nothing",
    }


def test_a_unit_the_header_contradicts_is_left_out_and_never_kept_unasked(tmp_path: Path) -> None:
    """A header that says m/s above knots: it is asked about as unsure, not remembered as found."""
    wrong = tmp_path / "wrong.csv"
    text = LOG.read_text(encoding="utf-8").replace(",spd,", ",speed_m/s,")
    wrong.write_text(text, encoding="utf-8")
    log = read_log(wrong)
    speed = next(column for column in log.columns if column.column == "speed_m/s")
    assert (speed.taken_as, speed.likely) == ("", "ground_speed in kn")
    assert found_out(log) == ()
    assert on_accepting(log) == {}


def test_a_track_has_nothing_to_find_out(tmp_path: Path) -> None:
    """Its units are set by the standard."""
    file = tmp_path / "track.gpx"
    file.write_text(TRACK, encoding="utf-8")
    assert found_out(read_log(file)) == ()

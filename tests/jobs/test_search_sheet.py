"""What goes on the drawing."""

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from tests.jobs.lost_log import EXAMPLES, cut_log

from foamwright.debrief.reading import read_log
from foamwright.debrief.recording import Recording
from foamwright.jobs.find import Wishes, search
from foamwright.jobs.search_sheet import drawn, sheet_of, track_of
from foamwright.jobs.search_told import Found


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> tuple[Found, Recording]:
    """Return where the example plane may lie, and its cut log."""
    log = cut_log(tmp_path_factory.mktemp("log"))
    found = search(EXAMPLES / "reedling", log, (), Wishes(units="imperial"))
    return found, read_log(log).recording


def test_the_path_ends_at_the_last_fix_and_is_cut_at_holes(case: tuple[Found, Recording]) -> None:
    """In metres from it; no line over more than three seconds without a fix."""
    found, recording = case
    pieces = track_of(recording, found.area)
    assert pieces[-1][-1] == pytest.approx((0.0, 0.0), abs=1e-6)
    steps = [np.hypot(b[0] - a[0], b[1] - a[1]) for piece in pieces for a, b in pairwise(piece)]
    assert max(steps) < 3.0 * 35.0
    late = (recording.time > 100.0) & (recording.time < 120.0)
    gone = recording.channel("latitude").copy()
    gone[late] = np.nan
    cut = Recording(
        time=recording.time, channels={**recording.channels, "latitude": gone}, step=0.1
    )
    assert len(track_of(cut, found.area)) == len(pieces) + 1


def test_the_sheet_speaks_the_users_units(case: tuple[Found, Recording]) -> None:
    """Feet and miles an hour for who flies in them."""
    found, recording = case
    sheet = sheet_of(found, recording)
    assert sheet.imperial
    assert "ft from the first fix" in sheet.notes[1] or "mi from the first fix" in sheet.notes[1]
    assert sheet.wind is not None
    assert sheet.wind[1].endswith("mph")
    assert sheet.wind[0] == pytest.approx(148.0, abs=10.0)
    assert (sheet.likely[1], sheet.likely[0]) == found.area.likely


def test_it_is_drawn_light_and_dark(case: tuple[Found, Recording], tmp_path: Path) -> None:
    """The same marks in other inks."""
    found, recording = case
    light, dark = (drawn(found, recording, as_picture=False, dark=d) for d in (False, True))
    assert b"#fffdf6" in light
    assert b"#fffdf6" not in dark
    assert light.count(b"<path") == dark.count(b"<path") == 2
    picture = tmp_path / "area.png"
    picture.write_bytes(drawn(found, recording, as_picture=True, dark=True))
    assert picture.read_bytes().startswith(b"\x89PNG")

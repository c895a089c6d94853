"""Logs in GPX 1.1, and files that only look like it."""

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from foamwright.debrief.gpx import read_gpx
from foamwright.problems import DataFileProblem

Write = Callable[..., Path]
HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?>\n'
    '<gpx version="1.1" creator="a test" xmlns="http://www.topografix.com/GPX/1/1">\n'
)


def point(second: int, north: float = 10.0, more: str = "<ele>431.5</ele>") -> str:
    """Return a track point, some metres a second north of the equator's crossing."""
    latitude = second * north / 110574.3886
    time = f"2026-05-01T10:{second // 60:02d}:{second % 60:02d}Z"
    return f'<trkpt lat="{latitude:.8f}" lon="8.5">{more}<time>{time}</time></trkpt>\n'


def gpx(*segments: str) -> str:
    """Return a file with one track of some segments."""
    inner = "".join(f"<trkseg>{segment}</trkseg>" for segment in segments)
    return f"{HEAD}<trk><name>out and back</name>{inner}</trk></gpx>\n"


def test_a_track_is_a_log(write: Write) -> None:
    """Positions, heights, and the speed the positions make: a degree of latitude from the
    equator is 110 574.3886 m on WGS 84 (recomputed by geographiclib)."""
    log = read_gpx(write(gpx("".join(point(second) for second in range(60))), "a.gpx"))
    assert log.rows == 60
    assert log.recording.time[-1] == 59.0
    assert np.nanmedian(log.recording.channels["ground_speed"]) == pytest.approx(10.0, rel=1e-3)
    assert log.recording.channels["height"][0] == 431.5
    assert log.recording.channels["longitude"][0] == pytest.approx(np.radians(8.5))
    assert [column.sure for column in log.columns] == [1.0, 1.0, 1.0]


def test_segments_leave_a_gap(write: Write) -> None:
    """Twenty seconds between two segments."""
    first = "".join(point(second) for second in range(30))
    second = "".join(point(second) for second in range(50, 80))
    gaps = read_gpx(write(gpx(first, second))).recording.gaps
    assert [(gap.start, gap.end) for gap in gaps] == [(29.0, 50.0)]


def test_a_track_without_heights_has_none(write: Write) -> None:
    """Nothing is put in for them."""
    log = read_gpx(write(gpx("".join(point(second, more="") for second in range(9)))))
    assert "height" not in log.recording.channels


HOSTILE = {
    "entity": ('<!DOCTYPE gpx [<!ENTITY a "b">]>\n' + HEAD + "</gpx>", "document type", 1),
    "outside": (
        HEAD.split("\n", maxsplit=1)[0] + '\n<!DOCTYPE gpx SYSTEM "file:///etc/hostname">\n<gpx/>',
        "document type",
        2,
    ),
    "deep": (HEAD + "<a>" * 100 + "</a>" * 100 + "</gpx>", "nested too deep", 3),
    "broken": (HEAD + "<trk><trkseg><trkpt lat='1'", "no GPX 1.1", None),
    "latitude": (gpx('<trkpt lat="x" lon="8"></trkpt>'), "no GPX 1.1", None),
    "no time": (gpx('<trkpt lat="1" lon="8"></trkpt>' * 3), "0 track points with a time", None),
    "one point": (gpx(point(1)), "1 track points", None),
    "still clock": (gpx(point(1) * 4), "at one time|no flight", None),
    "empty track": (gpx(), "0 track points", None),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_what_is_no_track_or_does_harm_is_refused(name: str, write: Write) -> None:
    """One finding, with the line where there is one."""
    text, what, line = HOSTILE[name]
    with pytest.raises(DataFileProblem, match=what) as caught:
        read_gpx(write(text, "a.gpx"))
    assert len(caught.value.findings) == 1
    if line is not None:
        assert caught.value.findings[0].line == line


def test_an_entity_in_two_byte_letters_is_found_too(write: Write) -> None:
    """The check reads what the parser would read."""
    text = '<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "b">]><gpx/>'
    for encoding in ("utf-16", "utf-16-le"):
        with pytest.raises(DataFileProblem, match="document type"):
            read_gpx(write(text, "a.gpx", encoding=encoding))


def test_a_file_too_large_is_refused(write: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    """Before it is parsed."""
    monkeypatch.setattr("foamwright.debrief.gpx.LARGEST", 20)
    with pytest.raises(DataFileProblem, match="too large"):
        read_gpx(write(gpx(point(1))))


def test_letters_that_are_no_utf8_are_told(tmp_path: Path) -> None:
    """As what they are."""
    path = tmp_path / "a.gpx"
    path.write_bytes(b"<gpx>\xff\xfe\xfa\xe9</gpx>")
    with pytest.raises(DataFileProblem, match="not UTF-8"):
        read_gpx(path)

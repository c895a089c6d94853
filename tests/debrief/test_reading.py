"""A log, whatever it is."""

from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np
import pytest

from foamwright.debrief.reading import kind_of, read_log
from foamwright.problems import CallProblem, DataFileProblem

Write = Callable[..., Path]
Truth = Mapping[str, np.ndarray]

GPX = (
    '<gpx version="1.1" creator="x" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>'
    '<trkpt lat="1.0000" lon="8"><time>2026-05-01T10:00:00Z</time></trkpt>'
    '<trkpt lat="1.0001" lon="8"><time>2026-05-01T10:00:01Z</time></trkpt>'
    "</trkseg></trk></gpx>"
)
RMC = (
    "$GPRMC,123519,A,4807.038,N,01131.000,E,022.4,084.4,230394,003.1,W*6A\n"
    "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47\n"
)


def test_content_tells_what_a_file_is_and_not_its_name(write: Write) -> None:
    """A GPX called .txt, sentences called .csv."""
    assert kind_of(write(GPX, "a.txt")) == "gpx"
    assert kind_of(write("\ufeff" + GPX, "b.txt", encoding="utf-16")) == "gpx"
    assert kind_of(write(RMC, "c.csv")) == "nmea"
    assert kind_of(write("t,a\n1,2\n2,3\n", "d.gpx")) == "table"


def test_each_kind_is_read(write: Write, truth: Truth, table: Callable[..., str]) -> None:
    """Through one door."""
    assert read_log(write(GPX)).recording.has("latitude", "longitude")
    text = table([("t_s", truth["time"], ".1f"), ("alt_m", truth["height"], ".1f")])
    assert read_log(write(text)).recording.has("height")


def test_what_is_no_log_is_told(write: Write, tmp_path: Path) -> None:
    """A folder, another XML, a file that is not there, binary data."""
    with pytest.raises(DataFileProblem, match="is a folder"):
        read_log(tmp_path)
    with pytest.raises(DataFileProblem, match="XML, but no GPX"):
        read_log(write("<html><body>hello</body></html>"))
    with pytest.raises(DataFileProblem, match="cannot be read"):
        read_log(tmp_path / "none.csv")
    with pytest.raises(DataFileProblem, match="no flight"):
        read_log(write(RMC))


def test_the_columns_of_a_standard_are_not_for_taking(write: Write) -> None:
    """GPX and NMEA say themselves what is what."""
    with pytest.raises(CallProblem, match="set by its standard"):
        read_log(write(GPX), ("lat=height in m",))

"""Reading a log, whatever it is: a table, GPX or NMEA sentences."""

import codecs
from collections.abc import Sequence
from pathlib import Path

from foamwright.debrief.csv_log import read_table
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.gpx import read_gpx
from foamwright.debrief.judging import Expected
from foamwright.debrief.layout import encoding_of, problem, sample_of
from foamwright.debrief.nmea import is_sentence, read_nmea
from foamwright.problems import CallProblem


def kind_of(path: Path) -> str:
    """Return what a file is by its content: gpx, nmea or table; raises DataFileProblem."""
    if path.is_dir():
        raise problem(path, "is a folder", "name the log file in it")
    start = sample_of(path)
    encoding = encoding_of(path, start)
    text = codecs.getincrementaldecoder(encoding)("replace").decode(start)
    head = text.lstrip("\ufeff \t\r\n")
    if head.startswith("<"):
        if "<gpx" not in head[:4096].lower():
            raise problem(path, "is XML, but no GPX", "a log as CSV, GPX 1.1 or NMEA", line=1)
        return "gpx"
    lines = [line for line in text.splitlines()[:200] if line.strip()]
    sentences = sum(is_sentence(line) for line in lines)
    return "nmea" if sentences > 0.5 * len(lines) else "table"


def read_log(
    path: Path,
    takes: Sequence[str] = (),
    *,
    expected: Expected | None = None,
    kept: Path | None = None,
) -> FlightLog:
    """Return the log in a file.

    `takes` say what columns are, `expected` is what the plane knows of itself, `kept` is the file
    that remembers confirmed columns. Raises DataFileProblem and CallProblem.
    """
    kind = kind_of(path)
    if kind == "table":
        return read_table(path, takes, kept, expected or Expected())
    if takes:
        what = f"--take '{takes[0]}': the columns of {kind.upper()} are set by its standard"
        raise CallProblem(what, expected="leave --take out")
    return read_gpx(path) if kind == "gpx" else read_nmea(path)

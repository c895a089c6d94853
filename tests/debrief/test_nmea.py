"""Logs of NMEA 0183 sentences."""

from collections.abc import Callable
from functools import reduce
from pathlib import Path

import numpy as np
import pytest

from foamwright.debrief.logged_units import KNOT
from foamwright.debrief.nmea import is_sentence, read_nmea
from foamwright.problems import DataFileProblem

Write = Callable[..., Path]


def sentence(body: str) -> str:
    """Return a sentence with its checksum: the letters between $ and * by exclusive or."""
    return f"${body}*{reduce(lambda sum_, sign: sum_ ^ ord(sign), body, 0):02X}"


def second(number: int, knots: float = 22.4, status: str = "A") -> str:
    """Return RMC, GGA and VTG of one second from 12:34:50."""
    minute, rest = divmod(50 + number, 60)
    time = f"12{34 + minute}{rest:02d}.00"
    north = f"48{7.038 + number * knots * KNOT / 1852:07.4f}"
    fixed = 1 if status == "A" else 0
    return "\n".join(
        [
            sentence(f"GPRMC,{time},{status},{north},N,01131.000,E,{knots:05.1f},000.0,230394,,"),
            sentence(f"GPGGA,{time},{north},N,01131.000,E,{fixed},08,0.9,545.4,M,46.9,M,,"),
            sentence(f"GPVTG,000.0,T,,M,{knots:05.1f},N,{knots * 1.852:05.1f},K"),
            sentence("GPGSA,A,3,04,05,,09,12,,,24,,,,,2.5,1.3,2.1"),
        ]
    )


def test_knots_become_metres_a_second(write: Write) -> None:
    """RMC and VTG are in knots: 22.4 kn are 11.5236 m/s."""
    log = read_nmea(write("\n".join(second(number) for number in range(30)), "a.nmea"))
    held = log.recording.channels
    assert log.rows == 30
    assert log.recording.time[-1] == 29.0
    assert held["ground_speed"] == pytest.approx(11.5236, abs=1e-4)
    assert held["height"] == pytest.approx(545.4)
    assert held["satellites"] == pytest.approx(8.0)
    assert held["latitude"][0] == pytest.approx(np.radians(48.1173), abs=1e-9)
    assert held["longitude"][0] == pytest.approx(np.radians(11.516667), abs=1e-8)
    speed = next(column for column in log.columns if column.taken_as == "ground_speed")
    assert (speed.unit, speed.sure) == ("kn", 1.0)


def test_a_broken_sentence_is_left_out_and_told(write: Write) -> None:
    """One digit flipped: the checksum tells, the line is named, the rest is read."""
    lines = "\n".join(second(number) for number in range(10)).splitlines()
    lines[4] = lines[4].replace("12345", "12346", 1)
    log = read_nmea(write("\n".join(lines)))
    assert log.rows == 10
    assert "1 sentences are broken" in log.not_said[0]
    assert "line 5" in log.not_said[0]


def test_no_fix_is_no_position(write: Write) -> None:
    """Sentences that say so are counted, not read."""
    text = "\n".join(second(number, status="V" if number < 4 else "A") for number in range(12))
    log = read_nmea(write(text))
    assert log.rows == 8
    assert "8 sentences say that there was no fix" in log.not_said


def test_what_a_logger_wrote_in_front_is_passed_over(write: Write) -> None:
    """A stamp before each sentence."""
    lines = "\n".join(second(number) for number in range(5)).splitlines()
    log = read_nmea(write("\n".join(f"[17:02:11.5] {line}" for line in lines)))
    assert log.rows == 5


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*48", "right checksum"),
        (sentence("GPGSA,A,3,04,05,,09,12,,,24,,,,,2.5,1.3,2.1"), "no flight|has a fix"),
        (second(1), "1 moment"),
        (second(1, status="V"), "no sentence has a fix"),
    ],
)
def test_what_is_no_flight_is_told(text: str, what: str, write: Write) -> None:
    """With the line."""
    with pytest.raises(DataFileProblem, match=what):
        read_nmea(write(text))


def test_only_sentences_of_satellite_receivers_count() -> None:
    """The talkers of the systems begin with G, B or Q."""
    assert is_sentence("$GPRMC,1")
    assert is_sentence("$BDGGA,1")
    assert not is_sentence("$PRICE,1")
    assert not is_sentence("time,alt")

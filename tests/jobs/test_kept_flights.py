"""Flights kept with their plane."""

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from foamwright.debrief.taking import remembered, takes_of
from foamwright.jobs.kept_flights import Keeping, keep, name_of
from foamwright.plane import flights
from foamwright.plane.flights import COLUMNS, FOLDER, FlightNote, Seen
from foamwright.problems import WriteProblem

DAY = dt.date(2026, 5, 1)
SEEN = Seen(what="top_speed", value=27.0, spread=1.5)


def keeping(file: Path | None, *takes: str) -> Keeping:
    """Return a flight to be kept."""
    header = ("t", "spd")
    return Keeping(
        file=file,
        note=FlightNote(date=DAY, observations=(SEEN,)),
        header=header,
        takes=takes_of(takes, header),
    )


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """Return a log beside the plane."""
    file = tmp_path / "flown.csv"
    file.write_text("t,spd\n0,1\n", encoding="utf-8")
    return file


def test_log_and_note_are_kept_and_the_columns_remembered(tmp_path: Path, log: Path) -> None:
    """Under day and name; the note names its log; the memory is no flight."""
    plane = tmp_path / "plane"
    plane.mkdir()
    written = keep(plane, [keeping(log, "spd=ground_speed in kn")])
    assert [file.name for file in written] == [
        "2026-05-01 flown.csv",
        "2026-05-01 flown.toml",
        COLUMNS,
    ]
    (flight,) = flights.load(plane)
    assert flight.note.log == "2026-05-01 flown.csv"
    assert flight.note.observations == (SEEN,)
    assert remembered(plane / FOLDER / COLUMNS, ("t", "spd"))["spd"].unit == "kn"


def test_a_flight_is_kept_once(tmp_path: Path, log: Path) -> None:
    """The second time is refused, and nothing changes."""
    keep(tmp_path, [keeping(log)])
    before = sorted(file.name for file in (tmp_path / FOLDER).iterdir())
    with pytest.raises(WriteProblem, match="accepted before"):
        keep(tmp_path, [keeping(log)])
    assert sorted(file.name for file in (tmp_path / FOLDER).iterdir()) == before


def test_a_flight_is_kept_once_on_another_day_and_under_another_name_too(
    tmp_path: Path, log: Path
) -> None:
    """The same bytes teach once; both refusals name the note there is."""
    keep(tmp_path, [keeping(log)])
    before = sorted(file.name for file in (tmp_path / FOLDER).iterdir())
    later = replace(keeping(log), note=FlightNote(date=dt.date(2026, 5, 2), observations=(SEEN,)))
    renamed = tmp_path / "other.csv"
    renamed.write_bytes(log.read_bytes())
    for again in (later, keeping(renamed)):
        with pytest.raises(WriteProblem, match=r"2026-05-01 flown\.toml: .*accepted before"):
            keep(tmp_path, [again])
    assert sorted(file.name for file in (tmp_path / FOLDER).iterdir()) == before


def test_two_logs_of_one_name_and_day_are_two_flights(tmp_path: Path, log: Path) -> None:
    """A recorder calls each of them alike: numbered, each with its own bytes, none refused."""
    keep(tmp_path, [keeping(log)])
    others = []
    for folder, row in (("noon", "0,2\n"), ("evening", "0,3\n")):
        others.append(tmp_path / folder / log.name)
        others[-1].parent.mkdir()
        others[-1].write_text(f"t,spd\n{row}", encoding="utf-8")
    keep(tmp_path, [keeping(other) for other in others])
    kept = flights.load(tmp_path)
    assert [flight.name for flight in kept] == [
        "2026-05-01 flown",
        "2026-05-01 flown 2",
        "2026-05-01 flown 3",
    ]
    texts = [
        (tmp_path / FOLDER / str(flight.note.log)).read_text(encoding="utf-8") for flight in kept
    ]
    assert [text[-2:-1] for text in texts] == ["1", "2", "3"]


def test_a_log_whose_note_was_taken_out_can_be_kept_again(tmp_path: Path, log: Path) -> None:
    """It was forgotten with its note; the copy that stayed is not written over."""
    keep(tmp_path, [keeping(log)])
    (tmp_path / FOLDER / "2026-05-01 flown.toml").unlink()
    keep(tmp_path, [keeping(log)])
    assert [flight.name for flight in flights.load(tmp_path)] == ["2026-05-01 flown 2"]
    assert (tmp_path / FOLDER / "2026-05-01 flown.csv").read_bytes() == log.read_bytes()


def test_two_cards_of_a_day_are_two_flights(tmp_path: Path) -> None:
    """They are numbered."""
    for _ in range(2):
        keep(tmp_path, [keeping(None)])
    names = [flight.name for flight in flights.load(tmp_path)]
    assert names == ["2026-05-01 card", "2026-05-01 card 2"]
    assert name_of(keeping(None)) == "2026-05-01 card"


def test_what_cannot_be_kept_whole_is_not_kept(tmp_path: Path, log: Path) -> None:
    """The second log is gone: the first is taken back."""
    with pytest.raises(WriteProblem, match="cannot be written"):
        keep(tmp_path, [keeping(log), keeping(tmp_path / "gone.csv")])
    assert list((tmp_path / FOLDER).iterdir()) == []

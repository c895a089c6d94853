"""What flights told, one file each."""

import datetime as dt
from pathlib import Path

import pytest

from foamwright.plane.flights import FlightNote, Seen, load, text_for, validated, write
from foamwright.problems import PlaneFileProblem, WriteProblem

NOTE = FlightNote(
    date=dt.date(2026, 5, 2),
    log="first.csv",
    observations=(
        Seen(what="top_speed", value=24.0, spread=0.7),
        Seen(what="cruise_current", value=2.5, spread=0.1, speed=14.0),
    ),
)


def test_a_flight_is_read_as_it_was_written(tmp_path: Path) -> None:
    """Folder made, header kept, numbers alike."""
    file = write(tmp_path, "2026-05-02 first", NOTE)
    (flight,) = load(tmp_path)
    assert flight.note == NOTE
    assert flight.name == "2026-05-02 first"
    assert file.read_text(encoding="utf-8").startswith("# What one flight told")


def test_flights_come_by_day(tmp_path: Path) -> None:
    """Whatever their names; without a folder there are none."""
    assert load(tmp_path) == ()
    write(tmp_path, "a", NOTE.model_copy(update={"date": dt.date(2026, 6, 1)}))
    write(tmp_path, "b", NOTE)
    assert [flight.name for flight in load(tmp_path)] == ["b", "a"]


def test_a_flight_is_never_overwritten(tmp_path: Path) -> None:
    """The second of that name is refused, the first stays."""
    write(tmp_path, "a", NOTE)
    with pytest.raises(WriteProblem, match="is there already"):
        write(tmp_path, "a", FlightNote(date=dt.date(2026, 7, 1)))
    assert load(tmp_path)[0].note == NOTE


def test_a_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    """A file stands where the folder should be."""
    (tmp_path / "flights").write_text("", encoding="utf-8")
    with pytest.raises(WriteProblem, match="cannot be written"):
        write(tmp_path, "a", NOTE)


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (("spread = 0.7", "spread = 0.0"), "observations.0.spread"),
        (("spread = 0.7", 'spread = "wide"'), "observations.0.spread"),
        (("what = ", "name = "), "observations.0.what"),
        (("date = 2026-05-02", "day = 2026-05-02"), "date"),
    ],
)
def test_a_damaged_flight_is_told_with_its_place(change: tuple[str, str], key: str) -> None:
    """File, line and key of every finding."""
    with pytest.raises(PlaneFileProblem) as caught:
        validated(text_for(NOTE).replace(*change, 1), Path("flights/a.toml"))
    assert key in [finding.key for finding in caught.value.findings]
    assert all(finding.file == Path("flights/a.toml") for finding in caught.value.findings)

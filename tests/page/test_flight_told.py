"""What a flight told, for the page: columns that can be changed, figures, bands, lessons."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from tests.page.stage import EXAMPLES

from foamwright.debrief.naming import DIMENSION
from foamwright.debrief.reading import read_log
from foamwright.debrief.taking import takes_of
from foamwright.jobs import debrief as job
from foamwright.jobs.flight_analysis import Finding, Wind
from foamwright.model.learning import Band, Change
from foamwright.page.flight_told import (
    change_told,
    columns_told,
    kinds,
    log_words,
    rows_of,
    told,
    units_by_kind,
    unsaid,
    wind_told,
)
from foamwright.questions.answer import Figure

LOG = EXAMPLES / "reedling" / "logs" / "example-log.csv"
NAMES = {"file": "x", "flight": "y", "earlier": [], "before": []}
TRACK = """<?xml version="1.0"?>
<gpx version="1.1" creator="nobody" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>
<trkpt lat="47.31" lon="8.52"><ele>400</ele><time>2026-05-01T10:00:00Z</time></trkpt>
<trkpt lat="47.311" lon="8.52"><ele>401</ele><time>2026-05-01T10:00:05Z</time></trkpt>
<trkpt lat="47.312" lon="8.52"><ele>402</ele><time>2026-05-01T10:00:10Z</time></trkpt>
</trkseg></trk></gpx>
"""


@pytest.fixture(scope="module")
def debriefed() -> job.Debriefed:
    """Return the example flight, read."""
    return job.debrief(EXAMPLES / "reedling", [LOG], job.Wishes())


def test_everything_offered_can_be_said() -> None:
    """Each kind with each of its units is what `--take` understands."""
    texts = [f"c={name} in {unit}" for name, known in units_by_kind().items() for unit in known]
    assert len(texts) > len(DIMENSION)
    for text in texts:
        takes_of([text], ["c"])
    assert [name for name, _ in kinds()] == sorted(DIMENSION)


def test_columns_come_in_the_order_of_the_file() -> None:
    """Those nobody knows come after, as columns that can be taken by hand."""
    log = replace(read_log(LOG), header=(*read_log(LOG).header, "strange"))
    found, others = rows_of(log)
    assert [row["column"] for row in found] == list(log.header[:-1])
    assert [row["column"] for row in others] == ["strange"]
    assert not any(row["fixed"] for row in (*found, *others))


def test_a_column_left_out_by_hand_can_be_taken_again() -> None:
    """It stays in the table, with who left it out."""
    found, _ = rows_of(read_log(LOG, ("sats=nothing",)))
    (row,) = [row for row in found if row["column"] == "sats"]
    assert (row["taken_as"], row["because"], row["fixed"]) == ("nothing", "you said so", False)


def test_a_log_of_a_standard_has_nothing_to_confirm(tmp_path: Path) -> None:
    """GPX 1.1 sets its elements; nothing can be changed or remembered."""
    track = tmp_path / "track.gpx"
    track.write_text(TRACK, encoding="utf-8")
    found = columns_told(read_log(track))
    assert (found["free"], found["confirmed"], found["others"]) == (False, False, [])


def test_a_log_says_how_much_of_it_is_there() -> None:
    """Rows, time, and what is missing."""
    words = log_words(read_log(LOG))
    assert words == "2776 rows over 5.00 min; 93 % of that time recorded, 21 gaps are left open"


@pytest.mark.parametrize(("units", "unit"), [("metric", "m/s"), ("imperial", "mph")])
def test_a_wind_is_told_in_the_units_of_the_plane(units: str, unit: str) -> None:
    """In words, with its band; no wind is none."""
    found = wind_told(Wind(speed=4.0, low=3.0, high=5.0, from_deg=45.0), units)
    assert found is not None
    assert found["from"] == "north-east (45°)"
    assert str(found["value"]).endswith(unit)
    assert str(found["band"]).endswith(unit)
    assert wind_told(None, units) is None


def test_a_lesson_is_drawn_on_one_scale() -> None:
    """Where the band was, and where it is: the narrower one inside the wider."""
    change = Change(
        parameter="x",
        label="drag area",
        dimension="area",
        before=Band(value=5e-3, low=4e-3, high=6e-3),
        after=Band(value=5.2e-3, low=5e-3, high=5.4e-3),
    )
    found = change_told(change, "metric")
    assert (found["before"], found["after"]) == (
        "50.0 cm² (40.0–60.0 cm²)",
        "52.0 cm² (50.0–54.0 cm²)",
    )
    boxes = re.findall(r'<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)"', str(found["chart"]))
    (was, wide), (now, narrow) = [(float(x), float(width)) for x, width in boxes]
    assert was < now < now + narrow < was + wide
    assert narrow / wide == pytest.approx(0.2, abs=0.01)


def test_what_the_table_says_is_not_said_twice() -> None:
    """A column left out stands in the table with its reason, without words of the command line."""
    (flight,) = job.debrief(EXAMPLES / "reedling", [LOG], job.Wishes()).flights
    assert flight.log is not None
    line = "'spd' is left out: it may be anything (--take \"spd=airspeed in kn\" takes it)"
    more = replace(flight, not_said=(line, "the glide ratio: no glide", *flight.not_said))
    assert unsaid(more) == ["the glide ratio: no glide", *flight.not_said]


def test_findings_say_what_to_check_first(debriefed: job.Debriefed) -> None:
    """All of them, escaped, whatever they are of."""
    (flight,) = debriefed.flights
    finding = Finding(what="It <b>sinks</b>", because="it fell", check_first=("hinges", "glue"))
    html = told(replace(debriefed, flights=(replace(flight, findings=(finding,)),)), NAMES)
    assert "It &lt;b&gt;sinks&lt;/b&gt;" in html
    assert html.index("Check first: hinges") < html.index("Check first: glue")
    assert "What stands out" not in told(debriefed, NAMES)


def test_a_new_figure_shows_without_a_word_about_it(debriefed: job.Debriefed) -> None:
    """Nothing of a flight is known to the page by name; what has limits is drawn."""
    (flight,) = debriefed.flights
    figure = Figure(
        name="luck",
        label="luck & skill",
        value=2.0,
        low=1.0,
        high=3.0,
        unit="-",
        dimension="number",
        limit_low=1.5,
    )
    html = told(replace(debriefed, flights=(replace(flight, figures=(figure,)),)), NAMES)
    assert "luck &amp; skill" in html
    assert html.count('class="wanted"') == 1
    assert 'class="wanted"' not in told(debriefed, NAMES)


def test_a_card_alone_has_no_columns_and_no_time() -> None:
    """What was typed is shown as figures, with what it teaches."""
    found = job.debrief(EXAMPLES / "reedling", [], job.Wishes(card="stall speed = 7 m/s"))
    html = told(found, {**NAMES, "file": None})
    assert "Read off the screen" in html
    assert "stall speed" in html
    assert "Along the flight" not in html
    assert "What the columns are" not in html

"""What flights told, on a terminal."""

from pathlib import Path

import numpy as np

from foamwright.cli.screen import Screen
from foamwright.cli.told_flight import change_line, debriefed_page, log_line, wind_line
from foamwright.debrief.columns import Column
from foamwright.debrief.flight_log import FlightLog
from foamwright.debrief.observed import Flown, Reading
from foamwright.debrief.recording import Gap, Recording
from foamwright.jobs.debrief import Debriefed, Told
from foamwright.jobs.flight_analysis import Finding, Wind
from foamwright.jobs.paired_flights import compared
from foamwright.model.learning import Band, Change
from foamwright.questions.answer import Figure

TIME = np.arange(0.0, 60.0, 0.1)
COLUMN = Column(
    column="spd\x1b[31m",
    taken_as="ground_speed",
    unit="kn",
    scale=0.514,
    sure=0.98,
    because="it shows 1.94 where the positions move 1 m/s",
)
LOG = FlightLog(
    recording=Recording(
        time=TIME,
        channels={"ground_speed": TIME},
        gaps=(Gap(start=10.0, end=22.0),),
        step=0.1,
    ),
    fast=None,
    rows=600,
    columns=(COLUMN,),
    not_said=("'alt' is left out: no unit is written",),
)
FIGURE = Figure(
    name="top", label="top speed", value=27.0, low=26.0, high=28.0, unit="m s^-1", dimension="speed"
)
CHANGE = Change(
    parameter="drag_area",
    label="drag area",
    dimension="area",
    before=Band(value=0.0040, low=0.0030, high=0.0050),
    after=Band(value=0.0036, low=0.0032, high=0.0040),
)


def told(*written: Path) -> str:
    """Return a page."""
    flight = Told(
        file=Path("flown.csv"),
        log=LOG,
        wind=Wind(speed=4.0, low=3.2, high=4.8, from_deg=328.3),
        readings=(),
        figures=(FIGURE,),
        findings=(Finding(what="less charge", because="gaps", check_first=("the charger",)),),
        not_said=LOG.not_said,
    )
    found = Debriefed(
        plane="Wren", units="metric", flights=(flight,), belief=(CHANGE,), written=written
    )
    return debriefed_page(Screen(), found)


def test_the_page_holds_everything_once() -> None:
    """Columns, figures, findings, what is not said, what was learned."""
    page = told()
    for words in (
        "600 rows over 60 s, 80 % of that time recorded; 1 gap is left open",
        "ground speed in kn",
        "98 % sure",
        "wind from 328°, 4.00 m/s  (3.20–4.80 m/s)",
        "27.0 m/s",
        "check first: the charger",
        "'alt' is left out",
        "36.0 cm²",
        "Nothing was written",
    ):
        assert page.count(words) == 1, words


def test_what_was_kept_is_named() -> None:
    """Each file."""
    page = told(Path("flights/2026-05-01 flown.toml"))
    assert "2026-05-01 flown.toml" in page
    assert "Nothing was written" not in page


def test_what_acts_on_a_terminal_is_spelled_out() -> None:
    """A column name cannot colour the screen."""
    assert "\x1b" not in told()


def test_lines_by_themselves() -> None:
    """A log without gaps, a change with its bands."""
    whole = Recording(time=TIME, channels={}, step=0.1)
    log = FlightLog(recording=whole, fast=None, rows=600, columns=(), not_said=())
    assert log_line(log).plain == "600 rows over 60 s"
    assert "30.0–50.0 cm²" in change_line(Screen(), CHANGE).plain
    calm = Wind(speed=0.5, low=0.1, high=0.9, from_deg=10.0)
    assert wind_line(Screen(), calm).plain.startswith("wind from 10°, 0.50")


def test_a_change_is_told_with_what_to_do() -> None:
    """Both sides, the verdict, the band, what was taken for granted, what is not compared."""
    flights = [
        Flown(readings=(Reading(name="top_speed", value=v, sd=1.2485),)) for v in (20.0, 21.9)
    ]
    found = compared(flights[:1], flights[1:])
    debriefed = Debriefed(
        plane="Wren", units="metric", flights=(), belief=(), written=(), compared=found
    )
    page = " ".join(debriefed_page(Screen(), debriefed).split())
    assert "The change: 1 flight before, 1 flight after" in page
    assert "top speed 20.0 m/s → 21.9 m/s cannot tell: fly 3 more" in page or (
        "top speed 20.0 m/s -> 21.9 m/s cannot tell: fly 3 more" in page
    )
    assert "that it is more, which is wanted" in page
    assert "the voltage of the pack at rest: the same on both sides" in page

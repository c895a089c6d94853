"""The leaf of the flights: a log or a card read, what it told, kept with the plane or set aside."""

import json
import re
import shutil
import tempfile
import threading
import tomllib
from collections.abc import AsyncIterator
from html import unescape
from pathlib import Path

import httpx
import pytest
from tests.page.stage import EXAMPLES, HOST, SAMPLES, Visit, Visitor

from foamwright.debrief.card import KINDS
from foamwright.debrief.wanted import WANTED
from foamwright.jobs import belief
from foamwright.jobs import debrief as job
from foamwright.jobs.ask import Settings, opened
from foamwright.jobs.paired_flights import words as paired_words
from foamwright.model.learning import Learned
from foamwright.page.flights import LIMITS, UPLOAD
from foamwright.page.guard import Door
from foamwright.page.intake import LARGEST, PREFIX
from foamwright.plane.belief_file import FILE_NAME
from foamwright.plane.document import LoadedPlane
from foamwright.plane.flights import COLUMNS, FOLDER

LOG = EXAMPLES / "reedling" / "logs" / "example-log.csv"
CARD = {
    "top speed": {"value": "25", "unit": "m/s"},
    "used": {"value": "300", "unit": "mAh", "time": "9", "time_unit": "min", "speed": "11 m/s"},
}
DOOR = Door(hosts=frozenset({HOST}), limits=LIMITS)


@pytest.fixture(autouse=True)
def temporary(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Let the system's temporary files be a folder of the test."""
    folder = tmp_path / "temporary"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    return folder


@pytest.fixture
def visitor(visit: Visit) -> Visitor:
    """Return someone on the page as it is served, limits and all."""
    return visit(door=DOOR)


def send_log(visitor: Visitor, file: Path = LOG, name: str = "example-log.csv") -> str:
    """Send a log; return what the page calls it."""
    answer = visitor.ask("POST", f"{UPLOAD}?name={name}", content=file.read_bytes())
    assert answer.status_code == 200, answer.text
    return str(answer.json()["flight"])


def done(visitor: Visitor, answer: httpx.Response) -> httpx.Response:
    """Wait for slow work; return how it ended."""
    if answer.status_code != 200:
        return answer  # it was over at once
    errand = visitor.app.state.errands.named(answer.json()["errand"])
    assert errand.done.wait(60)
    return visitor.ask("GET", f"/slow/{errand.name}")


def read(visitor: Visitor, flight: str | None, **more: object) -> httpx.Response:
    """Read a flight to its end."""
    return done(visitor, visitor.post("/flights/read", {"flight": flight, **more}))


def html_of(answer: httpx.Response) -> str:
    """Return what was told."""
    assert answer.status_code == 200, answer.text
    return str(answer.json()["told"]["html"])


def plain(html: str) -> str:
    """Return the words of a piece of a page."""
    return unescape(" ".join(re.sub(r"<[^>]+>", " ", html).split()))


def held(temporary: Path) -> list[Path]:
    """Return the logs that wait to be decided on."""
    return [path for path in temporary.glob(f"{PREFIX}*/**/*") if path.is_file()]


def bytes_of(folder: Path) -> dict[str, bytes]:
    """Return every file of a plane's folder."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def test_the_leaf_has_a_field_for_every_number_of_a_card(visitor: Visitor) -> None:
    """With its words, and the way to the other leaves."""
    text = visitor.ask("GET", "/flights").text
    assert re.findall(r'data-field="([^"]+)"', text) == list(KINDS)
    assert 'href="/order"' in text
    assert f'data-largest="{LARGEST}"' in text


def test_a_folder_without_a_plane_starts_with_the_interview(visit: Visit, tmp_path: Path) -> None:
    """There is nothing to learn of."""
    answer = visit(tmp_path).ask("GET", "/flights")
    assert (answer.status_code, answer.headers["location"]) == (303, "/new")


def test_a_log_is_told_as_the_command_tells_it(
    visitor: Visitor, folder: Path, temporary: Path
) -> None:
    """Every column, figure, thing that cannot be said and lesson; nothing of the plane written."""
    before = bytes_of(folder)
    html = html_of(read(visitor, send_log(visitor)))
    told = job.debrief(folder, [LOG], job.Wishes())
    (flight,) = told.flights
    words = plain(html)
    assert flight.log is not None
    assert re.findall(r'data-column="([^"]+)"', html) == [c.column for c in flight.log.columns]
    for figure in flight.figures:
        assert figure.label in words
    for change in told.belief:
        assert change.label in words
    for line in flight.not_said:
        assert line in words
    assert "out of the north-west (329°)" in words
    for segment in flight.segments:
        assert segment.kind in words
    assert bytes_of(folder) == before
    assert len(held(temporary)) == 1


def test_a_kept_flight_is_the_one_the_command_keeps(
    visitor: Visitor, folder: Path, temporary: Path, tmp_path: Path
) -> None:
    """Same files with the same content as `--accept` writes; our own copy is gone."""
    other = Path(shutil.copytree(EXAMPLES / "reedling", tmp_path / "other"))
    job.debrief(other, [LOG], job.Wishes(accept=True))
    flight = send_log(visitor)
    read(visitor, flight)
    kept = done(visitor, visitor.post("/flights/keep", {"flight": flight})).json()
    names = sorted(path.name for path in (folder / FOLDER).iterdir())
    assert sorted(kept["told"]["written"]) == [f"{FOLDER}/{name}" for name in names]
    for name in names:
        assert (folder / FOLDER / name).read_bytes() == (other / FOLDER / name).read_bytes()
    ours, theirs = (json.loads((f / FILE_NAME).read_text("utf-8")) for f in (folder, other))
    assert ours["sources"] == theirs["sources"]
    assert held(temporary) == []


def test_the_answers_start_from_a_kept_flight(visitor: Visitor, folder: Path) -> None:
    """The notebook's figures move to those that a fresh question gives, and it tells the flight."""
    ask = {"questions": ["speed", "debrief"]}
    before = visitor.post("/ask", ask).json()
    answer = read(visitor, None, card=CARD)
    flight = answer.json()["told"]["flight"]
    done(visitor, visitor.post("/flights/keep", {"flight": flight}))
    after = visitor.post("/ask", ask).json()
    assert before["revision"] != after["revision"]
    for was, now in zip(before["lines"], after["lines"], strict=True):
        assert was["html"] != now["html"]
    sight = visitor.desk.sight()
    fresh = opened(folder, Settings(samples=SAMPLES))[1]
    assert sight.case.learned is not None
    assert sight.case.computed.draws.inputs()[0].normals.tolist() == pytest.approx(
        fresh.computed.draws.inputs()[0].normals.tolist()
    )


def test_answers_do_not_wait_for_what_is_being_learned(
    visitor: Visitor, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Until it is learned they rest on what was known; an edit meanwhile is seen at once."""
    flight = read(visitor, None, card=CARD).json()["told"]["flight"]
    before = visitor.post("/ask", {"questions": ["speed"]}).json()
    go, written = threading.Event(), threading.Event()
    learned = belief.learned

    def slowly(loaded: LoadedPlane, *, anew: bool) -> Learned | None:
        written.set()
        go.wait(30)
        return learned(loaded, anew=anew)

    monkeypatch.setattr(job, "learned", slowly)
    answer = visitor.post("/flights/keep", {"flight": flight})
    assert written.wait(30)
    assert list((folder / FOLDER).glob("*.toml"))
    assert visitor.post("/ask", {"questions": ["speed"]}).json() == before
    with (folder / "plane.toml").open("a", encoding="utf-8") as out:
        out.write("\n# changed\n")
    assert visitor.desk.revision() != before["revision"]
    go.set()
    done(visitor, answer)
    after = visitor.post("/ask", {"questions": ["speed"]}).json()
    assert after["lines"] != before["lines"]
    assert after["revision"] == visitor.desk.revision()


def test_a_kept_flight_is_listed_with_its_forecast(visitor: Visitor, folder: Path) -> None:
    """Its day, how many readings fell into their band, what it taught, the score."""
    assert "No flight was kept yet" in visitor.ask("GET", "/flights/kept").json()["html"]
    flight = read(visitor, None, card=CARD).json()["told"]["flight"]
    done(visitor, visitor.post("/flights/keep", {"flight": flight}))
    listed = visitor.ask("GET", "/flights/kept").json()
    words = plain(listed["html"])
    assert listed["count"] == 1
    assert re.search(r"\d of 2 readings in their band", words)
    assert re.search(r"The forecasts so far: \d of 2 readings fell into the band", words)
    learned = opened(folder, Settings(samples=SAMPLES))[1].learned
    assert learned is not None
    for change in learned.taught[-1].changes:
        assert change.label in words


def test_a_flight_is_held_beside_one_from_before_a_change(visitor: Visitor) -> None:
    """One kept before, named on the page; what is told is what `--before` tells."""
    first = send_log(visitor, name="old.csv")
    read(visitor, first)
    done(visitor, visitor.post("/flights/keep", {"flight": first}))
    flight = send_log(visitor, name="new.csv")
    alone = html_of(read(visitor, flight))
    (name,) = re.findall(r'name="before" value="([^"]+)"', alone)
    assert name.endswith("old")
    assert "The change:" not in alone
    html = html_of(read(visitor, flight, before=[name]))
    told = job.debrief(
        visitor.desk.path, [LOG], job.Wishes(before=(visitor.desk.path / FOLDER / f"{name}.csv",))
    )
    assert told.compared is not None
    words = plain(html)
    assert "The change: 1 flight before, 1 flight after" in words
    for one in told.compared.moved:
        assert WANTED[one.change.name].label in words
        assert paired_words(one) in words
    assert "checked" in html


@pytest.mark.parametrize("before", ["x", [3], ["../../plane"], ["no such flight"], {"a": 1}])
def test_only_kept_flights_can_be_held_beside(visitor: Visitor, before: object) -> None:
    """What a request names is never taken for a path."""
    flight = send_log(visitor)
    answer = visitor.post("/flights/read", {"flight": flight, "before": before})
    assert answer.status_code == 400
    assert answer.json()["problem"]


def test_a_card_beside_a_log_tells_how_far_its_count_can_be_trusted(visitor: Visitor) -> None:
    """What the charger put back goes into the reading of the log."""
    flight = send_log(visitor)
    alone = html_of(read(visitor, flight))
    beside = html_of(read(visitor, flight, card={"put back": {"value": "400", "unit": "mAh"}}))
    assert plain(alone) != plain(beside)
    assert "put back" not in plain(alone)


def test_a_column_said_to_be_something_else_is_read_so(visitor: Visitor) -> None:
    """As `--take` does; what is left out can be taken again."""
    flight = send_log(visitor)
    html = html_of(read(visitor, flight, takes={"spd": "ground_speed in km/h", "sats": "nothing"}))
    row = re.search(r'<tr data-column="spd".*?</tr>', html, re.DOTALL)
    assert row is not None
    assert "you said so" in row[0]
    assert 'value="km/h" selected' in row[0]
    sats = re.search(r'<tr data-column="sats".*?</tr>', html, re.DOTALL)
    assert sats is not None
    assert 'value="nothing" selected' in sats[0]


def test_columns_are_confirmed_once(visit: Visit, visitor: Visitor, folder: Path) -> None:
    """At once, and remembered by a notebook opened anew, for any log with that header."""
    flight = send_log(visitor)
    read(visitor, flight, takes={"spd": "ground_speed in kn"})
    answer = visitor.post("/flights/columns", {"flight": flight})
    assert answer.json() == {"file": f"{FOLDER}/{COLUMNS}"}
    kept = tomllib.loads((folder / FOLDER / COLUMNS).read_text(encoding="utf-8"))
    (table,) = kept.values()
    assert table["spd"] == "ground_speed in kn"
    other = visit(door=DOOR)
    html = html_of(read(other, send_log(other, name="another.csv")))
    assert "The columns are remembered" in html
    assert html.count("confirmed before") == len(table)


def test_a_flight_set_aside_is_forgotten(visitor: Visitor, folder: Path, temporary: Path) -> None:
    """It cannot be kept any more; nothing is left of it."""
    before = bytes_of(folder)
    flight = send_log(visitor)
    read(visitor, flight)
    assert visitor.post("/flights/aside", {"flight": flight}).status_code == 200
    for path in ("/flights/keep", "/flights/columns", "/flights/read"):
        assert visitor.post(path, {"flight": flight}).status_code == 410
    assert held(temporary) == []
    assert bytes_of(folder) == before


def test_a_log_kept_before_is_not_kept_twice(visitor: Visitor) -> None:
    """Refused with the words of the command line; it stays in hand."""
    for status in (200, 409):
        flight = send_log(visitor)
        read(visitor, flight)
        answer = done(visitor, visitor.post("/flights/keep", {"flight": flight}))
        assert answer.status_code == status
    assert "accepted before" in answer.json()["problem"]
    assert visitor.post("/flights/aside", {"flight": flight}).status_code == 200


def test_a_log_nobody_knows_is_read_once_its_columns_are_told(
    visitor: Visitor, tmp_path: Path
) -> None:
    """What is wrong is said under its own name; the columns can be told on the page."""
    rows = LOG.read_text(encoding="utf-8").splitlines()[1:]
    odd = tmp_path / "odd.csv"
    names = ",".join(f"c{number}" for number in range(rows[0].count(",") + 1))
    odd.write_text("\n".join([names, *rows[1:]]) + "\n", "utf-8")
    flight = send_log(visitor, odd, "odd.csv")
    html = html_of(read(visitor, flight))
    assert "odd.csv: has no column whose name is known" in plain(html)
    assert PREFIX not in html
    assert "--take" not in html
    assert re.findall(r'data-column="([^"]+)"', html) == names.split(",")
    assert visitor.post("/flights/keep", {"flight": flight}).status_code in {200, 410}
    half = html_of(read(visitor, flight, takes={"c4": "ground_speed in kn"}))
    assert "Say what its columns are" in half
    assert 'value="ground_speed" selected' in half
    told = html_of(read(visitor, flight, takes={"c0": "time in ms", "c4": "ground_speed in kn"}))
    assert "top speed over the ground 28.0 m/s" in plain(told)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("<svg/>", "is XML, but no GPX"),
        ('<gpx version="1.1"><trk>', "odd.csv"),
        ("\0\1\2" * 400, "odd.csv"),
        ("no log at all", "odd.csv"),
    ],
)
def test_a_log_that_is_none_is_told(
    visitor: Visitor, tmp_path: Path, text: str, words: str
) -> None:
    """One clear sentence, without a word of where it waits."""
    odd = tmp_path / "odd.csv"
    odd.write_text(text, encoding="utf-8")
    answer = read(visitor, send_log(visitor, odd, "odd.csv"))
    assert answer.status_code == 422
    assert words in answer.json()["problem"]
    assert PREFIX not in answer.text


def test_a_memory_of_columns_that_was_damaged_is_told(visitor: Visitor, folder: Path) -> None:
    """It is a file of the plane, named where it lies; the log is not to blame."""
    (folder / FOLDER).mkdir()
    (folder / FOLDER / COLUMNS).write_text("not = [toml", encoding="utf-8")
    answer = read(visitor, send_log(visitor))
    assert answer.status_code == 422
    assert f"{FOLDER}/{COLUMNS}: cannot be used" in answer.json()["problem"]


def test_what_a_log_says_of_itself_is_never_taken_for_markup(
    visitor: Visitor, tmp_path: Path
) -> None:
    """Names of files and columns are text."""
    rows = LOG.read_text(encoding="utf-8").splitlines()[1:]
    odd = tmp_path / "odd.csv"
    header = rows[0].replace("vario", "vario <script>x</script>") + ",<img src=x>"
    odd.write_text("\n".join([header, *(f"{row},1" for row in rows[1:])]) + "\n", "utf-8")
    html = html_of(read(visitor, send_log(visitor, odd, "%3Cb%3Ebold.csv")))
    assert "&lt;img src=x&gt;" in html
    for tag in ("<script", "<img", "<b>bold"):
        assert tag not in html


def test_what_is_wrong_with_a_card_is_told_by_field(visitor: Visitor) -> None:
    """Nothing is begun."""
    card = {"top speed": {"value": "x", "unit": "m/s"}, "mass": {"value": "1", "unit": "kn"}}
    answer = visitor.post("/flights/read", {"flight": None, "card": card})
    assert answer.status_code == 422
    assert [one["key"] for one in answer.json()["findings"]] == ["top speed", "mass"]
    assert visitor.post("/flights/read", {"card": {}}).status_code == 400


@pytest.mark.parametrize(
    "takes", [["spd"], {"spd": 3}, {f"c{n}": "nothing" for n in range(1001)}, "spd=time"]
)
def test_what_is_no_table_of_columns_is_refused(visitor: Visitor, takes: object) -> None:
    """One clear sentence, nothing begun."""
    answer = visitor.post("/flights/read", {"flight": send_log(visitor), "takes": takes})
    assert answer.status_code == 400


def test_a_card_has_no_columns(visitor: Visitor, folder: Path) -> None:
    """There is nothing to confirm."""
    flight = read(visitor, None, card=CARD).json()["told"]["flight"]
    assert visitor.post("/flights/columns", {"flight": flight}).status_code == 400
    assert not (folder / FOLDER).exists()


def test_what_was_not_read_cannot_be_kept(visitor: Visitor) -> None:
    """Nobody has looked at it yet."""
    flight = send_log(visitor)
    answer = done(visitor, visitor.post("/flights/keep", {"flight": flight}))
    assert answer.status_code == 410
    assert visitor.post("/flights/columns", {"flight": flight}).status_code == 410


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "", "http://127.0.0.1:8001"])
@pytest.mark.parametrize(
    "path", [UPLOAD, "/flights/read", "/flights/columns", "/flights/keep", "/flights/aside"]
)
def test_only_the_page_itself_may_send(visitor: Visitor, path: str, origin: str) -> None:
    """RFC 6454: another origin is turned away before a byte is taken."""
    answer = visitor.ask("POST", path, content=b"x", headers={"origin": origin})
    assert answer.status_code == 403


def test_a_log_over_the_limit_is_refused_before_it_comes(visitor: Visitor, temporary: Path) -> None:
    """The length in the header is enough: not a byte of it is taken (RFC 9110, 15.5.14)."""
    sent = 0

    async def body() -> AsyncIterator[bytes]:
        nonlocal sent
        for _ in range(8):
            sent += 1 << 20
            yield b" " * (1 << 20)

    headers = {"content-length": str(LARGEST + 1)}
    answer = visitor.ask("POST", f"{UPLOAD}?name=x.csv", content=body(), headers=headers)
    assert answer.status_code == 413
    assert "200 MB" in answer.text
    assert sent <= 1 << 20
    assert held(temporary) == []


def test_a_log_over_the_limit_is_cut_off_while_it_comes(visit: Visit, temporary: Path) -> None:
    """Without a length the bytes are counted; nothing is left of them."""
    sent = 0
    door = Door(hosts=frozenset({HOST}), limits={UPLOAD: 4 << 20})

    async def body() -> AsyncIterator[bytes]:
        nonlocal sent
        for _ in range(64):
            sent += 1 << 20
            yield b" " * (1 << 20)

    answer = visit(door=door).ask("POST", f"{UPLOAD}?name=x.csv", content=body())
    assert answer.status_code == 413
    assert sent <= 6 << 20
    assert held(temporary) == []


def test_other_requests_stay_small(visitor: Visitor) -> None:
    """Only the place for logs takes more than a request usually may."""
    large = b'{"flight": "' + b"x" * (2 << 20) + b'"}'
    assert visitor.ask("POST", "/flights/read", content=large).status_code == 413

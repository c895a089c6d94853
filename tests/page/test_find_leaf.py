"""The leaf for a lost plane: looked for as the command looks, files taken, nothing written."""

import tempfile
from html import unescape
from pathlib import Path
from xml.etree import ElementTree as ET

import gpxpy
import httpx
import pytest
from tests.jobs.lost_log import cut_log
from tests.page.stage import HOST, Visit, Visitor

from foamwright.jobs import find as job
from foamwright.jobs.search_told import spot_words
from foamwright.page.find_leaf import FILES, KEPT, Shelf, name_of, search_of
from foamwright.page.flights import LIMITS, UPLOAD
from foamwright.page.guard import Door
from foamwright.page.refusals import Gone

DOOR = Door(hosts=frozenset({HOST}), limits=LIMITS)
FIX = {"fix": "47.311229, 8.523399", "height": "62 m", "speed": "13 m/s", "course": "83"}


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


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """Return a log that ends in the air."""
    return cut_log(tmp_path)


def taken_in(visitor: Visitor, file: Path) -> str:
    """Send a log; return what the page calls it."""
    answer = visitor.ask("POST", f"{UPLOAD}?name={file.name}", content=file.read_bytes())
    assert answer.status_code == 200, answer.text
    return str(answer.json()["flight"])


def looked(visitor: Visitor, **body: object) -> httpx.Response:
    """Look to the end."""
    answer = visitor.post("/find/look", body)
    if answer.status_code != 200:
        return answer
    errand = visitor.app.state.errands.named(answer.json()["errand"])
    assert errand.done.wait(60)
    return visitor.ask("GET", f"/slow/{errand.name}")


def told(answer: httpx.Response) -> dict[str, str]:
    """Return what was told."""
    assert answer.status_code == 200, answer.text
    found: dict[str, str] = answer.json()["told"]
    return found


def bytes_of(folder: Path) -> dict[str, bytes]:
    """Return every file of a plane's folder."""
    return {str(p.relative_to(folder)): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_a_log_is_searched_as_the_command_searches(
    visitor: Visitor, folder: Path, log: Path
) -> None:
    """Same likely place, same GPX to the letter; the plane's folder is as it was."""
    before = bytes_of(folder)
    out = folder.parent / "typed.gpx"
    found = job.search(folder, log, [out], job.Wishes(wind="4 m/s from 250"))
    answer = told(looked(visitor, flight=taken_in(visitor, log), wind="4 m/s from 250"))
    assert spot_words(found.area.likely_spot) in answer["html"]
    file = visitor.ask("GET", f"/find/{answer['search']}/area.gpx")
    assert file.content == out.read_bytes()
    assert file.headers["content-type"] == "application/gpx+xml"
    assert 'filename="reedling-where-to-look.gpx"' in file.headers["content-disposition"]
    assert len(gpxpy.parse(file.text).tracks) == 2
    assert bytes_of(folder) == before


def test_the_drawing_is_there_for_light_and_dark_and_to_keep(visitor: Visitor) -> None:
    """The drawings are looked at, the picture is kept."""
    name = told(looked(visitor, typed=FIX))["search"]
    light, dark = (visitor.ask("GET", f"/find/{name}/area{kind}.svg") for kind in ("", "-dark"))
    for drawing in (light, dark):
        assert ET.fromstring(drawing.content).tag.endswith("svg")  # noqa: S314 - our own drawing
        assert "content-disposition" not in drawing.headers
        assert drawing.headers["content-type"].startswith("image/svg+xml")
    assert light.content != dark.content
    picture = visitor.ask("GET", f"/find/{name}/area.png")
    assert picture.content.startswith(b"\x89PNG")
    assert "attachment" in picture.headers["content-disposition"]


def test_a_typed_fix_is_searched_without_a_log(visitor: Visitor, folder: Path) -> None:
    """As the job does it; all that is wrong is told with its field."""
    answer = told(looked(visitor, typed=FIX, wind="4 m/s from 250"))
    assert "as you typed it" in answer["html"]
    wrong = looked(visitor, typed={**FIX, "fix": "home", "course": "up"})
    assert wrong.status_code == 422
    assert [one["key"] for one in wrong.json()["findings"]] == ["fix", "course"]
    assert not (folder / "bench.toml").exists()


@pytest.mark.parametrize(
    ("body", "says"),
    [
        ({"typed": FIX, "wind": "fog"}, "the wind: 'fog' is none"),
        ({"typed": FIX, "wind": 4}, "wind is no short text"),
        ({"typed": FIX, "wind": "4 m/s from 250" * 9}, "wind is no short text"),
        ({"typed": {"fix": 47}}, "fix is no short text"),
        ({"typed": {"home": "47, 8"}}, "the last fix is no table"),
        ({"typed": "47, 8"}, "the last fix is no table"),
        ({}, "the last fix is no table"),
        ({"flight": "nobody"}, "not here any more"),
        ({"flight": ["x"]}, "not here any more"),
        ({"typed": FIX, "takes": 3}, "takes is no table"),
    ],
)
def test_odd_requests_are_refused(visitor: Visitor, body: dict[str, object], says: str) -> None:
    """Each with one sentence, and no option of a command in it."""
    answer = looked(visitor, **body)
    assert answer.status_code in {400, 410, 422}
    assert says in answer.json()["problem"]
    assert "--" not in answer.text


def test_a_log_without_known_positions_asks_for_its_columns(
    visitor: Visitor, tmp_path: Path
) -> None:
    """Told by hand, it is searched."""
    lines = cut_log(tmp_path).read_text(encoding="utf-8").splitlines()
    place = next(n for n, line in enumerate(lines) if "lat" in line.lower())
    names = lines[place].split(",")
    at = [n for n, name in enumerate(names) if name.lower().startswith(("lat", "lon"))]
    at += [n + 1 for n in at if len(at) == 1]
    for number, column in enumerate(at):
        names[column] = f"q{number}"
    lines[place] = ",".join(names)
    file = tmp_path / "strange.csv"
    file.write_text("\n".join(lines) + "\n", encoding="utf-8")
    flight = taken_in(visitor, file)
    asked = told(looked(visitor, flight=flight))
    assert "search" not in asked
    assert 'data-column="q0"' in asked["html"]
    assert "--take" not in unescape(asked["html"])


def test_what_is_no_log_is_told_under_its_own_name(visitor: Visitor, tmp_path: Path) -> None:
    """Where it waits means nothing to anybody."""
    file = tmp_path / "page.xml"
    file.write_text("<html></html>", encoding="utf-8")
    answer = looked(visitor, flight=taken_in(visitor, file))
    assert answer.status_code == 422
    assert "page.xml" in answer.json()["problem"]
    assert "foamwright-log-" not in answer.text


def test_a_flight_read_on_the_leaf_of_the_flights_is_brought_along(
    visitor: Visitor, log: Path
) -> None:
    """By its name in the address; one that is gone leaves an empty leaf."""
    flight = taken_in(visitor, log)
    leaf = visitor.ask("GET", f"/find?flight={flight}").text
    assert f'data-flight="{flight}"' in leaf
    assert "lost.csv" in leaf
    assert 'data-flight=""' in visitor.ask("GET", "/find?flight=gone").text
    begun = visitor.post("/flights/read", {"flight": flight})
    errand = visitor.app.state.errands.named(begun.json()["errand"])
    assert errand.done.wait(120)
    html = visitor.ask("GET", f"/slow/{errand.name}").json()["told"]["html"]
    assert f'href="/find?flight={flight}"' in html


def test_the_leaf_is_linked_like_its_siblings(
    visitor: Visitor, visit: Visit, tmp_path: Path
) -> None:
    """From the top of every leaf and from the flights; a folder without a plane is interviewed."""
    for leaf in ("/", "/flights", "/next", "/order", "/field"):
        assert 'href="/find"' in visitor.ask("GET", leaf).text
    assert 'aria-current="page">Where it came down' in visitor.ask("GET", "/find").text
    answer = visit(tmp_path).ask("GET", "/find")
    assert (answer.status_code, answer.headers["location"]) == (303, "/new")


def test_files_of_a_search_that_is_gone_say_so(visitor: Visitor) -> None:
    """And a file nobody makes is refused."""
    gone = visitor.ask("GET", "/find/nobody/area.gpx")
    assert gone.status_code == 410
    assert "look again" in gone.json()["problem"]
    strange = visitor.ask("GET", "/find/nobody/area.pdf")
    assert strange.status_code == 400
    assert all(name in strange.json()["problem"] for name in FILES)


def test_only_the_last_searches_are_kept(folder: Path, log: Path) -> None:
    """The oldest goes; their names cannot be guessed."""
    search = search_of(*job.after_log(folder, log, job.Wishes(samples=64)))
    shelf = Shelf()
    names = [shelf.put(search) for _ in range(KEPT + 1)]
    assert len(set(names)) == KEPT + 1
    assert min(map(len, names)) >= 16
    with pytest.raises(Gone):
        shelf.named(names[0])
    assert shelf.named(names[1]) is search


@pytest.mark.parametrize(
    ("plane", "file"),
    [
        ("Reedling", "reedling"),
        ('My "best" Plane/2', "my-best-plane-2"),
        ("Möwe", "m-we"),
        ("鳥", "plane"),
        ("x" * 90, "x" * 40),
    ],
)
def test_a_file_is_called_by_plain_letters(plane: str, file: str) -> None:
    """No sign in it can end a header or a path."""
    assert name_of(plane) == file

"""Results entered on the page: noted as the command notes them, refused whole, taken back."""

import datetime as dt
import html
import json
import re
from pathlib import Path

import httpx
import pytest
from tests.page.stage import SAMPLES, Visit, Visitor

from foamwright.jobs import bench as job
from foamwright.jobs.ask import Settings
from foamwright.page.bench_entry import CALLED
from foamwright.plane.bench import FILE_NAME, load
from foamwright.plane.bench_records import KINDS

RUN = {"thrust": "285 g", "current": "11.2 A", "voltage": "11.7 V"}
DAY = "2026-05-01"


def posted(visitor: Visitor, test: str, fields: dict[str, str], **more: object) -> httpx.Response:
    """Send a filled form, and wait for what it says."""
    begun = visitor.post("/next/note", {"test": test, "fields": fields, "day": DAY, **more})
    if begun.status_code != 200 or begun.json().get("done"):
        return begun
    errand = visitor.app.state.errands.named(begun.json()["errand"])
    assert errand.done.wait(120)
    return visitor.ask("GET", f"/slow/{errand.name}")


def says(answer: httpx.Response) -> str:
    """Return what a note says."""
    assert answer.status_code == 200, answer.text
    return html.unescape(answer.json()["told"]["html"])


def written(folder: Path) -> str:
    """Return the bench notes as they stand; empty where there are none."""
    file = folder / FILE_NAME
    return file.read_text(encoding="utf-8") if file.exists() else ""


def test_a_result_is_noted_as_the_command_notes_it(
    visit: Visit, folder: Path, tmp_path: Path
) -> None:
    """The same text in bench.toml, to the letter."""
    told = {**RUN, "date": dt.date.fromisoformat(DAY), "note": "windy shed"}
    record = job.record_of("static", told, {})
    posted(visit(), "thrust", RUN, note=" windy   shed ")
    other = tmp_path / "typed"
    other.mkdir()
    (other / "plane.toml").write_bytes((folder / "plane.toml").read_bytes())
    job.note(other, record, Settings(samples=SAMPLES))
    assert written(folder) == written(other) != ""


def test_it_is_held_against_the_plan_and_says_what_it_taught(visit: Visit, folder: Path) -> None:
    """Read and planned side by side; before and after of what moved; a button for the rest."""
    typed = {"speed": "8 m/s", "angle": "10 deg"}
    record = job.record_of("throws", {**typed, "date": dt.date.fromisoformat(DAY)}, {})
    verdict = job.note(folder, record, Settings(samples=SAMPLES), dry=True).answer.verdict
    text = says(posted(visit(), "throw", typed))
    assert "Noted in bench.toml" in text
    assert "speed 8 m/s, angle 10 deg" in text
    assert f"Does what I measured behave as planned? {verdict}" in text
    assert re.search(r"speed of the throw</th>.*8\.00 m/s", text)
    assert "Rank the steps anew" in text
    assert len(load(folder).bench.throws) == 1


def test_what_a_test_taught_stands_before_and_after(visit: Visit, folder: Path) -> None:
    """Every quantity that moved, as the rebuild of the whole folder tells it."""
    text = says(posted(visit(), "thrust", {"thrust": "410 g", "current": "8 A"}))
    taught = job.rebuild(folder, Settings(samples=SAMPLES)).taught[-1]
    assert taught.changes
    for change in taught.changes:
        assert change.label in text
    assert "Nothing that was not known" not in text


def test_a_reading_that_fits_nothing_says_why_nothing_is_learned(visit: Visit) -> None:
    """A lone surprise is not believed; the page says so as the whole rebuild does."""
    text = says(posted(visit(), "thrust", RUN))
    assert "Does what I measured behave as planned? no" in text
    assert "Nothing is learned from the thrust, standing still" in text


def test_a_weighing_replaces_the_plan(visit: Visit, folder: Path) -> None:
    """The next answer starts from it, and the form tells it is weighed."""
    visitor = visit()
    says(posted(visitor, "weigh", {"item": "GPS", "mass": "8.1 g"}))
    (one,) = load(folder).bench.weighings
    assert (one.item, one.mass.text, one.pieces) == ("GPS", "8.1 g", 1)
    leaf = visitor.ask("GET", "/next").text
    assert '<option value="GPS">GPS, weighed</option>' in leaf
    assert "Noted so far (<span" in leaf


def test_all_pieces_on_the_scale_are_asked_about_in_words_of_the_page(visit: Visit) -> None:
    """Two servos weighed as one: no option of a command is named."""
    planned = {"aileron servos": "10.4 g"}
    text = says(posted(visit(), "weigh", {"item": "aileron servos", "mass": "19 g"}))
    if "Look again" in text:
        assert "note it as 2 pieces" in text
    assert "--pieces" not in text
    assert planned


@pytest.mark.parametrize(
    ("sent", "found"),
    [
        (("thrust", {"thrust": "285"}), ("thrust", "“pull”")),
        (("thrust", {"thrust": "285 parsecs"}), ("thrust", "“pull”")),
        (("thrust", {"thrust": "0 g"}), ("", "wants “pull” above 0 g")),
        (("thrust", {"voltage": "11 V"}), ("", "“revolutions of the propeller”")),
        (("throw", {"speed": "8 m/s"}), ("angle", "this test wants “angle of its path, upwards”")),
        (("swing", {"axis": "sideways"}), ("axis", "“axis that stood upright”")),
        (("swing", {"axis": "roll", "swings": "2.5"}), ("distance", "“between the strings”")),
        (("balance", {"at": "251 mm", "front": "3 g"}), ("", "“fingertips, from the nose”")),
        (("balance", {"at": "2 m"}), ("", "is not between nose and tail")),
        (("weigh", {"item": "anvil", "mass": "1 g"}), ("", "no item 'anvil'")),
        (("servo", {"servo": "cook", "angle": "60 deg", "time": "1 s"}), ("", "no servo 'cook'")),
        (("charge", {"charge": "500 mAh", "angle": "3 deg"}), ("", "says nothing of this test")),
        (("taste", {}), ("", "no such test")),
    ],
)
def test_what_is_wrong_is_told_and_nothing_is_written(
    visit: Visit, folder: Path, sent: tuple[str, dict[str, str]], found: tuple[str, str]
) -> None:
    """With its field where it is about one, in the form's words, never an option's."""
    key, says = found
    answer = posted(visit(), *sent)
    assert answer.status_code in {400, 422}
    told = answer.json()
    assert says in told["problem"]
    assert "--" not in told["problem"]
    assert [finding["key"] for finding in told["findings"]] == [key]
    assert written(folder) == ""


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"fields": "none"}, "no table"),
        ({"fields": {"thrust": "9" * 61}}, "too long"),
        ({"fields": {"thrust": 285}}, "too long"),
        ({"fields": {str(n): "1" for n in range(30)}}, "no table"),
        ({"day": "yesterday"}, "no day"),
        ({"day": 3}, "no day"),
        ({"day": "2999-01-01"}, "“day”: 2999-01-01 is in the future"),
        ({"note": "x" * 401}, "note is too long"),
        ({"note": ["a"]}, "note is too long"),
        ({"test": ["thrust"]}, "no such test"),
    ],
)
def test_odd_requests_are_refused(
    visit: Visit, folder: Path, more: dict[str, object], says: str
) -> None:
    """Each with one sentence; nothing is written."""
    answer = visit().post("/next/note", {"test": "thrust", "fields": RUN, "day": DAY, **more})
    assert answer.status_code == 400
    assert says in answer.json()["problem"]
    assert written(folder) == ""


def test_a_request_sent_twice_is_noted_once(visit: Visit, folder: Path) -> None:
    """A finger that taps twice, a phone that wakes up: same mark, same note."""
    visitor = visit()
    first = says(posted(visitor, "balance", {"at": "264 mm"}, once="a mark"))
    assert says(posted(visitor, "balance", {"at": "264 mm"}, once="a mark")) == first
    assert len(load(folder).bench.balances) == 1
    says(posted(visitor, "balance", {"at": "264 mm"}, once="another"))
    assert len(load(folder).bench.balances) == 2


def taken(visitor: Visitor, text: str, which: int = 0) -> httpx.Response:
    """Press one of the buttons that take a note back."""
    found = re.findall(r'data-list="(\w+)" data-told="(.*?)"', text)
    name, told = found[which]
    return visitor.post("/next/note/back", {"list": name, "told": json.loads(html.unescape(told))})


def test_a_note_is_taken_back_and_all_else_stays(visit: Visit, folder: Path) -> None:
    """Remarks, other notes and the same note of another day are as they were."""
    file = folder / FILE_NAME
    own = '# my own words\n[[balances]]\ndate = 2026-04-30\nat = "264 mm"  # by hand\n'
    file.write_text(own, encoding="utf-8")
    visitor = visit()
    before = visitor.desk.revision()
    answer = posted(visitor, "balance", {"at": "264 mm"}, note='a "word"')
    assert written(folder) != own
    back = taken(visitor, answer.json()["told"]["html"])
    assert back.status_code == 200, back.text
    assert written(folder).rstrip() == own.rstrip()
    assert back.json()["count"] == 1
    assert "2026-04-30" in back.json()["html"]
    again = taken(visitor, answer.json()["told"]["html"])
    assert again.status_code == 400
    assert "not in the bench notes any more" in again.json()["problem"]
    assert before


@pytest.mark.parametrize("body", [{"list": "steps", "told": {}}, {"list": 3}, {"told": {}}])
def test_only_tests_are_taken_back_here(visit: Visit, body: dict[str, object]) -> None:
    """Build steps have their own leaf."""
    answer = visit().post("/next/note/back", body)
    assert answer.status_code == 400
    assert "no such list" in answer.json()["problem"]


def test_what_was_noted_is_listed_the_newest_first(visit: Visit, folder: Path) -> None:
    """Words of the builder are text, whatever they hold; ticked steps are not listed."""
    (folder / FILE_NAME).write_text(
        '[[throws]]\ndate = 2026-05-02\nspeed = "8 m/s"\nangle = "9 deg"\nnote = "<b>up</b>"\n'
        '[[weighings]]\ndate = 2026-05-03\nitem = "GPS"\nmass = "8 g"\n'
        '[[steps]]\ndate = 2026-05-03\nstep = "servos"\n',
        encoding="utf-8",
    )
    told = visit().ask("GET", "/next/noted").json()
    assert told["count"] == 2
    assert told["html"].index("item GPS, mass 8 g") < told["html"].index("speed 8 m/s")
    assert "&lt;b&gt;up" in told["html"]
    assert "step servos" not in told["html"]


def test_somebody_elses_note_of_the_same_moment_is_not_lost(
    visit: Visit, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The notes were changed while this one was judged: refused, nothing written over."""

    def changed(place: Path) -> object:
        found = load(place)
        (folder / FILE_NAME).write_text("# somebody else\n", encoding="utf-8")
        return found

    monkeypatch.setattr("foamwright.jobs.bench.load_notes", changed)
    answer = posted(visit(), "balance", {"at": "264 mm"})
    assert answer.status_code == 409
    assert "was changed since it was read" in answer.json()["problem"]
    assert written(folder) == "# somebody else\n"


def test_every_list_but_the_build_steps_has_a_name() -> None:
    """As the notes call them."""
    assert set(CALLED) == set(KINDS) - {"steps"}

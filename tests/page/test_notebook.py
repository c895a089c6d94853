"""The main leaf: every question in its place, answers as on the command line, slips refused."""

from pathlib import Path

import pytest
from tests.page.stage import SAMPLES, Visit

from foamwright.jobs.ask import Settings, ask
from foamwright.page.answers import chance_words
from foamwright.questions.register import QUESTIONS


def test_every_question_of_the_register_has_its_place(visit: Visit) -> None:
    """A question listed later needs no line of page code."""
    text = visit().ask("GET", "/", headers={"accept": "text/html"}).text
    for question in QUESTIONS:
        assert f'data-question="{question.id}"' in text


def test_the_page_tells_what_the_command_line_tells(visit: Visit, folder: Path) -> None:
    """Same plane, same luck: the same verdict for every question."""
    asked = ask(folder, (), Settings(samples=SAMPLES))
    names = [question.id for question in QUESTIONS]
    told = visit().post("/ask", {"questions": names}).json()["lines"]
    assert [(line["question"], line["verdict"]) for line in told] == [
        (answer.question, answer.verdict) for answer in asked.answers
    ]


def test_the_order_of_clicks_changes_no_number(visit: Visit) -> None:
    """Trying things first leaves no trace in what is told later."""
    plain, busy = visit(), visit()
    for name in ("speed", "balance", "landing"):
        busy.post("/open", {"questions": [name], "trial": {"items.pack.at.x": "70 mm"}})
    for name in ("balance", "speed"):
        asked = {"questions": [name]}
        assert busy.post("/open", asked).json() == plain.post("/open", asked).json()


def test_trying_writes_nothing(visit: Visit, folder: Path) -> None:
    """Only tried: the file stays, the answer changes."""
    visitor = visit()
    before = (folder / "plane.toml").read_bytes()
    plain = visitor.post("/ask", {"questions": ["weight"]}).json()["lines"]
    heavy = {"questions": ["weight"], "trial": {"airframe.bare_mass": "160 ± 1 g"}}
    assert visitor.post("/ask", heavy).json()["lines"] != plain
    assert visitor.post("/try", heavy).status_code == 200
    assert (folder / "plane.toml").read_bytes() == before


def test_the_charts_of_a_question_come_drawn_twice_and_as_a_table(visit: Visit) -> None:
    """For light and for dark paper; the table says what the lines say."""
    html = visit().post("/charts", {"questions": ["balance"]}).json()["html"]
    assert html.count("<svg") == 2
    assert 'class="on-light"' in html
    assert 'class="on-dark"' in html
    assert '<th scope="col">static margin</th>' in html
    assert html.count("<tr>") > 10


def test_a_question_without_a_picture_has_no_charts(visit: Visit) -> None:
    """Nothing is drawn, nothing fails."""
    assert "<svg" not in visit().post("/charts", {"questions": ["cost"]}).json()["html"]


def test_charts_follow_what_is_tried(visit: Visit) -> None:
    """The curve of the heavier plane is another."""
    plain, trial = {"questions": ["speed"]}, {"airframe.bare_mass": "160 ± 1 g"}
    visitor = visit()
    before = visitor.post("/charts", plain).json()["html"]
    assert visitor.post("/charts", {**plain, "trial": trial}).json()["html"] != before


def test_a_chart_is_as_wide_as_its_place(visit: Visit) -> None:
    """Within reason: a phone gets words it can read, and nobody a picture without end."""
    for asked, wide in ((330, 330), (5, 280), (9999, 520)):
        body = {"questions": ["balance"], "width": asked}
        assert f'width="{wide}"' in visit().post("/charts", body).json()["html"]
    refused = visit().post("/charts", {"questions": ["balance"], "width": "wide"})
    assert refused.status_code == 400


def test_charts_are_asked_for_one_question_at_a_time(visit: Visit) -> None:
    """Two names are one too many."""
    answer = visit().post("/charts", {"questions": ["speed", "balance"]})
    assert answer.status_code == 400
    assert "one question at a time" in answer.json()["problem"]


@pytest.mark.parametrize("path", ["/ask", "/open", "/charts"])
@pytest.mark.parametrize("asked", [None, "weight", ["nonsense"], [3]])
def test_an_unknown_question_is_refused(visit: Visit, path: str, asked: object) -> None:
    """The known ones are listed."""
    answer = visit().post(path, {"questions": asked})
    assert answer.status_code == 400
    assert "balance" in answer.json()["problem"]


def test_what_a_builder_wrote_is_never_taken_for_markup(visit: Visit, folder: Path) -> None:
    """A name with brackets is shown, not run."""
    file = folder / "plane.toml"
    evil = '<script>alert(1)</script>"'
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace('name = "Reedling"', f"name = '{evil}'"), encoding="utf-8")
    visitor = visit()
    page = visitor.ask("GET", "/", headers={"accept": "text/html"}).text
    state = visitor.ask("GET", "/state").json()
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page
    assert "<script>alert" not in state["svg"] + state["written"] + state["parts"]


def test_an_unknown_variant_is_told(visit: Visit) -> None:
    """As on the command line, with those there are."""
    answer = visit().ask("GET", "/?variant=none", headers={"accept": "text/html"})
    assert answer.status_code == 400
    assert "two cells" in answer.text


def test_typing_is_checked_without_writing(visit: Visit, folder: Path) -> None:
    """What is wrong is told while it is typed; the file waits for a whole value."""
    visitor = visit()
    before = (folder / "plane.toml").read_bytes()
    told = visitor.post("/check", {"fields": {"items.pack.mass": "41"}}).json()
    assert 'did you mean "41 g' in told["findings"][0]["what"]
    assert visitor.post("/check", {"fields": {"items.pack.mass": "40 g"}}).json() == {
        "findings": []
    }
    assert (folder / "plane.toml").read_bytes() == before


@pytest.mark.parametrize(
    ("probability", "words"),
    [
        (None, ""),
        (1.0, "100 in 100"),
        (0.999, "over 99 in 100"),
        (0.0, "0 in 100"),
        (0.001, "under 1 in 100"),
        (0.613, "61 in 100"),
    ],
)
def test_a_chance_is_never_rounded_to_certainty(probability: float | None, words: str) -> None:
    """Nearly all is not all."""
    assert chance_words(probability) == words

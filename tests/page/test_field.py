"""The field card as a leaf."""

import html
from pathlib import Path

from tests.page.stage import SAMPLES, Visit

from foamwright.jobs.ask import Settings, opened
from foamwright.jobs.field_card import field_card
from foamwright.quantity import show


def test_every_figure_of_the_card_is_shown(visit: Visit, folder: Path) -> None:
    """With its value in the units of the plane, and every caution."""
    text = html.unescape(visit().ask("GET", "/field").text)
    card = field_card(opened(folder, Settings(samples=SAMPLES))[1])
    for heading in card.headings:
        for one in heading.figures:
            assert f"<dt>{one.label}</dt><dd><b>{show(one.value, one.dimension)}</b>" in text
    for caution in card.cautions:
        assert caution in text


def test_the_card_of_a_variant_is_its_own(visit: Visit) -> None:
    """Two cells stall slower or faster: another number under another title."""
    visitor = visit()
    plain = visitor.ask("GET", "/field").text
    variant = visitor.ask("GET", "/field?variant=two+cells").text
    assert "two cells: field card" in variant
    assert plain.count("<dd>") == variant.count("<dd>")
    assert plain.split("<h2>Pack</h2>")[1] != variant.split("<h2>Pack</h2>")[1]


def test_looking_at_the_card_changes_no_answer(visit: Visit) -> None:
    """The order of leaves opened changes no number."""
    plain, busy = visit(), visit()
    busy.ask("GET", "/field")
    asked = {"questions": ["speed", "control"]}
    assert busy.post("/ask", asked).json() == plain.post("/ask", asked).json()


def test_an_unknown_variant_is_told(visit: Visit) -> None:
    """As on the command line, with those there are."""
    answer = visit().ask("GET", "/field?variant=none", headers={"accept": "text/html"})
    assert answer.status_code == 400
    assert "two cells" in answer.text


def test_without_a_plane_there_is_no_card(visit: Visit, tmp_path: Path) -> None:
    """The interview comes first."""
    assert visit(tmp_path).ask("GET", "/field").headers["location"] == "/new"

"""The picture of the terminal holds what the terminal prints."""

import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from foamwright.jobs.ask import Settings, ask

ROOT = Path(__file__).parents[2]
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> ET.Element:
    """The example drawn anew."""
    out = tmp_path_factory.mktemp("drawn") / "ask.svg"
    subprocess.run(
        [sys.executable, "tools/draw_terminal.py", "examples/reedling", str(out)],
        check=True,
        cwd=ROOT,
    )
    return ET.fromstring(out.read_text(encoding="utf-8"))  # noqa: S314 - our own file


def words_of(picture: ET.Element) -> str:
    """Return all words of a picture."""
    return " ".join(text.text or "" for text in picture.iter(f"{SVG}text"))


def test_every_question_and_verdict_is_in_the_picture(drawn: ET.Element) -> None:
    """Eight questions, each with its word, and no sign left that a font may lack."""
    words = words_of(drawn)
    for answer in ask(ROOT / "examples" / "reedling", (), Settings()).answers:
        assert answer.asks in words
        assert answer.verdict in words
    assert not set(words) & set("━─●├┤■◧◇△✖◌")


def test_nothing_is_drawn_off_the_paper(drawn: ET.Element) -> None:
    """Every text ends left of the right edge."""
    width = float(drawn.attrib["width"])
    ends = [
        float(text.attrib["x"]) + float(text.attrib.get("textLength", "0"))
        for text in drawn.iter(f"{SVG}text")
    ]
    assert max(ends) < width


def test_the_committed_picture_asks_what_is_asked_today(drawn: ET.Element) -> None:
    """The README's picture has the same questions and verdicts; `make pages` draws it anew."""
    committed = ET.parse(ROOT / "docs" / "images" / "ask-reedling.svg").getroot()  # noqa: S314
    assert committed.findtext(f"{SVG}title") == drawn.findtext(f"{SVG}title")

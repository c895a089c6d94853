"""Commands in the words of the page: nothing that an answer can say names an option."""

import ast
import re
import shutil
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest
from tests.page.stage import EXAMPLES, Visit

import foamwright
from foamwright.page.answers import BY_ID
from foamwright.page.page_words import WAYS, on_page, way_to

SOURCE = Path(foamwright.__file__).parent
TYPED = re.compile(r"(?<![\w-])--[a-z]|foamwright [a-z]+ (?:PLANE|ask|bench)|`foamwright")
REACH = ("jobs", "questions", "debrief", "model", "search", "plane", "paper")
"""What words of the page come from, beside its own."""
PARTS = ("--2", '--take "NAME=ground_speed in km/h"')
"""What is put into other sentences: an option's name for a key, for which the page has words of its
own, and an example, which is tried in its sentence below."""
ELSEWHERE = {
    "jobs/ask.py": "how many samples are drawn is said where the notebook is opened",
    "jobs/level.py": "level flight is asked for in a terminal only",
    "jobs/sheet.py": "the head of a new plane file is read in an editor",
    "search/places.py": "places are searched from a terminal only",
}
"""Files whose options no leaf can meet, and why."""


def files() -> list[Path]:
    """Return the files whose sentences a leaf can show."""
    found: list[Path] = []
    for name in REACH:
        found += sorted((SOURCE / name).rglob("*.py"))
    return [file for file in found if str(file.relative_to(SOURCE)) not in ELSEWHERE]


def sentences(file: Path) -> Iterator[str]:
    """Yield every string of a file that is no docstring, a made-up name in each gap of it."""
    tree = ast.parse(file.read_text(encoding="utf-8"))
    told = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    parts = {
        id(part)
        for node in ast.walk(tree)
        if isinstance(node, ast.JoinedStr)
        for part in node.values
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            yield "".join(
                str(part.value) if isinstance(part, ast.Constant) else "2" for part in node.values
            )
        elif (
            isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and id(node) not in told | parts
        ):
            yield node.value


def typed() -> list[str]:
    """Return every sentence that names a command or an option."""
    found = {text for file in files() for text in sentences(file) if TYPED.search(text)}
    return sorted(found - set(PARTS))


def test_there_are_sentences_to_look_at() -> None:
    """A search that finds nothing tests nothing."""
    assert len(typed()) > 15


@pytest.mark.parametrize("text", typed())
def test_no_sentence_of_an_answer_names_an_option(text: str) -> None:
    """After its translation."""
    assert not TYPED.search(on_page(text)), on_page(text)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("the log holds no speed", "the log holds no speed"),
        (
            "'spd' is left out: unsure (--take \"spd=ground_speed in kn\" takes it)",
            "'spd' is left out: unsure (take it as ground_speed in kn in the table of columns)",
        ),
        (
            "if all 2 lay on the scale, note it with --pieces 2",
            "if all 2 lay on the scale, take it back and note it as 2 pieces",
        ),
        (
            'no word is known; tell it like --take "NAME=ground_speed in km/h"',
            "no word is known; tell it in the table of columns",
        ),
        ("--wind 'fog' is no wind", "the wind: 'fog' is none"),
    ],
)
def test_the_rest_of_a_sentence_stays(text: str, told: str) -> None:
    """Only the doing changes."""
    assert on_page(text) == told


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ('amps: foamwright bench PLANE thrust --thrust "... g"', "/next#test-thrust"),
        ('on a scale: foamwright weigh PLANE all "... g"', "/next#test-weigh"),
        ("a flight: foamwright debrief PLANE LOG --accept, or --card with a few", "/flights"),
        ("the span of the wing", ""),
    ],
)
def test_what_is_missing_leads_to_its_leaf(text: str, place: str) -> None:
    """Its words end where the command began."""
    way = way_to(text)
    assert way.place == place
    assert way.words == text.partition(": foamwright")[0]
    assert bool(way.doing) == bool(place)


def test_every_way_leads_somewhere(visit: Visit) -> None:
    """To a leaf that is there, and a form that is on it."""
    visitor = visit()
    for _, place, _ in WAYS:
        leaf, _, form = place.replace(r"\1", "balance").partition("#")
        answer = visitor.ask("GET", leaf)
        assert answer.status_code == 200
        assert not form or f'id="{form}"' in answer.text


def test_a_plane_never_tested_asks_for_its_tests_on_the_page(visit: Visit) -> None:
    """The questions of bench and flights say where, with a link, and name no command."""
    told = visit().post("/ask", {"questions": ["bench", "debrief"]}).json()
    text = "".join(line["html"] for line in told["lines"])
    assert 'href="/next#test-' in text
    assert 'href="/flights"' in text
    assert not TYPED.search(text)


LEAVES = ("/", "/next", "/order", "/flights", "/flights/kept", "/find", "/field", "/photo")
ASIDE = "In a terminal the same is noted with foamwright bench and foamwright weigh ."
"""The one aside that is left."""


@pytest.mark.parametrize("name", ["reedling", "anvil", "windrow"])
def test_no_leaf_of_an_example_names_a_command(visit: Visit, tmp_path: Path, name: str) -> None:
    """Neither as it is opened nor in any answer, opened or not; but for one aside."""
    visitor = visit(Path(shutil.copytree(EXAMPLES / name, tmp_path / "own" / name)))
    texts = [visitor.ask("GET", leaf).text for leaf in LEAVES]
    for question in BY_ID:
        texts += [visitor.post(at, {"questions": [question]}).text for at in ("/ask", "/open")]
    assert all(texts)
    for text in texts:
        words = " ".join(unescape(re.sub(r"<[^>]+>", " ", text)).split())
        left = words.replace(ASIDE, "")
        found = TYPED.search(left) or re.search(r"foamwright (?!open)[a-z]+ ", left)
        assert not found, left[max(0, found.start() - 80) : found.end() + 80]

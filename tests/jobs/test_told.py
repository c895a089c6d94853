"""Answers files: taken, or sent back with what is wrong and where."""

from pathlib import Path

import pytest

from foamwright.jobs import told
from foamwright.jobs.interview import BY_KEY
from foamwright.problems import Finding, PlaneFileProblem

GOOD = """\
layout = "tail aft"

[ruler]
span = "800 mm"
root_chord = "150 ± 1 mm"

[labels]
motor = "2204 2300"
speed_controller = "25 A"
gps = "none"
"""


def findings(path: Path, text: str) -> tuple[Finding, ...]:
    """Return what is wrong with an answers file."""
    path.write_text(text, encoding="utf-8")
    with pytest.raises(PlaneFileProblem) as caught:
        told.read_answers(path)
    return caught.value.findings


def test_a_good_file_is_taken_as_written(tmp_path: Path) -> None:
    """Tables become dotted keys; the texts stay as they are."""
    path = tmp_path / "answers.toml"
    path.write_text(GOOD, encoding="utf-8")
    found = told.read_answers(path)
    assert found["ruler.root_chord"] == "150 ± 1 mm"
    assert found["layout"] == "tail aft"
    assert len(found) == 6


def test_an_unknown_key_is_named_with_its_line_and_the_nearest(tmp_path: Path) -> None:
    """A typing error is found, not ignored."""
    path = tmp_path / "answers.toml"
    (found,) = findings(path, GOOD.replace("root_chord", "root_cord"))
    assert found.file == path
    assert found.line == 5
    assert found.key == "ruler.root_cord"
    assert "ruler.root_chord" in found.expected


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    """Three faults, three findings, each with its line."""
    text = GOOD.replace('"800 mm"', '"800 mn"').replace('"2204 2300"', '"fast one"')
    text = text.replace('"tail aft"', '"tail front"')
    found = findings(tmp_path / "a.toml", text)
    assert {(f.key, f.line) for f in found} == {
        ("layout", 1),
        ("ruler.span", 4),
        ("labels.motor", 8),
    }
    assert any("mm" in f.expected for f in found)


def test_a_number_without_a_unit_is_no_length(tmp_path: Path) -> None:
    """The likely meaning is shown, nothing is converted silently."""
    (found,) = findings(tmp_path / "a.toml", GOOD.replace('"800 mm"', "800"))
    assert "800 mm" in found.expected


def test_centimetres_in_a_millimetre_field_stop_with_a_proposal(tmp_path: Path) -> None:
    """A span of 80 mm is no plane; 800 mm is proposed, not taken."""
    (found,) = findings(tmp_path / "a.toml", GOOD.replace('"800 mm"', '"80 mm"'))
    assert "span" in found.what
    assert "800 mm" in found.expected


def test_a_layout_without_a_tail_takes_no_tail(tmp_path: Path) -> None:
    """What a layout does not have cannot be told of it."""
    text = GOOD.replace("tail aft", "plank").replace("root_chord", "tail_chord")
    found = findings(tmp_path / "a.toml", text)
    assert [f.key for f in found] == ["ruler.tail_chord"]


def test_what_nothing_can_stand_in_for_is_asked_for(tmp_path: Path) -> None:
    """Without a span there is no plane."""
    (found,) = findings(tmp_path / "a.toml", 'layout = "plank"\n')
    assert found.key == "ruler.span"


def test_sweep_and_set_back_are_one_thing(tmp_path: Path) -> None:
    """Told twice, it might contradict itself."""
    text = GOOD.replace("[labels]", 'sweep = "3 deg"\ntip_set_back = "20 mm"\n[labels]')
    (found,) = findings(tmp_path / "a.toml", text)
    assert found.key == "ruler.sweep"


@pytest.mark.parametrize("text", ["layout = tail\n", "[ruler\n", "layout = 'plank'\nlayout = 1\n"])
def test_what_is_no_toml_is_said_to_be_none(tmp_path: Path, text: str) -> None:
    """The reader's own words tell the line."""
    (found,) = findings(tmp_path / "a.toml", text)
    assert "TOML" in found.what
    assert "line" in found.what


def test_a_file_that_is_not_there_is_a_problem(tmp_path: Path) -> None:
    """A missing file and a folder are told, not raised through."""
    for path in (tmp_path / "none.toml", tmp_path):
        with pytest.raises(PlaneFileProblem, match="cannot be read"):
            told.read_answers(path)


def test_bytes_that_are_no_text_are_a_problem(tmp_path: Path) -> None:
    """A picture is no answers file."""
    path = tmp_path / "a.toml"
    path.write_bytes(b"\xff\xfe\x00")
    with pytest.raises(PlaneFileProblem, match="TOML"):
        told.read_answers(path)


def test_a_size_between_two_is_taken_for_the_nearest() -> None:
    """A 25 A controller is like one of 20 or 30 A; a 4 g servo like one of 3.7 g."""
    assert told.stock_name("esc", "20 A") == "esc 20 A"
    assert told.stock_name("esc", "25 A") in ("esc 20 A", "esc 30 A")
    assert told.stock_name("servo", "4 g") == "servo 3.7 g"
    assert told.stock_name("pack", "3S 480") == "pack 3S 480"


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("name", ""),
        ("name", "two\nlines"),
        ("labels.pack", 3),
        ("scale.pack", "-3 g"),
        ("scale.pack", "3 EUR"),
    ],
)
def test_empty_and_strange_answers_are_refused(key: str, text: object) -> None:
    """Nothing that would break the file, or that no scale can show, gets in."""
    assert told.fault_of(BY_KEY[key], text) is not None

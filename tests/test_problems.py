"""Problems are told in one line each: where, what is wrong, what would be right."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.problems import (
    CallProblem,
    DataFileProblem,
    Finding,
    InputProblem,
    PlaneFileProblem,
    Problem,
    QuantityProblem,
    WriteProblem,
    shown,
)

FILE = Path("reedling/plane.toml")


@pytest.mark.parametrize(
    ("finding", "sentence"),
    [
        (Finding(what="is odd"), "is odd"),
        (Finding(what="is odd", expected="be even"), "is odd; be even"),
        (Finding(what="is odd", key="a.b"), "a.b: is odd"),
        (Finding(what="is odd", file=FILE), "reedling/plane.toml: is odd"),
        (Finding(what="is odd", line=3), "is odd"),
        (
            Finding(what="is odd", expected="be even", file=FILE, line=3, key="a.b"),
            "reedling/plane.toml, line 3: a.b: is odd; be even",
        ),
    ],
)
def test_a_finding_is_one_sentence(finding: Finding, sentence: str) -> None:
    """File, line and key come first, as far as they are known; what would be right comes last."""
    assert finding.sentence() == sentence


def test_many_findings_are_told_in_a_line_each() -> None:
    """The message of an input problem has as many lines as findings, in their order."""
    problem = InputProblem((Finding(what="first", key="a"), Finding(what="second", key="b")))
    assert str(problem).splitlines() == ["a: first", "b: second"]
    assert [finding.key for finding in problem.findings] == ["a", "b"]


@pytest.mark.parametrize("kind", [QuantityProblem, PlaneFileProblem, DataFileProblem])
def test_every_problem_of_the_input_can_be_caught_as_one(kind: type[InputProblem]) -> None:
    """Whoever catches `Problem` catches everything a user can mend."""
    with pytest.raises(Problem, match="is odd"):
        raise kind((Finding(what="is odd"),))


def test_calls_and_files_say_what_would_be_right() -> None:
    """Both keep their parts, for whoever words them anew."""
    call = CallProblem("no question 'speeed'", expected="one of speed, weight")
    assert str(call) == "no question 'speeed'; one of speed, weight"
    assert (call.what, call.expected) == ("no question 'speeed'", "one of speed, weight")
    write = WriteProblem(FILE, "exists already", expected="take another folder")
    assert str(write) == "reedling/plane.toml: exists already; take another folder"
    assert write.file == FILE


@given(st.text(alphabet=st.characters(categories=["Cc", "Cs", "Zl", "Zp", "Lu", "Zs"])))
def test_no_sign_of_the_input_acts_on_the_terminal(text: str) -> None:
    """Whatever was typed, a message is one line of signs that only show."""
    found = [
        Finding(what=text, expected=text, key=text).sentence(),
        str(CallProblem(text, expected=text)),
        str(WriteProblem(Path("x"), text)),
    ]
    for line in found:
        assert len(line.splitlines()) <= 1
        assert all(ord(sign) >= 32 and not 0x7F <= ord(sign) < 0xA0 for sign in line)
        assert line.encode("utf-8").decode("utf-8") == line


def test_letters_of_every_language_stay_as_they_are() -> None:
    """Only what acts is spelled out."""
    assert shown("Flügel ± 2 °, крыло, 翼, 🛩") == "Flügel ± 2 °, крыло, 翼, 🛩"
    assert shown("a\x1b[31mred\nline\u202eturned") == r"a\x1b[31mred\nline\u202eturned"


def test_a_whole_book_is_cut() -> None:
    """A message stays readable, however long the text that it is about."""
    assert len(Finding(what="a" * 100_000).sentence()) < 1000

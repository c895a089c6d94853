"""Bench notes are read with every problem told, added to with comments kept, and never lost."""

import datetime as dt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.plane.bench import (
    HEADER,
    append,
    load,
    name_of,
    take_out,
    today,
    validated,
    with_record,
    without_record,
)
from foamwright.plane.bench_records import KINDS, ChargeBack, Record, Static, Step, Weighing
from foamwright.problems import CallProblem, Finding, PlaneFileProblem, WriteProblem

DAY = dt.date(2026, 5, 1)
FILE = Path("bench.toml")

NOTED = """\
# my notes   # with a comment
[[weighings]]
date = 2026-04-30
item = "motor"  # without the bell
mass = "17.6 ± 0.5 g"
"""


def weighing(item: str, mass: str) -> Weighing:
    """Return one weighing."""
    return Weighing.model_validate({"date": DAY, "item": item, "mass": mass})


def findings(text: str) -> tuple[Finding, ...]:
    """Return what is wrong with a text."""
    with pytest.raises(PlaneFileProblem) as caught:
        validated(text, FILE)
    return caught.value.findings


def test_without_a_file_nothing_was_noted(tmp_path: Path) -> None:
    """That is no error: most planes begin that way."""
    notes = load(tmp_path)
    assert notes.text == ""
    assert all(getattr(notes.bench, name) == () for name in KINDS)


def test_the_first_record_makes_the_file(tmp_path: Path) -> None:
    """It begins with what it is."""
    notes = append(tmp_path, weighing("pack", "41 ± 1 g"))
    assert notes.text.startswith(HEADER)
    assert load(tmp_path).bench.weighings[0].item == "pack"
    assert load(tmp_path).digest == notes.digest


def test_what_was_there_stays_letter_by_letter(tmp_path: Path) -> None:
    """Comments, spaces and all; the record is added at the end."""
    (tmp_path / "bench.toml").write_text(NOTED, encoding="utf-8")
    notes = append(tmp_path, weighing("pack", "41 g"))
    assert notes.text.startswith(NOTED.rstrip())
    assert [w.item for w in notes.bench.weighings] == ["motor", "pack"]
    again = append(tmp_path, Step(date=DAY, step="wing joint", note='he said "dry"\nthen left'))
    assert again.text.startswith(notes.text.rstrip())
    assert load(tmp_path).bench.steps[0].note == 'he said "dry"\nthen left'


def test_lines_end_as_they_did(tmp_path: Path) -> None:
    """A file from another system keeps its ends of line."""
    (tmp_path / "bench.toml").write_bytes(NOTED.replace("\n", "\r\n").encode())
    append(tmp_path, weighing("pack", "41 g"))
    written = (tmp_path / "bench.toml").read_bytes()
    assert written.count(b"\n") == written.count(b"\r\n")
    assert len(load(tmp_path).bench.weighings) == 2


def test_an_array_of_inline_tables_is_added_to(tmp_path: Path) -> None:
    """TOML writes a list either way."""
    text = 'weighings = [ # all of them\n  {date = 2026-04-30, item = "motor", mass = "18 g"},\n]\n'
    (tmp_path / "bench.toml").write_text(text, encoding="utf-8")
    notes = append(tmp_path, weighing("pack", "41 g"))
    assert [w.item for w in notes.bench.weighings] == ["motor", "pack"]
    assert "# all of them" in notes.text


def test_a_file_changed_meanwhile_is_not_overwritten(tmp_path: Path) -> None:
    """The other's words stay."""
    read = load(tmp_path)
    (tmp_path / "bench.toml").write_text(NOTED, encoding="utf-8")
    with pytest.raises(WriteProblem, match="was changed since it was read"):
        append(tmp_path, weighing("pack", "41 g"), read)
    assert (tmp_path / "bench.toml").read_text(encoding="utf-8") == NOTED


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    """A folder that has gone stands in for one without permission (root may write anywhere)."""
    with pytest.raises(WriteProblem, match="cannot be written"):
        append(tmp_path / "gone", weighing("pack", "41 g"))


def test_a_broken_file_is_not_added_to(tmp_path: Path) -> None:
    """It is told and left as it is."""
    (tmp_path / "bench.toml").write_text("[[weighings]]\nmass = 3 g\n", encoding="utf-8")
    with pytest.raises(PlaneFileProblem, match="not TOML"):
        append(tmp_path, weighing("pack", "41 g"))
    assert (tmp_path / "bench.toml").read_text(encoding="utf-8") == "[[weighings]]\nmass = 3 g\n"


@pytest.mark.parametrize(
    ("text", "line", "key", "what", "expected"),
    [
        ("[[swing]]\n", None, "swing", "is no key here", "did you mean swings?"),
        ("weighings = 3\n", 1, "weighings", "3 is no list", "brackets"),
        (NOTED + 'mas = "1 g"\n', 6, "weighings.1 ('motor').mas", "is no key", "mean mass?"),
        (NOTED.replace("17.6", "17,6"), 5, "weighings.1 ('motor').mass", "comma", '"17.6 '),
        (NOTED.replace("2026-04-30", '"soon"'), 3, "weighings.1 ('motor').date", "no day", "-05-"),
        ("[[static]]\ndate = 2026-05-01\n", 1, "static.1", "wants thrust", ""),
        (
            '[[throws]]\ndate = 2026-05-01\nspeed = "8 m/s"\n',
            1,
            "throws.1.angle",
            "is missing",
            "angle",
        ),
        (NOTED + "pieces = 0\n", 6, "weighings.1 ('motor').pieces", "0 cannot be", "1 at least"),
    ],
)
def test_every_finding_says_where_and_what_would_be_right(
    text: str, line: int | None, *, key: str, what: str, expected: str
) -> None:
    """File, line, key."""
    (finding,) = findings(text)
    assert (finding.file, finding.line, finding.key) == (FILE, line, key)
    assert what in finding.what
    assert expected in finding.expected


def test_all_problems_are_told_at_once() -> None:
    """Two records, two findings, each with its line."""
    text = '[[weighings]]\ndate = 2026-05-01\nmass = "1 g"\n[[swings]]\ndate = 2026-05-01\n'
    assert len(findings(text)) == 6
    assert {finding.line for finding in findings(text)} == {1, 4}


def test_a_record_is_written_as_it_was_typed() -> None:
    """Units and spread as the builder wrote them, nothing he left out."""
    record = Static.model_validate({"date": DAY, "thrust": "285 ± 5 g", "voltage": "11.7 V"})
    text = with_record("", record)
    assert 'thrust = "285 ± 5 g"\nvoltage = "11.7 V"\n' in text
    assert "throttle" not in text
    assert validated(text, FILE).static == (record,)


@given(
    st.text(
        st.characters(exclude_categories=("Cs", "Cc")),
        min_size=1,
        max_size=20,
    )
)
def test_any_words_survive_being_written_and_read(words: str) -> None:
    """Quotes, backslashes, other scripts."""
    record = ChargeBack.model_validate({"date": DAY, "charge": "508 mAh", "note": words})
    assert validated(with_record(NOTED, record), FILE).charges[0].note == words


def test_the_list_of_a_record_is_known() -> None:
    """Each kind by its own list."""
    record: Record = Step(date=DAY, step="x")
    assert name_of(record) == "steps"


@pytest.mark.parametrize(
    "text",
    [
        '# kept\n[[throws]]\ndate = 2026-05-01\nspeed = "8 m/s"\nangle = "9 deg"\n',
        '# kept\nthrows = [\n  {date = 2026-05-01, speed = "8 m/s", angle = "9 deg"},\n]\n',
    ],
)
def test_a_record_goes_however_its_list_is_written(text: str) -> None:
    """As tables or inline; the last of a list takes the list along, remarks stay."""
    told = {"date": "2026-05-01", "speed": "8 m/s", "angle": "9 deg"}
    left = without_record(text, "throws", told)
    assert "throws" not in left
    assert "# kept" in left
    for other in ({**told, "angle": "8 deg"}, {"date": "2026-05-01"}, {**told, "note": "x"}):
        with pytest.raises(CallProblem, match="not in the bench notes any more"):
            without_record(text, "throws", other)
    with pytest.raises(CallProblem):
        without_record("", "throws", told)


def test_of_two_that_say_the_same_the_newer_goes(tmp_path: Path) -> None:
    """And the file is written whole, over what was known only."""
    text = (
        '[[throws]]\ndate = 2026-05-01\nspeed = "8 m/s"\nangle = "9 deg"  # first\n\n'
        '[[throws]]\ndate = 2026-05-01\nspeed = "8 m/s"\nangle = "9 deg"  # second\n'
    )
    file = tmp_path / "bench.toml"
    file.write_text(text, encoding="utf-8")
    known = load(tmp_path)
    told = {"date": "2026-05-01", "speed": "8 m/s", "angle": "9 deg"}
    left = take_out(known, "throws", told)
    assert ("# first" in left.text, "# second" in left.text) == (True, False)
    assert file.read_text(encoding="utf-8") == left.text
    with pytest.raises(WriteProblem, match="was changed since"):
        take_out(known, "throws", told)


@pytest.mark.parametrize(
    ("day", "refused"),
    [(dt.date(2026, 4, 30), False), (dt.date(2026, 4, 29), False), (dt.date(2026, 4, 28), True)],
)
def test_a_day_in_the_future_is_refused(day: dt.date, *, refused: bool) -> None:
    """With what, where and what would be right; elsewhere the day may have begun already."""
    if not refused:
        assert len(validated(NOTED, FILE, day).weighings) == 1
        return
    with pytest.raises(PlaneFileProblem) as caught:
        validated(NOTED, FILE, day)
    (found,) = caught.value.findings
    assert found.what == "2026-04-30 is in the future"
    assert found.expected == "no later than 2026-04-29"
    assert (found.file, found.line, found.key) == (FILE, 3, "weighings.1 ('motor').date")


def test_every_kind_of_note_and_every_future_day_is_told() -> None:
    """All in one go, beside whatever else is wrong."""
    text = (
        '[[weighings]]\ndate = 2027-01-01\nitem = "GPS"\nmass = "7"\n'
        '[[steps]]\ndate = 2026-06-01\nstep = "wing"\n'
    )
    with pytest.raises(PlaneFileProblem) as caught:
        validated(text, FILE, DAY)
    assert [finding.line for finding in caught.value.findings] == [2, 4, 6]


def test_a_note_in_the_future_is_not_added(tmp_path: Path) -> None:
    """Nothing is written."""
    with pytest.raises(PlaneFileProblem, match="in the future"):
        append(tmp_path, Step(date=today() + dt.timedelta(days=2), step="wing"))
    assert list(tmp_path.iterdir()) == []


def test_the_day_may_be_set_for_builds_that_repeat(monkeypatch: pytest.MonkeyPatch) -> None:
    """By the open standard of reproducible builds; else by the clock."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86399")
    assert today() == dt.date(1970, 1, 1)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "soon")
    assert today() == dt.datetime.now().astimezone().date()

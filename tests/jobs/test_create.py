"""A new plane: written whole, or not at all."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from foamwright.jobs import create, interview, shapes
from foamwright.jobs.ask import Settings, ask
from foamwright.plane.airframe import Layout
from foamwright.plane.document import load
from foamwright.problems import Finding, PlaneFileProblem, WriteProblem


def told(layout: str, span: float = 600.0, **more: str) -> dict[str, str]:
    """Return answers that say no more than they must, and what else is given."""
    answers = {key.replace("__", "."): text for key, text in more.items()}
    return {"layout": layout, "ruler.span": f"{span:g} mm", **answers}


@pytest.mark.parametrize("layout", shapes.LAYOUTS)
def test_every_layout_can_be_written_and_read_back(layout: Layout, tmp_path: Path) -> None:
    """From layout and span alone a plane file comes that loads, with all stand-ins marked."""
    made = create.create(tmp_path / "wren", told(layout))
    plane = load(made.file).plane
    assert plane.name == "wren"
    assert plane.layout == layout
    assert made.remarks > 20
    assert all(item.mass is not None and item.mass.value > 0.0 for item in plane.items)


@pytest.mark.parametrize("layout", shapes.LAYOUTS)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=6)
@given(span=st.floats(300.0, 900.0))
def test_any_small_span_makes_a_plane(layout: Layout, tmp_path: Path, span: float) -> None:
    """Between 30 and 90 cm there is no span whose stand-ins do not load."""
    folder = tmp_path / f"{span:.6f}"
    create.create(folder, told(layout, round(span, 1)))
    assert load(folder).plane.airframe.surfaces[0].stations[-1].y is not None


TEXTS = st.sampled_from(
    [
        *("0 mm", "-5 mm", "80 mm", "300 mm", "1.5 m", "12 in", "5 %", "-3 %", "nan mm", "1e309 g"),
        *("12 g", "500 g", "3 oz", "20 m/s", "8 min", "250 EUR", "12 deg", "80 deg", "15 degC"),
        *("none", "2204 2300", "3S 450", "20 A", "0 A", "5x3", "99x99x6", "", '"', "EPP", "delta"),
        *("1 ± 400 mm", "410 mm +- 3 mm", "12,5 mm", "camera nano", "9999 99999"),
    ]
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=150)
@given(
    layout=st.sampled_from(shapes.LAYOUTS),
    more=st.dictionaries(st.sampled_from(sorted(interview.BY_KEY)), TEXTS, max_size=6),
)
def test_any_answers_make_a_plane_or_a_problem(
    layout: Layout, more: dict[str, str], tmp_path: Path
) -> None:
    """Whatever is typed, either a plane comes that loads, or findings that name their keys."""
    folder = tmp_path / f"{len(list(tmp_path.iterdir()))}"
    findings: tuple[Finding, ...] = ()
    try:
        create.create(folder, {"layout": layout, "ruler.span": "600 mm", **more})
    except PlaneFileProblem as problem:
        findings = problem.findings
    assert all(found.key and found.what for found in findings)
    assert folder.exists() != bool(findings)
    assert findings or load(folder).plane.items


@pytest.mark.parametrize("layout", shapes.LAYOUTS)
@pytest.mark.parametrize("span", [350, 600, 850])
def test_usual_places_can_be_balanced(layout: Layout, span: float, tmp_path: Path) -> None:
    """The stand-ins are no trap: the pack finds its place inside its usual bay."""
    create.create(tmp_path, told(layout, span))
    (answer,) = ask(tmp_path, ("balance",), Settings(samples=64)).answers
    place = next(f for f in answer.figures if f.name == "pack_x_for_target")
    assert place.value is not None
    assert place.limit_low is not None
    assert place.limit_high is not None
    assert place.limit_low < place.value < place.limit_high
    assert answer.probability is not None
    assert answer.probability > 0.5


def test_a_plane_is_never_overwritten(tmp_path: Path) -> None:
    """What is there stays as it is, to the byte."""
    file = tmp_path / "plane.toml"
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(WriteProblem, match="exists already"):
        create.create(tmp_path, told("plank"))
    assert file.read_text(encoding="utf-8") == "mine"
    assert [path.name for path in tmp_path.iterdir()] == ["plane.toml"]


def test_a_plane_that_appears_meanwhile_is_not_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Someone else writing the same file between look and write wins."""
    file = tmp_path / "plane.toml"
    check = create.checked

    def slow(directory: Path, text: str, source: Path | None) -> None:
        check(directory, text, source)
        file.write_text("theirs", encoding="utf-8")

    monkeypatch.setattr(create, "checked", slow)
    with pytest.raises(WriteProblem, match="exists already"):
        create.create(tmp_path, told("plank"))
    assert file.read_text(encoding="utf-8") == "theirs"


def test_a_file_in_the_place_of_the_folder_is_a_problem(tmp_path: Path) -> None:
    """A folder cannot be made where a file is."""
    (tmp_path / "wren").write_text("", encoding="utf-8")
    for folder in (tmp_path / "wren", tmp_path / "wren" / "deeper"):
        with pytest.raises(WriteProblem):
            create.create(folder, told("plank"))


def test_bad_answers_leave_nothing_behind(tmp_path: Path) -> None:
    """Not even the folder is made."""
    with pytest.raises(PlaneFileProblem):
        create.create(tmp_path / "new" / "wren", told("plank", ruler__span_width="3 mm"))
    assert list(tmp_path.iterdir()) == []


def test_answers_that_make_no_plane_are_sent_back(tmp_path: Path) -> None:
    """A pack too light for its label is told of the answers, not of a file that is gone."""
    source = tmp_path / "answers.toml"
    answers = told("plank", labels__pack="3S 1500", scale__pack="12 g")
    with pytest.raises(PlaneFileProblem) as caught:
        create.create(tmp_path / "wren", answers, source)
    (found,) = caught.value.findings
    assert found.file == source
    assert found.key == "items.pack.mass"
    assert list(tmp_path.iterdir()) == []


def test_a_pressed_key_leaves_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ctrl-C while writing takes the half-made folder away again."""

    def pressed(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(create, "checked", pressed)
    with pytest.raises(KeyboardInterrupt):
        create.create(tmp_path / "new" / "wren", told("plank"))
    assert list(tmp_path.iterdir()) == []


def test_a_disk_without_second_names_is_written_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where a file cannot have two names the draft is renamed."""

    def refuse(*_: object) -> None:
        raise PermissionError

    monkeypatch.setattr("os.link", refuse)
    made = create.create(tmp_path / "wren", told("plank"))
    assert load(made.file).plane.layout == "plank"
    assert [path.name for path in made.file.parent.iterdir()] == ["plane.toml"]


def test_the_same_answers_write_the_same_file(tmp_path: Path) -> None:
    """Made for version control: no dates, no chance in it."""
    first = create.create(tmp_path / "a" / "wren", told("delta", 460)).file
    second = create.create(tmp_path / "b" / "wren", told("delta", 460)).file
    assert first.read_bytes() == second.read_bytes()


def test_what_was_told_is_not_marked(tmp_path: Path) -> None:
    """Each answer takes its remark away."""
    few = create.create(tmp_path / "few", told("plank")).remarks
    more = told("plank", labels__motor="2204 2300", places__motor="300 mm", scale__motor="24 g")
    assert create.create(tmp_path / "more", more).remarks == few - 3

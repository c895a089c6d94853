"""Edits: at once and whole, comments kept, refused where somebody else was quicker."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from tests.page.stage import Visit

from foamwright.jobs.ask import Settings, opened
from foamwright.page.desk import Desk
from foamwright.questions.register import QUESTIONS

SAMPLES = 64


def raw(folder: Path) -> dict[str, Any]:
    """Return the plane file as plain data."""
    return tomllib.loads((folder / "plane.toml").read_text(encoding="utf-8"))


def item(folder: Path, name: str) -> dict[str, Any]:
    """Return one part of the plane file."""
    return next(i for i in raw(folder)["items"] if i["name"] == name)


def test_a_move_is_written_with_its_comments_kept(visit: Visit, folder: Path) -> None:
    """Only the one value changes; every other line stays as the builder wrote it."""
    visitor = visit()
    before = (folder / "plane.toml").read_text(encoding="utf-8").splitlines()
    answer = visitor.post(
        "/edit", {"moves": {"pack": {"x": 101}}, "revision": visitor.desk.revision()}
    )
    assert answer.status_code == 200
    after = (folder / "plane.toml").read_text(encoding="utf-8").splitlines()
    changed = [pair for pair in zip(before, after, strict=True) if pair[0] != pair[1]]
    assert len(changed) == 1
    assert '"101 mm"' in changed[0][1]


def test_a_spread_that_was_written_stays(visit: Visit, folder: Path) -> None:
    """A place measured to 2 mm is still known to 2 mm after a move."""
    visitor = visit()
    field = {"fields": {"items.pack.at.x": "120 ± 2 mm"}, "revision": visitor.desk.revision()}
    assert visitor.post("/edit", field).status_code == 200
    move = {"moves": {"pack": {"x": 99.5}}, "revision": visitor.desk.revision()}
    assert visitor.post("/edit", move).status_code == 200
    assert item(folder, "pack")["at"]["x"] == "99.5 ± 2 mm"


def test_taking_back_writes_what_was_there(visit: Visit, folder: Path) -> None:
    """The answer to an edit holds what it replaced; sent back, it restores the value."""
    visitor = visit()
    sent = {"fields": {"targets.top_speed": ""}, "revision": visitor.desk.revision()}
    told = visitor.post("/edit", sent).json()
    assert "top_speed" not in raw(folder)["targets"]
    again = visitor.post("/edit", {**told["undo"], "revision": told["revision"]})
    assert again.status_code == 200
    assert raw(folder)["targets"]["top_speed"] == "24 m/s"


def test_the_second_tab_is_told_what_changed(visit: Visit, folder: Path) -> None:
    """Two tabs read the same file; the later edit is refused with the change of the earlier."""
    visitor = visit()
    seen = visitor.desk.sight().revision
    assert (
        visitor.post("/edit", {"moves": {"pack": {"x": 99}}, "revision": seen}).status_code == 200
    )
    late = visitor.post("/edit", {"moves": {"pack": {"x": 140}}, "revision": seen})
    assert late.status_code == 409
    assert late.json()["overtaken"] == ["items.pack.at.x: 120 mm is now 99 mm"]
    assert late.json()["revision"] == visitor.desk.revision()
    assert item(folder, "pack")["at"]["x"] == "99 mm"


def test_a_file_changed_outside_is_not_written_over(visit: Visit, folder: Path) -> None:
    """An editor that saved meanwhile wins, and the page says what it sees there."""
    visitor = visit()
    seen = visitor.desk.sight().revision
    file = folder / "plane.toml"
    text = file.read_text(encoding="utf-8").replace('"112 ± 1 g"', '"109 ± 1 g"')
    file.write_text(text, encoding="utf-8")
    answer = visitor.post("/edit", {"moves": {"pack": {"x": 99}}, "revision": seen})
    assert answer.status_code == 409
    assert "112 ± 1 g is now 109 ± 1 g" in answer.json()["problem"]
    assert file.read_text(encoding="utf-8") == text


def test_a_new_server_still_knows_an_old_tab(visit: Visit) -> None:
    """The revision is the file's own: after a restart a tab goes on where it was."""
    first = visit()
    seen = first.desk.sight().revision
    second = visit()
    move = {"moves": {"pack": {"x": 99}}, "revision": seen}
    assert second.post("/edit", move).status_code == 200
    third = visit()
    stale = {
        "fields": {"items.pack.at.x": "70 mm"},
        "was": {"items.pack.at.x": "120 mm"},
        "revision": seen,
    }
    late = third.post("/edit", stale)
    assert late.status_code == 409
    assert late.json()["overtaken"] == ["items.pack.at.x: 120 mm is now 99 mm"]


BAD = [
    ({"fields": {"items.pack.mass": "41"}}, "items.pack.mass", 'did you mean "41 g"?'),
    ({"fields": {"items.pack.mass": "4,1 g"}}, "items.pack.mass", 'write "4.1 g"'),
    ({"fields": {"airframe.surfaces.wing.dihedral": "4 g"}}, "wing.dihedral", "measures something"),
    ({"fields": {"items.propeller.spares": "three"}}, "items.propeller.spares", "whole number"),
    ({"fields": {"items.pack.owned": "perhaps"}}, "items.pack.owned", "yes or no"),
    ({"fields": {"layout": "flying saucer"}}, "layout", "not one of the words"),
    ({"fields": {"nonsense": "1"}}, "nonsense", "is no key here"),
    ({"fields": {"airframe.bare_mass": "112 ± -1 g"}}, "airframe.bare_mass", "negative spread"),
    ({"keys": {"variants.evil.name": "x"}}, "variants.evil.name", "no key that can be written"),
    ({"keys": {"items.pack.reach": {"foremost": None}}}, "items.pack.reach", "nothing inside"),
]


@pytest.mark.parametrize("bad", BAD, ids=lambda bad: bad[2])
def test_a_bad_edit_is_told_beside_its_key(
    visit: Visit, folder: Path, bad: tuple[dict[str, object], str, str]
) -> None:
    """The same problem as on the command line, with its key; the file stays as it is."""
    edit, key, words = bad
    visitor = visit()
    before = (folder / "plane.toml").read_bytes()
    answer = visitor.post("/edit", {**edit, "revision": visitor.desk.revision()})
    assert answer.status_code == 422
    findings = answer.json()["findings"]
    assert any(key in finding["key"] for finding in findings)
    assert any(words in f"{f['what']} {f['expected']}" for f in findings)
    assert (folder / "plane.toml").read_bytes() == before


@pytest.mark.parametrize(
    "body",
    [
        [],
        {"moves": 3},
        {"moves": {"nobody": {"x": 1}}},
        {"moves": {"pack": {"w": 1}}},
        {"moves": {"pack": {"x": "far"}}},
        {"moves": {"pack": {"x": True}}},
        {"moves": {"pack": {"x": 1e9}}},
        {"moves": {"pack": []}},
        {"fields": {"name": 3}},
        {"fields": {f"k{i}": "" for i in range(100)}},
    ],
)
def test_what_is_no_edit_is_refused(visit: Visit, folder: Path, body: object) -> None:
    """A body of another shape is the sender's slip, not our fault."""
    visitor = visit()
    before = (folder / "plane.toml").read_bytes()
    if isinstance(body, dict):
        body = {**body, "revision": visitor.desk.revision()}
    answer = visitor.post("/edit", body)
    assert answer.status_code in (400, 422)
    assert answer.json()["problem"]
    assert (folder / "plane.toml").read_bytes() == before


def test_a_part_is_added_and_taken_out_again(visit: Visit, folder: Path) -> None:
    """A whole part can be written, and taken back."""
    visitor = visit()
    entry = {"kind": "beeper", "mass": "2 ± 0.2 g", "at": {"x": "200 mm"}}
    told = visitor.post(
        "/edit", {"keys": {"items.beeper": entry}, "revision": visitor.desk.revision()}
    ).json()
    assert item(folder, "beeper") == {"name": "beeper", **entry}
    back = visitor.post("/edit", {**told["undo"], "revision": told["revision"]})
    assert back.status_code == 200
    assert "beeper" not in [i["name"] for i in raw(folder)["items"]]


def test_the_same_name_twice_is_refused(visit: Visit) -> None:
    """A second part needs another name."""
    visitor = visit()
    entry = {"kind": "beeper", "mass": "2 g", "at": {"x": "200 mm"}}
    answer = visitor.post(
        "/edit", {"keys": {"items.GPS": entry}, "revision": visitor.desk.revision()}
    )
    assert answer.status_code in (400, 422)
    assert "another name" in answer.json()["problem"]


def test_what_was_tried_is_kept_as_a_variant(visit: Visit, folder: Path) -> None:
    """The variant holds the keys that were tried, and the plane itself is left alone."""
    visitor = visit()
    sent = {
        "trial": {"items.pack.at.x": "95 mm"},
        "name": "pack forward",
        "revision": visitor.desk.revision(),
    }
    assert visitor.post("/keep", sent).status_code == 200
    assert raw(folder)["variants"]["pack forward"] == {"items.pack.at.x": "95 mm"}
    assert item(folder, "pack")["at"]["x"] == "120 mm"
    page = visitor.ask("GET", "/?variant=pack+forward", headers={"accept": "text/html"})
    assert "pack forward" in page.text
    again = visitor.post("/keep", {**sent, "revision": visitor.desk.revision()})
    assert again.status_code == 422
    assert "already" in again.json()["problem"]


def test_an_edit_of_a_variant_stays_in_it(visit: Visit, folder: Path) -> None:
    """What is moved while a variant is looked at is written into the variant."""
    visitor = visit()
    sight = visitor.desk.sight("two cells")
    body = {"moves": {"pack": {"x": 88}}, "variant": "two cells", "revision": sight.revision}
    assert visitor.post("/edit", body).status_code == 200
    assert raw(folder)["variants"]["two cells"]["items.pack.at.x"] == "88 mm"
    assert item(folder, "pack")["at"]["x"] == "120 mm"


@pytest.mark.parametrize("name", ["", "   ", "x" * 61, "a\nb", 3])
def test_a_name_that_is_none_is_refused(visit: Visit, folder: Path, name: object) -> None:
    """A variant wants a name that can be written and read."""
    visitor = visit()
    before = (folder / "plane.toml").read_bytes()
    sent = {"trial": {"purpose": "x"}, "name": name, "revision": visitor.desk.revision()}
    assert visitor.post("/keep", sent).status_code in (400, 422)
    assert (folder / "plane.toml").read_bytes() == before


def test_the_desk_tells_the_numbers_of_a_fresh_reading(desk: Desk, folder: Path) -> None:
    """After a move the lattice is taken over; every figure is what a new process would tell."""
    desk.sight()
    file = folder / "plane.toml"
    text = file.read_text(encoding="utf-8")
    moved = text.replace('at = { x = "120 mm" }', 'at = { x = "97 mm" }')
    assert moved != text
    file.write_text(moved, encoding="utf-8")
    kept = desk.sight()
    _, fresh = opened(folder, Settings(samples=SAMPLES))
    for question in QUESTIONS:
        assert question.measure(kept.case).figures == question.measure(fresh).figures

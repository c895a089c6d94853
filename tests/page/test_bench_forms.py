"""The forms of the bench tests: the fields of the notes, examples that can be noted as they are."""

import datetime as dt
from pathlib import Path

import pytest

from foamwright.jobs.bench import record_of
from foamwright.jobs.bench_tests import TESTS, WEIGH, keys_of, list_of
from foamwright.page.bench_forms import (
    ABOUT,
    LABELS,
    OTHERWISE,
    Form,
    form_of,
    forms_of,
    label_of,
    words_of,
)
from foamwright.plane.document import load
from foamwright.plane.plane import Plane
from foamwright.problems import CallProblem

EXAMPLES = Path(__file__).parents[2] / "examples"
EVERY = (WEIGH, *TESTS)
NONE: frozenset[str] = frozenset()


@pytest.fixture(scope="module")
def plane() -> Plane:
    """Return the example plane."""
    return load(EXAMPLES / "reedling").plane


def imperial(plane: Plane) -> Plane:
    """Return it for a builder who thinks in inches."""
    return plane.model_copy(update={"units": "imperial"})


def filled(form: Form, leave: tuple[str, ...] = ()) -> dict[str, object]:
    """Return a form filled in with its own examples and first choices."""
    told: dict[str, object] = {}
    for entry in form.entries:
        if entry.key in leave:
            continue
        if entry.choices:
            told[entry.key] = entry.choices[0][0]
        elif entry.example:
            told[entry.key] = int(entry.example) if entry.whole else entry.example
    return told


@pytest.mark.parametrize("test", EVERY)
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_every_example_can_be_noted_as_it_stands(plane: Plane, test: str, units: str) -> None:
    """In the builder's units: an example that is refused teaches nothing."""
    form = form_of(test, imperial(plane) if units == "imperial" else plane)
    leave = ("at",) if test == "balance" else ()
    told = {**filled(form, leave), "date": dt.date(2026, 5, 1)}
    record = record_of(list_of(test), told, words_of(test))
    for entry in form.entries:
        if entry.example and entry.key not in leave:
            assert getattr(record, entry.key) is not None
    if test == "balance":
        alone = {"at": filled(form)["at"], "date": dt.date(2026, 5, 1)}
        assert record_of(list_of(test), alone, words_of(test)).date == dt.date(2026, 5, 1)


@pytest.mark.parametrize("test", EVERY)
def test_a_form_asks_for_what_the_command_takes(plane: Plane, test: str) -> None:
    """Same keys in the same order; what the record wants is marked as needed."""
    form = form_of(test, plane)
    assert tuple(entry.key for entry in form.entries) == keys_of(test)
    told = {"date": dt.date(2026, 5, 1)}
    needed = {entry.key for entry in form.entries if entry.required}
    if needed:
        with pytest.raises(CallProblem) as caught:
            record_of(list_of(test), told, words_of(test))
        first = next(entry for entry in form.entries if entry.required)
        assert first.label in str(caught.value)
        assert "--" not in str(caught.value)


def test_no_label_is_left_over() -> None:
    """Every word stands on some form, and every form has a title."""
    asked = {(test, key) for test in EVERY for key in keys_of(test)}
    assert set(OTHERWISE) <= asked
    assert set(LABELS) == {key for test, key in asked if (test, key) not in OTHERWISE}
    assert set(ABOUT) == set(EVERY)
    assert label_of("servo", "time").words != label_of("swing", "time").words


def test_what_can_be_chosen_is_what_the_plane_has(plane: Plane) -> None:
    """Servos, surfaces, items; what was weighed comes last and is told."""
    servos = next(e for e in form_of("servo", plane).entries if e.key == "servo")
    assert [name for name, _ in servos.choices] == ["aileron servos", "tail servos"]
    surfaces = next(e for e in form_of("hang", plane).entries if e.key == "surface")
    assert "wing" in dict(surfaces.choices)
    axes = next(e for e in form_of("swing", plane).entries if e.key == "axis")
    assert [name for name, _ in axes.choices] == ["roll", "pitch", "yaw"]
    items = form_of(WEIGH, plane, frozenset({"motor"})).entries[0]
    assert items.choices[-1] == ("motor", "motor, weighed")
    assert ("bare foam", "the bare foam") in items.choices
    assert ("all", "the plane ready to fly") in items.choices
    assert dict(items.choices)["aileron servos"] == "aileron servos (2 pieces)"


def test_a_plane_without_a_motor_or_servo_has_no_such_test(plane: Plane) -> None:
    """A glider cannot be run on a scale."""
    bare = plane.model_copy(
        update={"items": tuple(i for i in plane.items if i.kind not in {"motor", "servo"})}
    )
    names = {form.test for form in forms_of(bare, NONE)}
    assert names == set(EVERY) - {"thrust", "servo"}
    assert {form.test for form in forms_of(plane, NONE)} == set(EVERY)


def test_what_can_hurt_is_said_before_it_is_done() -> None:
    """Propellers, throws, strings and packs."""
    for test in ("thrust", "throw", "swing", "charge"):
        assert ABOUT[test].caution
    assert "ten seconds at most" in ABOUT["thrust"].caution


def test_kept_flights_are_offered_for_a_charge(plane: Plane) -> None:
    """And any other name may be typed."""
    entry = next(
        e for e in form_of("charge", plane, NONE, ("first", "second")).entries if e.key == "flight"
    )
    assert (entry.listed, entry.choices) == (("first", "second"), ())

"""Tests as data."""

import pytest

from foamwright.cli.main import main
from foamwright.questions.case import Case
from foamwright.search.cheap_tests import cheap_tests, settled


def test_every_test_says_what_it_settles_and_where_that_comes_from() -> None:
    """Keys, a spread between none and all, minutes, a source or a word that there is none."""
    for test in cheap_tests():
        assert test.keys
        assert 0.0 < test.leaves < 1.0
        assert test.minutes > 0.0
        assert test.tag


def test_every_command_it_names_is_there() -> None:
    """`weigh` and `bench` note what was measured."""
    named = {test.call.split()[0] for test in cheap_tests() if test.call}
    assert named <= set(main.commands)


def test_every_key_belongs_to_an_input_of_some_plane(reedling: Case) -> None:
    """A name that no input has would be a test of nothing."""
    known = [entry.key for entry in reedling.computed.draws.inputs()]
    for test in cheap_tests():
        for pattern in test.keys:
            alone = [key for key in known if test.settles(key)]
            assert alone, pattern


def test_only_what_nobody_weighed_is_to_be_weighed(reedling: Case) -> None:
    """All masses are written here; take one away and it is asked for."""
    weigh = next(t for t in cheap_tests() if t.do.startswith("Weigh every part"))
    assert settled(weigh, reedling) == ()
    unweighed = reedling.changed({"items.GPS.mass": None})
    assert settled(weigh, unweighed) == ("items.GPS.mass",)


@pytest.mark.parametrize(
    "keys",
    [
        {
            "items.propeller.static_reading": {
                "rotation_speed": "19000 rpm",
                "current": "9 A",
                "voltage": "11.4 V",
            }
        },
        {"items.motor": None},
    ],
    ids=["measured", "no motor"],
)
def test_a_bench_run_that_is_done_or_impossible_is_not_offered(
    reedling: Case, keys: dict[str, object]
) -> None:
    """One reading is there already, or nothing can run."""
    run = next(t for t in cheap_tests() if "full throttle" in t.do)
    assert settled(run, reedling)
    assert settled(run, reedling.changed(keys)) == ()

"""The tests that can be noted: what each takes is what its record holds."""

import pytest

from foamwright.jobs.bench_tests import KEYS, TESTS, WEIGH, keys_of, list_of
from foamwright.plane.bench_records import KINDS, Record

EVERY = (WEIGH, *TESTS)


@pytest.mark.parametrize("test", EVERY)
def test_a_test_takes_every_key_of_its_record(test: str) -> None:
    """All but what every record has: the day and a note."""
    assert set(keys_of(test)) == set(KINDS[list_of(test)].model_fields) - set(Record.model_fields)
    assert len(set(keys_of(test))) == len(keys_of(test))


def test_every_list_of_the_notes_is_reached_by_one_test() -> None:
    """But the build steps, which are ticked."""
    assert sorted(map(list_of, EVERY)) == sorted(set(KINDS) - {"steps"})


def test_what_is_named_otherwise_on_the_command_line_is_a_key_of_the_notes() -> None:
    """Volts and rpm are shorter to type."""
    assert set(KEYS.values()) <= set(keys_of("thrust"))
    assert not set(KEYS) & set(keys_of("thrust"))


def test_a_test_nobody_knows_is_an_error_of_the_program() -> None:
    """Who asks has looked before."""
    with pytest.raises(KeyError):
        keys_of("taste")
    with pytest.raises(KeyError):
        list_of("taste")

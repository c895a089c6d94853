"""An answer is frozen, plain data."""

import dataclasses

import pytest

from foamwright.questions import answer
from foamwright.questions.answer import Answer, Figure

RECORDS = ("Figure", "Share", "Effect", "Remedy", "ShoppingLine", "Answer")


def figure() -> Figure:
    """Return a figure."""
    return Figure(name="a", label="a", value=1.0, low=0.5, high=1.5, unit="-")


@pytest.mark.parametrize("name", RECORDS)
def test_records_are_frozen_and_without_surprises(name: str) -> None:
    """Nobody can change an answer that was given, and every field has a plain type."""
    record = getattr(answer, name)
    assert dataclasses.fields(record)
    assert record.__dataclass_params__.frozen
    for field in dataclasses.fields(record):
        assert "ndarray" not in str(field.type)
        assert "Samples" not in str(field.type)


def test_an_answer_cannot_be_changed() -> None:
    """Not even by accident."""
    with pytest.raises(dataclasses.FrozenInstanceError):
        figure().value = 2.0  # type: ignore[misc]  # that is the point


def test_what_was_not_told_is_empty_not_missing() -> None:
    """An answer without assumptions has an empty list of them, and no shopping."""
    plain = Answer(
        question="q",
        asks="?",
        verdict="open",
        probability=None,
        figures=(figure(),),
        because=".",
    )
    assert not any((plain.assumed, plain.missing, plain.remedies, plain.cautions, plain.shopping))
    assert not plain.provisional

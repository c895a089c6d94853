"""The list of what a new plane is asked."""

import pytest

from foamwright.jobs import interview, shapes
from foamwright.plane.airframe import Layout
from foamwright.quantity import DIMENSIONS


def test_every_key_is_asked_once() -> None:
    """No key twice, and each in a part of the interview that has a heading."""
    keys = [question.key for question in interview.QUESTIONS]
    assert len(keys) == len(set(keys))
    assert {interview.group_of(question) for question in interview.QUESTIONS} == set(
        interview.GROUPS
    )


def test_every_dimension_exists() -> None:
    """A question cannot ask for a quantity nobody can write."""
    used = {d for question in interview.QUESTIONS for d in question.dimensions}
    assert used <= set(DIMENSIONS)


def test_a_plank_is_not_asked_for_its_tail() -> None:
    """Only what a layout has is asked."""
    plank = {question.key for question in interview.asked_of("plank")}
    glider = {question.key for question in interview.asked_of("tail aft")}
    assert glider - plank == {"ruler.tail_span", "ruler.tail_chord", "ruler.tail_arm"}


@pytest.mark.parametrize("layout", shapes.LAYOUTS)
def test_the_interview_is_short(layout: Layout) -> None:
    """What a builder is asked fits on two screens; the rest only a file can tell."""
    assert len(interview.asked_of(layout)) <= 48


@pytest.mark.parametrize("layout", shapes.LAYOUTS)
def test_whatever_a_file_can_tell_has_a_stand_in_or_may_be_left_out(layout: Layout) -> None:
    """Lengths, labels, places, day and arm always have a stand-in."""
    found = shapes.stand_ins(layout, {"ruler.span": "600 mm"})
    without = {"ruler.span", "ruler.sweep", "ruler.camber"}
    wanted = {
        question.key
        for question in interview.QUESTIONS
        if interview.group_of(question) in ("ruler", "labels", "places", "site", "thrower")
    }
    assert wanted - without <= set(found)

"""A suspect is a plain record."""

from foamwright.model.suspects import AS_PLANNED, Suspect


def test_a_suspect_says_what_how_likely_and_how_to_find_out() -> None:
    """And what speaks against it, where something does."""
    suspect = Suspect(
        name="the pack is weak", probability=0.1, check="charge it", against="", expected=None
    )
    assert suspect.name != AS_PLANNED
    assert suspect.expected is None
    assert suspect.check

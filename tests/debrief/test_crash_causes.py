"""The table of causes, and the weighing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from foamwright.debrief.crash_causes import CAUSES, OTHER, SURE, USUAL, capped, evidence, ranked

NOTHING: dict[str, bool | None] = dict.fromkeys(USUAL)
ANY = st.fixed_dictionaries({name: st.sampled_from([True, False, None]) for name in USUAL})


def test_the_shares_are_all_there_is() -> None:
    """They sum to one before any log is looked at, and chances are chances."""
    assert sum(cause.share for cause in CAUSES.values()) == pytest.approx(1.0)
    for cause in CAUSES.values():
        assert set(cause.goes_with) <= set(USUAL)
        assert all(0.0 < share < 1.0 for share in cause.goes_with.values())
    assert all(0.0 < share < 1.0 for share in USUAL.values())


def test_without_a_sign_the_shares_stand() -> None:
    """A log that tells nothing moves nothing."""
    found = {one.name: one.probability for one in ranked(NOTHING)}
    assert found == pytest.approx({name: cause.share for name, cause in CAUSES.items()})


@given(signs=ANY)
def test_probabilities_sum_to_one_with_something_else(signs: dict[str, bool | None]) -> None:
    """Whatever was seen; ranked, and none surer than the table can be."""
    found = ranked(signs)
    shares = [one.probability for one in found]
    assert sum(shares) == pytest.approx(1.0)
    assert shares == sorted(shares, reverse=True)
    assert {one.name for one in found} == set(CAUSES)
    assert max(one.probability for one in found if one.name != OTHER) <= SURE + 1e-12


@given(signs=ANY, name=st.sampled_from(sorted(USUAL)))
def test_a_sign_moves_a_cause_by_its_ratio(signs: dict[str, bool | None], name: str) -> None:
    """Bayes: the odds of two causes change by the ratio of their likelihoods, where nothing is
    capped."""
    first, second = (
        {one.name: one.probability for one in ranked({**signs, name: seen})}
        for seen in (None, True)
    )
    if max(*first.values(), *second.values()) >= SURE:
        return
    for cause in ("stall", "motor", "power"):
        share = CAUSES[cause].goes_with.get(name, USUAL[name]) / USUAL[name]
        before, after = first[cause] / first[OTHER], second[cause] / second[OTHER]
        assert after == pytest.approx(before * share, rel=1e-9)


@pytest.mark.parametrize(
    ("seen", "likely"),
    [
        ({"voltage", "stops"}, "power"),
        ({"motor", "steady"}, "motor"),
        ({"slow", "roll", "dive"}, "stall"),
        ({"fast", "load", "dive"}, "overload"),
        ({"link", "cut"}, "link"),
        ({"wobble", "roll"}, "wobble"),
        ({"steady"}, "flown"),
        ({"downwind", "slow"}, "wind"),
        ({"steady", "cut", "slow"}, "landing"),
        ({"stops"}, OTHER),
    ],
)
def test_the_plain_cases_are_plain(seen: set[str], likely: str) -> None:
    """What anybody would say of them."""
    found = ranked({name: name in seen for name in USUAL})
    assert found[0].name == likely


def test_the_evidence_is_sorted_for_and_against() -> None:
    """Seen signs of the cause are for it, missed ones against it, unknown ones neither."""
    told = {"slow": True, "roll": False, "dive": True}
    stall = evidence("stall", 0.5, told)
    assert stall.for_it == ("slow", "dive")
    assert stall.against_it == ("roll",)
    flown = evidence("flown", 0.5, told)
    assert "slow" in flown.against_it
    assert evidence(OTHER, 0.1, told).for_it == ()


def test_a_cap_leaves_the_rest_to_something_else() -> None:
    """And leaves modest shares alone."""
    even = {"stall": 0.6, OTHER: 0.4}
    assert capped(even) == even
    assert capped({"stall": 0.999, OTHER: 0.001}) == pytest.approx({"stall": SURE, OTHER: 0.03})


def test_every_cause_but_the_last_says_what_to_check() -> None:
    """Two things each."""
    for name, cause in CAUSES.items():
        assert len(cause.checks) == (0 if name == OTHER else 2)
        assert cause.words

"""What is said of a crash, and that nothing is said where there was none."""

import dataclasses
import re

import pytest
from tests.debrief.broken_logs import broken
from tests.debrief.crashes import KINDS, soft_landing, unharmed
from tests.debrief.simulator import circles, fly
from tests.jobs.lost_log import LOG

from foamwright.debrief.analysis import READERS, analyse
from foamwright.debrief.crash import read_crash
from foamwright.debrief.crash_causes import CAUSES
from foamwright.debrief.outcome import Facts, Share
from foamwright.debrief.reading import read_log
from foamwright.debrief.recording import Recording
from foamwright.debrief.scene import scene_of


def told(recording: Recording, units: str = "metric") -> Share:
    """Return what is said of the end of a recording."""
    return read_crash(scene_of(recording, Facts(units=units))[0])


@pytest.mark.parametrize("kind", KINDS)
def test_the_right_cause_comes_first(kind: str) -> None:
    """Eight kinds of crash out of a simulator that knows nothing of the table: first in ten of
    twelve at least. When this was written it was 318 of 320; wind near the ground is missed
    where the wind of the flight is told too low."""
    firsts = [told(KINDS[kind](100 + seed)).findings[0] for seed in range(12)]
    right = [f"most likely {CAUSES[kind].words}" in first.what for first in firsts]
    assert sum(right) >= 10
    ends = "the log stops in the air" if kind == "power" else "it came down hard"
    assert all(first.what.startswith(ends) for first in firsts)
    assert all(len(first.check_first) == 3 for first in firsts)
    best = firsts[right.index(True)]
    assert best.check_first[0] == CAUSES[kind].checks[0]


def test_the_odds_told_sum_to_one() -> None:
    """To the rounding of whole percents and to what is too small to be named."""
    first = told(KINDS["wind"](1)).findings[0]
    shares = [int(n) for n in re.findall(r"(\d+) %(?=[;)])", f"{first.what};{first.because}")]
    odds = [int(n) for n in re.findall(r"\((\d+) %\)", first.what)]
    assert len(odds) == 1
    assert 90 <= sum(shares) <= 103
    assert "common practice, no source" in first.because


def test_each_likely_cause_has_its_evidence_for_and_against() -> None:
    """In the words of the signs."""
    share = told(KINDS["motor"](1))
    cause = next(one for one in share.findings if one.what.startswith("the motor stopped: "))
    assert "for it: the motor did not pull though the throttle was up" in cause.because
    assert not set(cause.check_first) & set(share.findings[0].check_first)
    low = told(KINDS["flown"](1)).findings
    landing = next(one for one in low if one.what.startswith("it was a landing"))
    assert "against it: the throttle was not cut" in landing.because


def test_the_last_ten_seconds_are_told_in_the_users_units() -> None:
    """Height above the launch ground, airspeed, throttle, pack, current."""
    metric, imperial = (
        told(KINDS["motor"](1), units).findings[0].because for units in ("metric", "imperial")
    )
    assert re.search(r"over the last 10 s: height 2\d\.\d m to -?\d\.\d+ m, airspeed 1\d", metric)
    assert "throttle" in metric
    assert "mph" in imperial
    assert " ft to " in imperial


def test_nothing_is_claimed_of_flights_that_did_not_crash() -> None:
    """The example's soft landing, landings that roll out, circles, logs that merely stop."""
    assert told(read_log(LOG).recording) == Share()
    for seed in range(12):
        assert told(soft_landing(seed)) == Share()
        assert told(unharmed(seed)) == Share()
        assert told(fly(circles(60, seed=seed))) == Share()


def test_a_poor_log_leaves_more_open() -> None:
    """Without throttle, current and roll a stopped motor is not told apart from a low flight."""
    whole = KINDS["motor"](1)
    kept = ("ground_speed", "course", "height")
    poor = dataclasses.replace(whole, channels={name: whole.channels[name] for name in kept})
    first = told(poor).findings[0]
    odds = re.search(r"\((\d+) %\)", first.what)
    assert odds is not None
    assert int(odds[1]) < 80
    missing = [one.because for one in told(poor).findings if "this log cannot tell" in one.because]
    assert missing


@pytest.mark.parametrize("seed", range(40))
def test_a_broken_log_is_read_as_far_as_it_goes(seed: int) -> None:
    """Whatever is missing: no fault, and what is said is whole."""
    kinds = list(KINDS.values())
    share = told(broken(kinds[seed % len(kinds)](seed), seed))
    assert share.figures == ()
    for one in share.findings:
        assert one.what
        assert "nan" not in f"{one.what} {one.because}"
        assert len(one.check_first) <= 3


def test_the_analysis_reads_crashes_too() -> None:
    """Registered among the readers, its findings among the others."""
    assert read_crash in READERS
    found = analyse(KINDS["stall"](1), Facts())
    assert any("most likely it stalled or spun" in one.what for one in found.findings)

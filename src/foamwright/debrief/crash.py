"""What a crash may have come from: the last ten seconds told, causes weighed, where to look."""

import numpy as np

from foamwright.debrief.crash_causes import CAUSES, OTHER, Ranked, ranked
from foamwright.debrief.crash_look import LAST, Look, look_at
from foamwright.debrief.crash_signs import SIGNS, alarmed, signs_of
from foamwright.debrief.last_seen import launch_ground
from foamwright.debrief.outcome import Remark, Share
from foamwright.debrief.scene import Scene
from foamwright.quantity import show

TOLD = 0.10
"""Causes less likely than this have no line of their own."""
MOST_CAUSES, MOST_SIGNS, MOST_CHECKS = 3, 3, 3
"""Told at most."""
BASIS = "how often each sign goes with each cause is common practice, no source"
"""What the weighing rests on."""
ENDS = (
    ("throttle", "throttle", "fraction"),
    ("voltage", "pack", "voltage"),
    ("current", "current", "current"),
)
"""Channels told of the last seconds: words and dimension."""


def read_crash(scene: Scene) -> Share:
    """Return what a crash, or a log that stops in the air with something amiss, may have come from.

    Nothing is claimed of a flight that landed, or whose log merely stops.
    """
    look = look_at(scene)
    if look is None:
        return Share()
    signs = signs_of(look)
    if not look.struck and not alarmed(signs):
        return Share()
    causes = ranked(signs)
    told = [one for one in causes if one.name != OTHER and one.probability >= TOLD]
    return Share(
        findings=(
            summary(look, causes),
            *(remark(one, signs, named=checks(causes)) for one in told[:MOST_CAUSES]),
        )
    )


def summary(look: Look, causes: tuple[Ranked, ...]) -> Remark:
    """Return what happened, how likely each cause is, and the three things to check first."""
    happened = "it came down hard" if look.struck else "the log stops in the air"
    first = causes[0]
    likely = f"most likely {CAUSES[first.name].words} ({per_cent(first.probability)})"
    others = "; ".join(
        f"{CAUSES[one.name].words} {per_cent(one.probability)}"
        for one in causes[1:]
        if one.probability >= 0.01
    )
    return Remark(
        what=f"{happened}: {likely}",
        because="; ".join(part for part in (last_seconds(look), f"else: {others}", BASIS) if part),
        check_first=checks(causes),
    )


def checks(causes: tuple[Ranked, ...]) -> tuple[str, ...]:
    """Return three things to check, of the likeliest causes in turn."""
    known = [one for one in causes if CAUSES[one.name].checks]
    first, second = known[0], known[1]
    own, next_ = CAUSES[first.name].checks, CAUSES[second.name].checks
    return (*own[:2], next_[0])[:MOST_CHECKS]


def remark(one: Ranked, signs: dict[str, bool | None], named: tuple[str, ...]) -> Remark:
    """Return one cause with the evidence for it and against it; checks `named` are not repeated."""
    cause = CAUSES[one.name]
    words = [
        f"{title}: {', '.join(sign_words(name, signs) for name in names[:MOST_SIGNS])}"
        for title, names in (("for it", one.for_it), ("against it", one.against_it))
        if names
    ]
    unknown = [name for name in cause.goes_with if signs[name] is None]
    if not words:
        words.append("nothing in this log speaks for it or against it")
    if unknown and max(cause.goes_with[name] for name in unknown) >= 0.5:
        lacking = max(unknown, key=lambda name: cause.goes_with[name])
        words.append(f"this log cannot tell whether {SIGNS[lacking].seen}")
    return Remark(
        what=f"{cause.words}: {per_cent(one.probability)}",
        because="; ".join(words),
        check_first=tuple(check for check in cause.checks if check not in named),
    )


def sign_words(name: str, signs: dict[str, bool | None]) -> str:
    """Return a sign in words, seen or missed."""
    return SIGNS[name].seen if signs[name] else SIGNS[name].missed


def per_cent(share: float) -> str:
    """Return a probability in percent."""
    return f"{100.0 * share:.0f} %"


def last_seconds(look: Look) -> str:
    """Return how the last seconds went, from their first to their last values."""
    units = look.scene.facts.units
    told = [height_told(look, units)]
    for name, words, dimension in ENDS:
        ends = first_and_last(look, look.channel(name))
        if ends is not None:
            told.append(
                f"{words} {show(ends[0], dimension, units)} to {show(ends[1], dimension, units)}"
            )
    ends = first_and_last(look, look.airspeed)
    if ends is not None:
        told.insert(
            1, f"airspeed {show(ends[0], 'speed', units)} to {show(ends[1], 'speed', units)}"
        )
    words = ", ".join(part for part in told if part)
    return f"over the last {LAST:.0f} s: {words}" if words else ""


def height_told(look: Look, units: str) -> str:
    """Return how the height above the launch ground went, empty where it is not known."""
    height = look.channel("height")
    if height is None or not np.isfinite(height).any():
        return ""
    ends = first_and_last(look, height - launch_ground(look.scene.recording)[0])
    if ends is None:
        return ""
    return f"height {show(ends[0], 'elevation', units)} to {show(ends[1], 'elevation', units)}"


def first_and_last(look: Look, values: np.ndarray | None) -> tuple[float, float] | None:
    """Return the means of the first second of the last ten and of their last half second."""
    if values is None:
        return None
    time = look.time
    early = look.late & (time < look.end - LAST + 1.0) & np.isfinite(values)
    last = look.late & (time > look.end - 0.5) & np.isfinite(values)
    if not early.any() or not last.any():
        return None
    return float(values[early].mean()), float(values[last].mean())

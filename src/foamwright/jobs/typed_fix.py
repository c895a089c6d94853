"""The last that was seen of a plane, read off a screen and typed: a place, and what is known."""

import math
import re
from collections.abc import Mapping

from foamwright.debrief.geodesy import Spot
from foamwright.debrief.last_seen import FIX_SPREAD, HEIGHT_SPREAD, LastSeen
from foamwright.jobs.search_inputs import POINTS
from foamwright.problems import Finding, InputProblem, QuantityProblem
from foamwright.quantity import Quantity, read, show

FIELDS = ("fix", "height", "speed", "course", "climb", "launch")
"""What can be typed; only the first is needed."""

DEGREES = r"[-+−]?\d{1,3}(?:\.\d+)?"
PLACE = re.compile(
    rf"^\s*(?P<lat>{DEGREES})\s*°?\s*(?P<ns>[NnSs])?\s*[,;\s]\s*"
    rf"(?P<lon>{DEGREES})\s*°?\s*(?P<ew>[EeWw])?\s*$"
)
NAMED = {"lat": "latitude", "lon": "longitude"}
LIKE = 'write latitude, then longitude, in degrees: "47.311265, 8.523829"'

FASTEST, HIGHEST = 90.0, 3000.0
"""What a foam plane does not exceed [m s^-1], [m]."""
LOWEST = -300.0
"""Below the launch ground, down a mountain [m]."""


class FixProblem(InputProblem):
    """What is wrong with a typed fix, by field."""


def wrong(key: str, what: str, expected: str) -> FixProblem:
    """Return what is wrong with one field."""
    return FixProblem((Finding(what=what, expected=expected, key=key),))


def spot_in(key: str, text: str) -> Spot:
    """Return a place as a phone writes it; raises FixProblem."""
    match = PLACE.match(text)
    if match is None:
        raise wrong(key, f"'{text}' is no place", LIKE)
    ends = []
    for name, letter, most in (("lat", "ns", 90.0), ("lon", "ew", 180.0)):
        value = float(match[name].replace("−", "-"))
        side = (match[letter] or "").upper()
        if side and value < 0.0:
            raise wrong(key, f"'{text}' has a sign and a letter for the same side", LIKE)
        if abs(value) > most:
            what = f"{abs(value):g} degrees are more than a {NAMED[name]} can be"
            raise wrong(key, what, LIKE)
        ends.append(-value if side in {"S", "W"} else value)
    return Spot(latitude=ends[0], longitude=ends[1])


def value_in(key: str, text: str, dimension: str, limits: tuple[float, float]) -> Quantity:
    """Return a value with its unit; raises FixProblem."""
    try:
        return read(text, dimension, limits=limits)
    except QuantityProblem as problem:
        (first, *_) = problem.findings
        raise wrong(key, first.what, first.expected) from problem


def course_in(text: str) -> float:
    """Return a course in degrees or as a point of the compass [rad]; raises FixProblem."""
    word = re.sub(r"\s*(?:deg|°)\s*$", "", text).strip().upper()
    like = 'degrees clockwise from north, as "166", or a point of the compass, as "SSE"'
    degrees = POINTS.get(word)
    if degrees is None:
        try:
            degrees = float(word)
        except ValueError:
            raise wrong("course", f"'{text}' is no course", like) from None
    if not 0.0 <= degrees <= 360.0:
        raise wrong("course", f"'{text}' is no course of a circle", like)
    return math.radians(degrees)


def velocity_in(told: Mapping[str, str]) -> tuple[float, float] | None:
    """Return the speed north and east; none where nobody told it; raises FixProblem."""
    speed, course = told.get("speed"), told.get("course")
    if speed is None and course is None:
        return None
    if course is None:
        raise wrong("course", "a speed helps only with its course", "tell both, or neither")
    turn = course_in(course)
    if speed is None:
        raise wrong("speed", "a course helps only with its speed", "tell both, or neither")
    fast = value_in("speed", speed, "speed", (0.0, FASTEST)).value
    return fast * math.cos(turn), fast * math.sin(turn)


def height_in(told: Mapping[str, str]) -> Quantity | None:
    """Return the height above the launch ground; none where nobody told it; raises FixProblem."""
    text = told.get("height")
    return None if text is None else value_in("height", text, "elevation", (LOWEST, HIGHEST))


def climb_in(told: Mapping[str, str]) -> float | None:
    """Return the climb rate [m s^-1]; none where nobody told it; raises FixProblem."""
    text = told.get("climb")
    return None if text is None else value_in("climb", text, "speed", (-FASTEST, FASTEST)).value


def launch_in(told: Mapping[str, str]) -> Spot | None:
    """Return where it was launched; none where nobody told it; raises FixProblem."""
    text = told.get("launch")
    return None if text is None else spot_in("launch", text)


def fix_in(told: Mapping[str, str]) -> Spot:
    """Return the last fix; raises FixProblem where there is none."""
    text = told.get("fix")
    if text is None:
        raise wrong("fix", "there is no last fix", LIKE)
    return spot_in("fix", text)


READERS = (fix_in, height_in, velocity_in, climb_in, launch_in)
"""What reads the fields, one after the other."""


def check(told: Mapping[str, str]) -> None:
    """Refuse a typed fix; raises FixProblem with everything that is wrong with it."""
    strange = [name for name in told if name not in FIELDS]
    findings = [Finding(what="is nothing that can be typed here", key=name) for name in strange]
    for reader in READERS:
        try:
            reader(told)
        except FixProblem as problem:
            findings.extend(problem.findings)
    if findings:
        raise FixProblem(tuple(findings))


def seen_of(typed: Mapping[str, str], units: str = "metric") -> LastSeen:
    """Return the last that was seen, as typed; raises FixProblem with everything wrong."""
    told = {key: text.strip() for key, text in typed.items() if text.strip()}
    check(told)
    height, velocity = height_in(told), velocity_in(told)
    spread = None if height is None else height.spread
    near = show(FIX_SPREAD, "elevation", units)
    told_of = f"the last fix is right to within {near} north or east, one sigma"
    return LastSeen(
        spot=fix_in(told),
        fix_time=0.0,
        fix_spread=FIX_SPREAD,
        stale=0.0,
        height=None if height is None else height.value,
        height_spread=HEIGHT_SPREAD if spread is None else max(spread, 1.0),
        north=None if velocity is None else velocity[0],
        east=None if velocity is None else velocity[1],
        climb=climb_in(told),
        turn=0.0,
        grounded=False,
        start=launch_in(told),
        hole=0.0,
        assumed=(told_of, "whether it turned is not known"),
        logged=False,
    )

"""Why a weighing, a servo's sweep or a throw may read other than planned.

How often each happens, and how strong it is, is common practice, no source.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.model.explanations import AS_OFTEN, FAR, Explanation, Seen, ranked, times
from foamwright.model.suspects import AS_PLANNED, Suspect
from foamwright.physics.arrays import Grid, Samples
from foamwright.plane.bench_records import ALL_UP, ServoSweep, Weighing
from foamwright.quantity import show

SHARPEST = 1e-9
"""Spread below which no reading is told [SI]: one of nothing has none of its own."""

TARE = 8e-3
"""What lies on a scale beside the thing, or was not set to nothing [kg], one deviation."""

LEADS = 2e-3
"""Leads, plugs, screws and tape that were on the scale or not [kg]."""

OTHER_PART = 0.35
"""ln spread of a part that is another one than in the file."""

GUESSED = 0.30
"""ln spread of a typical mass that nobody weighed, where the real part is unlike the typical."""

LISTLESS = 0.05
"""Mass aboard that the file does not list, over the mass of all."""

HEAVY = 0.04
"""Share of all from which a part is worth asking whether it was aboard."""

VOLTS, LOADED, FRAMES, OTHER_SERVO = 0.12, 0.35, 0.12, 0.40
"""ln spreads of a sweep: by its voltage, against a load, of frames counted, of another servo."""

OTHER_THROW, RULER, AIR = 0.20, 0.15, 2.0
"""ln spreads of another arm and of a ruler beside the path; wind in what was planned [m s^-1]."""

CAMERA, OTHER_ANGLE = float(np.deg2rad(4.0)), float(np.deg2rad(8.0))
"""A camera that was not level, and another hand's angle [rad]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Read:
    """One reading beside its plan."""

    name: str
    """The JSON name of the reading."""
    value: float
    """As read [SI]."""
    spread: float
    """One standard deviation of it [SI]."""
    planned: Samples
    """What was planned (n,) [SI]."""
    draws: Draws
    """Whose luck the plan was drawn with, so that no cause shares it."""
    units: str
    """The user's."""

    @property
    def middle(self) -> float:
        """The middle of what was planned [SI]."""
        return float(np.median(self.planned))

    @property
    def ratio(self) -> float:
        """What was read over what was planned."""
        return self.value / self.middle if self.middle else float("inf")

    def normals(self, name: str) -> Samples:
        """Return the luck of one cause."""
        return self.draws.normal(f"cause.{self.name}.{name}", name)


def weighed_out(read: Read, explanations: Iterable[Explanation]) -> tuple[Suspect, ...]:
    """Return explanations of one reading with their chances, likeliest first."""
    seen = Seen(
        names=(read.name,),
        value=np.array([read.value]),
        noise=np.array([[max(read.spread, SHARPEST) ** 2]]),
        logs=(False,),
    )
    good = Explanation(name=AS_PLANNED, often=AS_OFTEN, told=read.planned[:, None])
    return ranked([good, *explanations], seen)


def factored(read: Read, name: str, ln_spread: float) -> Grid:
    """Return what would be read with a factor of a spread on the plan (n, 1)."""
    return (read.planned * np.exp(ln_spread * read.normals(name)))[:, None]


def within(words: str, needed: float, spread: float) -> tuple[str, str]:
    """Return words for a cause where what it needs is usual, against it where it is not."""
    usual = times(needed, spread) <= FAR
    return (f"{words} would do it", "") if usual else ("", f"it would take {words}")


def weighing_suspects(
    planned: ComputablePlane, record: Weighing, read: Read
) -> tuple[Suspect, ...]:
    """Return what may be behind a weighing, likeliest first; `read` is of one piece."""
    if record.item == ALL_UP:
        return weighed_out(read, [*off_scale(read), *of_all(planned, read)])
    return weighed_out(read, [*off_scale(read), *of_part(planned, record, read)])


def off_scale(read: Read) -> Iterator[Explanation]:
    """Yield what a scale does."""
    needed = read.value - read.middle
    speaks = within(f"{show(abs(needed), 'mass', read.units)} on the scale", needed, TARE)
    yield Explanation(
        name="the scale was not set to nothing, or something lay beside it",
        often=0.020,
        told=(read.planned + TARE * read.normals("tare"))[:, None],
        check="set it to nothing, weigh a coin of known mass, then weigh again",
        speaks_for=speaks[0],
        speaks_against=speaks[1],
    )


def of_part(planned: ComputablePlane, record: Weighing, read: Read) -> Iterator[Explanation]:
    """Yield what a part does: others of it on the scale, its leads, another one than planned."""
    item = next((one for one in planned.plane.items if one.name == record.item), None)
    needed = read.value - read.middle
    size = show(abs(needed), "mass", read.units)
    if item is not None and item.count > 1 and record.pieces == 1:
        all_of_them = show(read.middle * item.count, "mass", read.units)
        fits = abs(read.ratio / item.count - 1.0) < OTHER_PART
        words = f"all {item.count} would be {all_of_them}"
        yield Explanation(
            name=f"all {item.count} pieces lay on the scale",
            often=0.020,
            told=(read.planned * item.count)[:, None],
            check=f"count them, and note it with --pieces {item.count}",
            speaks_for=words if fits else "",
            speaks_against="" if fits else words,
        )
    speaks = within(f"{size} {'more' if needed > 0.0 else 'less'} of them", needed, LEADS)
    yield Explanation(
        name="leads, plugs or screws were weighed along, or were not",
        often=0.025,
        told=(read.planned + LEADS * read.normals("leads"))[:, None],
        check="weigh it as it goes into the plane, and say so in the note",
        speaks_for=speaks[0],
        speaks_against=speaks[1],
    )
    guessed = record.item in planned.masses.estimated
    yield Explanation(
        name="the mass in the file is a typical one, and this part is unlike it"
        if guessed
        else "it is another part than in the file",
        often=0.035,
        told=factored(read, "other", GUESSED if guessed else OTHER_PART),
        check="read its label against the file; every answer takes the scale's mass meanwhile",
        speaks_for=f"{read.ratio:.2f} times the mass in the file would do it",
    )


def of_all(planned: ComputablePlane, read: Read) -> Iterator[Explanation]:
    """Yield what the whole plane does: a part that was not aboard, or one that is not listed."""
    whole = read.middle
    points = [
        (point.name, float(np.median(point.mass)))
        for point in planned.masses.points[1:]
        if float(np.median(point.mass)) >= HEAVY * whole
    ]
    for name, mass in points:
        words = f"it is {show(mass, 'mass', read.units)} in the file"
        near = times(read.value - whole + mass, float(np.std(read.planned))) <= FAR
        yield Explanation(
            name=f"the {name.removeprefix('the ')} was not aboard",
            often=0.030 / len(points),
            told=(read.planned - planned.masses.named(name).mass)[:, None],
            check="look whether everything that flies was on the scale, and weigh again",
            speaks_for=words if near else "",
            speaks_against="" if near else words,
        )
    needed = read.value - whole
    speaks = within(show(abs(needed), "mass", read.units), needed, LISTLESS * whole)
    more = needed > 0.0
    yield Explanation(
        name="something is aboard that the file does not list",
        often=0.050,
        told=(read.planned + LISTLESS * whole * np.abs(read.normals("aboard")))[:, None],
        check="balance it: foamwright bench PLANE balance tells where such a mass would sit",
        speaks_for=speaks[0] if more else "",
        speaks_against=speaks[1] if more else "it makes it heavier, not lighter",
    )


def sweep_suspects(record: ServoSweep, read: Read) -> tuple[Suspect, ...]:
    """Return what may be behind a servo's sweep, likeliest first."""
    ratio, slow = read.ratio, read.ratio > 1.0
    volts = (
        f"it had {show(record.voltage.value, 'voltage', read.units)}"
        if record.voltage
        else f"a speed {1.0 / max(ratio, 1e-6):.2f} times the printed one would do it"
    )
    load = 1.0 + np.abs(LOADED * read.normals("loaded"))
    return weighed_out(
        read,
        [
            Explanation(
                name="its voltage is another than that of the printed time",
                often=0.035,
                told=factored(read, "volts", VOLTS),
                check="read the volts at its plug while it moves, and look which the print is for",
                speaks_for=volts,
            ),
            Explanation(
                name="it moved its surface, or something rubs",
                often=0.030,
                told=(read.planned * load)[:, None],
                check="take the pushrod off and film it again",
                speaks_for=f"{ratio - 1.0:.0%} slower" if slow else "",
                speaks_against="" if slow else "a load makes it slower, not faster",
            ),
            Explanation(
                name="the frames or the angle were read wrong",
                often=0.025,
                told=factored(read, "frames", FRAMES),
                check="film ten sweeps in a row with the phone's slow motion and count once more",
                speaks_for=f"{ratio:.2f} times the frames would do it",
            ),
            Explanation(
                name="it is another servo than in the file",
                often=0.010,
                told=factored(read, "other", OTHER_SERVO),
                check="read its label",
                speaks_for=f"a time {ratio:.2f} times the printed one would do it",
            ),
        ],
    )


def throw_suspects(read: Read) -> tuple[Suspect, ...]:
    """Return what may be behind the speed of a throw, likeliest first."""
    ratio = read.ratio
    needed = read.value - read.middle
    wind = within(f"{show(abs(needed), 'speed', read.units)} of it", needed, AIR)
    ruler = within(f"a scale {ratio:.2f} times the true one", np.log(max(ratio, 1e-6)), RULER)
    frames = [
        Explanation(
            name=f"the film runs {words} as fast as it was taken to",
            often=0.010,
            told=(read.planned * factor)[:, None],
            check="film a watch in the same mode and count the frames of a second",
            speaks_for=f"{ratio:.2f} times the planned speed" if near(ratio, factor) else "",
            speaks_against="" if near(ratio, factor) else f"it is {ratio:.2f} times the planned",
        )
        for words, factor in (("twice", 2.0), ("half", 0.5))
    ]
    return weighed_out(
        read,
        [
            *frames,
            Explanation(
                name="the thrower throws otherwise than the file says",
                often=0.045,
                told=factored(read, "thrower", OTHER_THROW),
                check="film three throws more and write their middle into the file",
                speaks_for=f"{ratio:.2f} times the speed in the file would do it",
            ),
            Explanation(
                name="the ruler on the film lies nearer or farther than the plane's path",
                often=0.020,
                told=factored(read, "ruler", RULER),
                check="take the plane's own length on the film as the ruler",
                speaks_for=ruler[0],
                speaks_against=ruler[1],
            ),
            Explanation(
                name="there was wind: a film tells the speed over the ground",
                often=0.015,
                told=(read.planned + AIR * read.normals("wind"))[:, None],
                check="throw once to either side on a calm evening",
                speaks_for=wind[0],
                speaks_against=wind[1],
            ),
        ],
    )


def near(ratio: float, factor: float) -> bool:
    """Return whether a ratio is about a factor."""
    return abs(ratio / factor - 1.0) < OTHER_THROW


def angle_suspects(read: Read) -> tuple[Suspect, ...]:
    """Return what may be behind the angle of a throw, likeliest first."""
    needed = read.value - read.middle
    words = show(abs(needed), "angle", read.units)
    tilt, hand = within(f"{words} of tilt", needed, CAMERA), within(words, needed, OTHER_ANGLE)
    return weighed_out(
        read,
        [
            Explanation(
                name="the thrower throws otherwise than the file says",
                often=0.060,
                told=(read.planned + OTHER_ANGLE * read.normals("thrower"))[:, None],
                check="film three throws more and write their middle into the file",
                speaks_for=hand[0],
                speaks_against=hand[1],
            ),
            Explanation(
                name="the camera was not level",
                often=0.040,
                told=(read.planned + CAMERA * read.normals("camera"))[:, None],
                check="hold the horizon or a plumb line on the same film against its edge",
                speaks_for=tilt[0],
                speaks_against=tilt[1],
            ),
        ],
    )

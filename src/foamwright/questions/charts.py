"""The charts of the questions, computed when one is opened."""

import textwrap
from collections.abc import Callable, Mapping

import numpy as np

from foamwright.model.evidence import OBSERVABLE, Observation
from foamwright.physics.arrays import Samples
from foamwright.physics.numerics.normal import TENTH
from foamwright.quantity import show
from foamwright.questions import balance, bench, debrief, exchange
from foamwright.questions.case import Case
from foamwright.questions.chart import Axis, Chart, Mark, Row, curve

PLACES = 13
"""Points along a line."""

AIRSPEED = Axis(label="speed through the air", dimension="speed")


def middle(samples: Samples) -> float | None:
    """Return the median of what is finite; none where most is not."""
    finite = samples[np.isfinite(samples)]
    return float(np.median(finite)) if finite.size * 2 >= samples.size and finite.size else None


def balance_charts(case: Case) -> tuple[Chart, ...]:
    """Return the static margin against the place of the pack."""
    pack = exchange.first_of(case, "pack")
    if pack is None or pack.at is None:
        return ()
    masses, lift = case.computed.masses, case.computed.lift
    point = masses.named(pack.name)
    here = pack.at.x.value
    low, high = here - 0.03, here + 0.03
    if pack.reach is not None:
        low, high = pack.reach.foremost.value, pack.reach.rearmost.value
    places = np.linspace(low, high, PLACES)
    others = masses.all_up * masses.centre[:, 0] - point.mass * point.place[:, 0]
    centre = (others[:, None] + point.mass[:, None] * places) / masses.all_up[:, None]
    margin = (lift.neutral_point[:, None] - centre) / lift.mean_chord[:, None]
    wanted = balance.window(case)
    return (
        Chart(
            name="margin-against-pack",
            title="Static margin against the place of the pack",
            x=Axis(label="middle of the pack, from the nose", dimension="length"),
            y=Axis(label="static margin", dimension="fraction"),
            curves=(curve("static margin", places, margin),),
            marks=(
                Mark(label="least wanted", y=wanted.least),
                Mark(label="most wanted", y=wanted.most),
                Mark(label="as drawn", x=here),
            ),
        ),
    )


def speed_charts(case: Case) -> tuple[Chart, ...]:
    """Return drag in level flight against speed, with the top speed."""
    if case.computed.drive_missing:
        return ()
    drag, flight = case.computed.drag, case.computed.full_throttle
    target = case.plane.targets.top_speed
    marks = [Mark(label="top speed", x=middle(flight.top_speed))]
    if target is not None:
        marks.append(Mark(label="wanted", x=target.value))
    top = np.nanmax(np.append(flight.top_speed, 0.0)) * 1.1
    seen = drag.speed <= max(top, 1.3 * float(np.median(case.computed.stall_speed)))
    slow = drag.speed >= float(np.median(case.computed.stall_speed))
    chosen = seen & slow
    return (
        Chart(
            name="drag-against-speed",
            title="Drag in level flight",
            x=AIRSPEED,
            y=Axis(label="drag", dimension="force"),
            curves=(curve("drag", drag.speed[chosen], drag.drag[:, chosen]),),
            marks=tuple(mark for mark in marks if mark.x is not None),
        ),
    )


def endurance_charts(case: Case) -> tuple[Chart, ...]:
    """Return current in level flight against speed."""
    if case.computed.drive_missing:
        return ()
    stall = float(np.median(case.computed.stall_speed))
    top = middle(case.computed.full_throttle.top_speed)
    if top is None or top <= 1.1 * stall:
        return ()
    speeds = np.linspace(1.1 * stall, top, PLACES)
    points = case.computed.level_points(speeds)
    cruise = case.computed.cruise
    marks = [
        Mark(label="longest", x=middle(cruise.loiter_speed)),
        Mark(label="farthest", x=middle(cruise.speed)),
    ]
    return (
        Chart(
            name="current-against-speed",
            title="Current in level flight",
            x=AIRSPEED,
            y=Axis(label="current from the pack", dimension="current"),
            curves=(curve("current", speeds, points.current),),
            marks=tuple(mark for mark in marks if mark.x is not None),
        ),
    )


def landing_charts(case: Case) -> tuple[Chart, ...]:
    """Return stall speed against bank: a turn of bank b stalls at 1/sqrt(cos b) times more."""
    bank = np.radians(np.arange(0.0, 61.0, 5.0))
    stall = case.computed.stall_speed[:, None] / np.sqrt(np.cos(bank))
    curves = [curve("stall speed", bank, stall)]
    curves.append(curve("approach, 1.3 times that", bank, 1.3 * stall))
    return (
        Chart(
            name="stall-against-bank",
            title="Slowest flight in a level turn",
            x=Axis(label="bank", dimension="angle"),
            y=AIRSPEED,
            curves=tuple(curves),
        ),
    )


def launch_charts(case: Case) -> tuple[Chart, ...]:
    """Return the chance of a clean launch over throttle and angle."""
    if case.computed.drive_missing and exchange.first_of(case, "motor") is not None:
        return ()
    found = case.computed.launch.map
    return (
        Chart(
            name="launch-map",
            title="Chance of a clean launch, in percent",
            x=Axis(label="throttle", dimension="fraction"),
            y=Axis(label="angle of the throw", dimension="angle"),
            across=tuple(float(v) for v in found.throttle),
            up=tuple(float(v) for v in found.angle),
            chances=tuple(tuple(float(v) for v in row) for row in found.chance.T),
        ),
    )


def control_charts(case: Case) -> tuple[Chart, ...]:
    """Return the stabiliser's margin against speed, and the setting that keeps it."""
    loop = case.computed.rate_loop
    axes = [] if loop is None else [("roll", loop.roll), ("pitch", loop.pitch)]
    known = [(name, axis) for name, axis in axes if axis is not None]
    if loop is None or not known:
        return ()
    top = Mark(label="top speed", x=loop.fastest)
    return (
        Chart(
            name="margin-against-speed",
            title="Gain margin of the stabiliser's present setting",
            x=AIRSPEED,
            y=Axis(label="margin in dB; below 0 it wobbles", dimension="number"),
            curves=tuple(curve(name, loop.speed, axis.margin) for name, axis in known),
            marks=(top, Mark(label="wanted", y=6.0), Mark(label="wobbles", y=0.0)),
        ),
        Chart(
            name="gain-against-speed",
            title="Gain that keeps its margin, over the present one",
            x=AIRSPEED,
            y=Axis(label="times the present setting", dimension="number"),
            curves=tuple(curve(name, loop.speed, axis.schedule) for name, axis in known),
            marks=(top, Mark(label="as it is", y=1.0)),
        ),
    )


RATIO = Axis(
    label="times what was planned; grey: where eight in ten were to lie", dimension="number"
)
FORETOLD = Axis(
    label="times what was foretold; grey: where eight in ten were to lie", dimension="number"
)
KNOWN = Axis(label="times what was thought before; grey: the band before", dimension="number")
NOTHING = Axis(label="", dimension="number")
AS_TOLD = (Mark(label="", x=1.0),)
MOST_TAUGHT = 8
"""Rows of what a flight taught."""


def bench_charts(case: Case) -> tuple[Chart, ...]:
    """Return every reading against its plan."""
    rows = []
    for check in bench.readings_of(case):
        middle_, (low, high) = middle(check.planned), bench.band_of(check)
        if middle_ is not None and middle_ > 0.0:
            reach = TENTH * check.spread
            rows.append(
                Row(
                    label=broken(f"{check.label}, {check.day.isoformat()}"),
                    value=check.value / middle_,
                    low=(check.value - reach) / middle_,
                    high=(check.value + reach) / middle_,
                    expected=(low / middle_, high / middle_),
                )
            )
    if not rows:
        return ()
    return (
        Chart(
            name="bench-against-plan",
            title="What was measured, over what was planned",
            x=RATIO,
            y=NOTHING,
            rows=tuple(rows),
            marks=AS_TOLD,
        ),
    )


def debrief_charts(case: Case) -> tuple[Chart, ...]:
    """Return the last flight against what was foretold, and what it taught."""
    flown = debrief.flights(case)
    if not flown:
        return ()
    last = flown[-1]
    seen = []
    for check in last.foretold:
        band, one = check.expected, check.observation
        if band is not None and band.value > 0.0:
            reach = TENTH * one.spread
            seen.append(
                Row(
                    label=broken(seen_words(one, case.plane.units)),
                    value=one.value / band.value,
                    low=(one.value - reach) / band.value,
                    high=(one.value + reach) / band.value,
                    expected=(band.low / band.value, band.high / band.value),
                )
            )
    taught = [
        Row(
            label=broken(change.label),
            value=change.after.value / change.before.value,
            low=change.after.low / change.before.value,
            high=change.after.high / change.before.value,
            expected=(
                change.before.low / change.before.value,
                change.before.high / change.before.value,
            ),
        )
        for change in sorted(last.changes, key=debrief.narrowed)[:MOST_TAUGHT]
        if change.before.value > 0.0
    ]
    listed = (
        ("flight-against-forecast", "The last flight, over what was foretold", FORETOLD, seen),
        ("taught-by-flight", "What the last flight taught", KNOWN, taught),
    )
    return tuple(
        Chart(name=name, title=title, x=axis, y=NOTHING, rows=tuple(rows), marks=AS_TOLD)
        for name, title, axis, rows in listed
        if rows
    )


def seen_words(seen: Observation, units: str) -> str:
    """Return the words for an observation, with its airspeed where it has one."""
    label = OBSERVABLE[seen.name].label
    if seen.rotation_speed is not None:
        label = f"current at {show(seen.rotation_speed, 'rotation speed', units)}"
    return label if seen.speed is None else f"{label} at {show(seen.speed, 'speed', units)}"


def broken(words: str) -> str:
    """Return words in lines short enough to stand beside a chart."""
    return "\n".join(textwrap.wrap(words, 34)[:2])


CHARTS: Mapping[str, Callable[[Case], tuple[Chart, ...]]] = {
    "balance": balance_charts,
    "speed": speed_charts,
    "endurance": endurance_charts,
    "landing": landing_charts,
    "launch": launch_charts,
    "control": control_charts,
    "bench": bench_charts,
    "debrief": debrief_charts,
}
"""Charts by question."""


def charts_of(question: str, case: Case) -> tuple[Chart, ...]:
    """Return the charts of a question about a case; none where it has no picture."""
    return CHARTS[question](case) if question in CHARTS else ()

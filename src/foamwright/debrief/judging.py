"""How sure a column is what its name says: by its unit, its size, and the columns beside it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from foamwright.debrief.logged_units import UNITS
from foamwright.debrief.naming import DIMENSION, Meaning
from foamwright.debrief.positions import Track
from foamwright.physics.arrays import Grid

ENOUGH = 0.8
"""How sure a column has to be to be used without asking."""
CONTRADICTED = 0.4
UNIT_GUESSED = 0.6


@dataclass(frozen=True, kw_only=True, slots=True)
class Expected:
    """What the plane says its log may hold; none where it does not say."""

    cells: int | None = None
    """In series."""
    pack_charge: float | None = None
    """Of the full pack [C]."""
    pitch: float | None = None
    """Of the propeller [m]."""
    no_load: float | None = None
    """Revolutions a second and volt of the idle motor [s^-1 V^-1]."""
    most_voltage: float | None = None
    """Of the full pack [V]."""
    pole_pairs: int | None = None
    """Of the motor: electrical revolutions over those of the shaft."""

    units: str = "metric"
    """In which units to tell, metric or imperial; those of the log are its own."""

    @property
    def pitch_speed(self) -> float | None:
        """Return the speed at which the idle motor's propeller would screw itself on [m s^-1]."""
        if self.pitch is None or self.no_load is None or self.most_voltage is None:
            return None
        return self.pitch * self.no_load * self.most_voltage


@dataclass(frozen=True, kw_only=True, slots=True)
class Verdict:
    """What a column is taken as."""

    unit: str
    factor: float
    """SI = factor x written + offset."""
    offset: float = 0.0
    sure: float = 0.0
    """0 to 1."""
    because: str = ""
    """Why, in words."""
    rather: str | None = None
    """What it may be where it is left out, if not what it was judged as; empty where saying so does
    not help."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Bench:
    """What is known when a column is judged."""

    time: Grid
    """[s] (k,)."""
    step: float
    """Usual time between rows [s]."""
    expected: Expected
    track: Track | None = None
    """The path of the positions, where there is one."""
    known: Mapping[str, Grid] = field(default_factory=dict)
    """Channels settled so far, SI (k,)."""
    written: Mapping[str, Grid] = field(default_factory=dict)
    """Columns as written that are judged later, by what they may be (k,)."""

    def with_channel(self, name: str, values: Grid) -> "Bench":
        """Return the bench with one more channel settled."""
        return replace(self, known={**self.known, name: values})


TYPICAL: Mapping[str, tuple[float, float]] = {
    "ground_speed": (2.0, 75.0),
    "airspeed": (2.0, 75.0),
    "climb_rate": (0.3, 30.0),
    "sink_rate": (0.3, 30.0),
    "north_speed": (1.0, 75.0),
    "east_speed": (1.0, 75.0),
    "height": (2.0, 6000.0),
    "voltage": (2.8, 52.0),
    "cell_voltage": (2.8, 4.45),
    "current": (0.3, 150.0),
    "charge_used": (36.0, 54000.0),
    "power": (3.0, 5000.0),
    "rotation_speed": (15.0, 1200.0),
    "electrical_rotation_speed": (60.0, 12000.0),
    "roll_rate": (0.2, 36.0),
    "pitch_rate": (0.2, 36.0),
    "yaw_rate": (0.1, 36.0),
    "roll_rate_wanted": (0.05, 36.0),
    "pitch_rate_wanted": (0.05, 36.0),
    "yaw_rate_wanted": (0.05, 36.0),
    "forward_acceleration": (0.2, 160.0),
    "side_acceleration": (0.2, 160.0),
    "up_acceleration": (8.0, 160.0),
    "satellites": (3.0, 60.0),
    "position_error": (0.1, 100.0),
    "signal_strength": (5.0, 140.0),
    "temperature": (250.0, 420.0),
}
"""What the 99 % point of the size of a column is on a small foam plane in flight [SI]."""

POSSIBLE: Mapping[str, float] = {
    "ground_speed": 120.0,
    "airspeed": 120.0,
    "climb_rate": 60.0,
    "sink_rate": 60.0,
    "north_speed": 120.0,
    "east_speed": 120.0,
    "height": 9000.0,
    "voltage": 60.0,
    "cell_voltage": 4.6,
    "current": 300.0,
    "charge_used": 110000.0,
    "rotation_speed": 1500.0,
    "course": 6.3,
    "heading": 6.3,
    "roll": 6.3,
    "pitch": 6.3,
    "roll_rate": 40.0,
    "pitch_rate": 40.0,
    "yaw_rate": 40.0,
    "up_acceleration": 320.0,
    "satellites": 90.0,
    "link_quality": 3.01,
}
"""What no such column passes [SI]: a stated unit is not believed beyond it."""


def big(values: Grid) -> float:
    """Return the 99 % point of the size of what is known."""
    known = values[np.isfinite(values)]
    return float(np.percentile(np.abs(known), 99)) if known.size else 0.0


def number(value: float) -> str:
    """Return a value in three digits, as in a sentence."""
    return f"{value:.3g}" if abs(value) < 1000 else f"{value:.0f}"


def in_unit(unit: str, taken_as: str, sure: float, because: str) -> Verdict:
    """Return a verdict for a unit of the dimension of what a column is taken as."""
    factor, offset = UNITS[DIMENSION[taken_as]][unit]
    return Verdict(unit=unit, factor=factor, offset=offset, sure=sure, because=because)


def si(values: Grid, verdict: Verdict) -> Grid:
    """Return a column in SI."""
    return np.asarray(values, dtype=float) * verdict.factor + verdict.offset


def options_by_size(values: Grid, taken_as: str) -> tuple[str, ...]:
    """Return the units in which a column is of a size met in flight."""
    low, high = TYPICAL.get(taken_as, (0.0, np.inf))
    size = big(values)
    return tuple(
        unit
        for unit, (factor, offset) in UNITS[DIMENSION[taken_as]].items()
        if low <= abs(size * factor + offset) <= high
    )


def stated(values: Grid, meaning: Meaning) -> Verdict:
    """Return the verdict for a unit that is written, believed as far as it is possible."""
    found = in_unit(
        meaning.unit,
        meaning.taken_as,
        meaning.strength,
        f"the name and its unit, {meaning.unit}, say so",
    )
    most = POSSIBLE.get(meaning.taken_as, np.inf)
    size = big(si(values, found))
    if size > 1.02 * most:
        because = f"the header says {meaning.unit}, but {number(big(values))} is not possible"
        return replace(found, sure=CONTRADICTED, because=because)
    return found


def by_size(values: Grid, meaning: Meaning, options: Sequence[str] = ()) -> Verdict:
    """Return the verdict where no unit is written and nothing beside the column tells it."""
    left = tuple(options) or options_by_size(values, meaning.taken_as)
    if not left:
        first = next(iter(UNITS[DIMENSION[meaning.taken_as]]))
        because = f"no unit makes {number(big(values))} a likely {words(meaning.taken_as)}"
        return in_unit(first, meaning.taken_as, 0.2, because)
    if len(left) == 1:
        because = f"no unit is written; only in {left[0]} is {number(big(values))} of a likely size"
        return in_unit(left[0], meaning.taken_as, min(0.9, meaning.strength), because)
    because = "no unit is written, and nothing in the log tells " + " from ".join(left[:3])
    return in_unit(left[0], meaning.taken_as, UNIT_GUESSED, because)


def words(taken_as: str) -> str:
    """Return what a column is taken as in words."""
    return taken_as.replace("_", " ")


def plain(bench: Bench, values: Grid, meaning: Meaning) -> Verdict:
    """Return the verdict by the written unit, or else by size alone."""
    del bench
    return stated(values, meaning) if meaning.unit else by_size(values, meaning)


def borne_out(meaning: Meaning, matched: str, because: str, sure: float = 0.98) -> Verdict:
    """Return the verdict where another column bears out a unit, or contradicts the written one."""
    if meaning.unit and meaning.unit != matched:
        said = f"the header says {meaning.unit}, but {because}, which makes it {matched}"
        return in_unit(matched, meaning.taken_as, CONTRADICTED, said)
    return in_unit(matched, meaning.taken_as, sure, because)

"""One flight read as a whole."""

import re
from dataclasses import replace

import numpy as np
import pytest
from tests.debrief import crashes
from tests.debrief.fleet import fleet
from tests.debrief.fleet import fly as fly_all
from tests.debrief.held import Held, held_of
from tests.debrief.simulator import MASS, RESISTANCE, Plan, circles, fly, with_holes

from foamwright.debrief.analysis import analyse
from foamwright.debrief.outcome import Analysis, Facts
from foamwright.debrief.recording import Recording

SEED = 90_210
"""Of planes and flights that nothing was fitted to."""


def whole(seed: int = 2) -> Recording:
    """Return circles, a dash and a glide in one flight."""
    turning = circles(170)
    bank, throttle = turning.bank.copy(), turning.throttle.copy()
    bank[110:] = 0.0
    throttle[115:140], throttle[140:] = 1.0, 0.0
    return fly(Plan(throttle=throttle, bank=bank, seed=seed))


def test_a_flight_of_everything_tells_everything() -> None:
    """Wind, top speed, glide, drag area, resistance and charge are all there, in band order."""
    found = analyse(whole(), Facts(mass=MASS, cells=3))
    assert found.wind is not None
    (missing,) = found.not_said
    assert missing.startswith("the current in level flight")
    names = {one.name for one in found.observations}
    assert {"top_speed", "glide_ratio", "pack_resistance"} <= names
    told = {one.name for one in found.figures}
    assert names | {"mean_airspeed", "charge_used", "drag_area", "drag_area_power"} <= told
    assert all(one.low <= one.value <= one.high for one in found.figures)
    assert all(one.sd > 0.0 for one in found.observations)


def test_one_glide_teaches_once() -> None:
    """Its drag area is told, but teaches nothing beside the glide ratio it is made of."""
    found = analyse(whole(), Facts(mass=MASS))
    glides = [one.teaches for one in found.observations if one.name == "glide_ratio"]
    areas = [one.teaches for one in found.observations if one.name == "drag_area"]
    assert len(glides) == len(areas) > 0
    assert all(glides)
    assert not any(areas)


def test_observations_name_a_segment_that_exists() -> None:
    """All but the resistance, which is of the whole log, point to a segment."""
    found = analyse(whole(), Facts(mass=MASS))
    known = {one.name for one in found.segments}
    for one in found.observations:
        assert one.segment in known or one.name == "pack_resistance"


def test_the_resistance_is_passed_on() -> None:
    """It is that of the simulated pack within 10 %."""
    seen = {one.name: one.value for one in analyse(whole(), Facts()).observations}
    assert seen["pack_resistance"] == pytest.approx(RESISTANCE, rel=0.1)


def test_a_straight_flight_says_what_it_cannot_tell() -> None:
    """No wind, so no speed through the air, and both are said."""
    found = analyse(fly(Plan(throttle=np.full(60, 1.0), bank=np.zeros(60))), Facts())
    assert found.wind is None
    assert any(word.startswith("the wind") for word in found.not_said)
    assert any("speeds through the air" in word for word in found.not_said)
    assert "top_speed" not in {one.name for one in found.observations}


def test_missing_rows_are_said() -> None:
    """With 22 % missing the holes are told, and the charge is a floor."""
    found = analyse(with_holes(whole(), 0.22), Facts())
    assert any("% of the time" in word for word in found.not_said)
    charge = next(one for one in found.figures if one.name == "charge_used")
    assert "at least" in charge.label


def test_the_charger_speaks_in_the_findings() -> None:
    """A charge put back that is off by a third is a finding."""
    total = next(one for one in analyse(whole(), Facts()).figures if one.name == "charge_used")
    found = analyse(whole(), Facts(charge_put_back=1.33 * total.value))
    assert "current sensor" in found.findings[0].what


@pytest.fixture(scope="module")
def few() -> Held:
    """Return forty planes, read."""
    planes = fleet(40, SEED)
    return held_of(planes, fly_all(planes, SEED + 1))


def test_the_wind_is_found_within_half_a_metre_a_second(few: Held) -> None:
    """The median error over forty planes, each in other gusts, stays under 0.5 m/s."""
    assert len(few.wind_off) == 40
    assert np.median(few.wind_off) < 0.5


@pytest.mark.parametrize("how", ["drag_area", "drag_area_power"])
def test_the_drag_area_is_found_within_a_tenth(few: Held, how: str) -> None:
    """From glides alone and from power and glides together the median error is under 10 %."""
    assert len(few.error[how]) >= 30
    assert few.typical(how) < 0.10
    assert abs(np.median(few.error[how])) < 0.07


@pytest.mark.parametrize(
    ("name", "most"),
    [
        ("top_speed", 0.05),
        ("glide_ratio", 0.12),
        ("mean_airspeed", 0.02),
        ("pack_resistance", 0.08),
        ("static_current", 0.07),
        ("cruise_current", 0.10),
    ],
)
def test_what_is_read_is_near_the_truth(few: Held, name: str, most: float) -> None:
    """The median error of every figure stays in bounds, and it is told for most planes."""
    assert len(few.error[name]) >= 30
    assert few.typical(name) < most


@pytest.fixture(scope="module")
def many() -> Held:
    """Return five hundred planes, read: two hundred leave two points of luck in a coverage."""
    planes = fleet(500, SEED + 2)
    return held_of(planes, fly_all(planes, SEED + 3))


@pytest.mark.slow
@pytest.mark.parametrize(
    "name",
    [
        "wind",
        "mean_airspeed",
        "top_speed",
        "glide_ratio",
        "drag_area",
        "drag_area_power",
        "pack_resistance",
        "static_current",
        "cruise_current",
    ],
)
def test_four_of_five_bands_hold_the_truth(many: Held, name: str) -> None:
    """Between 70 and 90 % of the 80 % bands of five hundred planes hold what was true."""
    assert len(many.inside[name]) >= 400
    assert 0.70 <= many.coverage(name) <= 0.90


METRIC = re.compile(r"\d (m|km|mm|cm|m/s|km/h|kg|g|N|°C)\b")
"""A number in a unit that nobody reads who chose imperial ones; mAh, V, A and s are the same."""

EARTH = 6.371e6


def troubled() -> Recording:
    """Return circles with poor positions, a poor link, a weak signal and a tired pack."""
    log = fly(circles(150))
    poor = (log.time > 60.0) & (log.time < 72.0)
    speed = np.where(poor, 1.3 * log.channel("ground_speed"), log.channel("ground_speed"))
    away = 400.0 * np.abs(np.sin(np.pi * log.time / 80.0))
    told = {
        "ground_speed": speed,
        "satellites": np.where(poor, 5.0, 13.0),
        "latitude": np.radians(47.0) + away / EARTH,
        "longitude": np.full(log.time.size, np.radians(8.0)),
        "link_quality": np.where(poor, 0.3, 0.98),
        "signal_strength": -40.0 - 24.0 * np.log10(np.maximum(away, 1.0)),
        "voltage": np.where(poor, 9.0, 11.0),
    }
    return replace(log, channels={**log.channels, **told})


def stalled() -> Recording:
    """Return a flight with a pitot that is slowed until it drops 8 m."""
    time = np.asarray(np.arange(0.0, 100.0, 0.1), dtype=np.float64)
    points = [0, 60, 61, 63, 65, 100]
    told = {
        "airspeed": np.interp(time, [0, 40, 56, 60, 63, 100], [14.0, 14.0, 8.0, 8.0, 13.0, 14.0]),
        "height": np.interp(time, points, [60.0, 60.0, 58.5, 51.0, 50.0, 50.0]),
        "pitch": np.radians(np.interp(time, points, [8.0, 8.0, -12.0, 0.0, 8.0, 8.0])),
        "throttle": np.full(time.size, 0.4),
    }
    told["height"][:20] = 0.0
    return Recording(time=time, channels=told, step=0.1)


def sentences(found: Analysis) -> tuple[str, ...]:
    """Return everything that is said of a flight."""
    return (
        *(text for one in found.findings for text in (one.what, one.because, *one.check_first)),
        *found.not_said,
        *(one.label for one in found.figures),
        *(one.segment for one in found.observations),
    )


@pytest.mark.parametrize(
    "log", [troubled(), stalled(), crashes.stall(1), crashes.overload(1), crashes.wobble(1)]
)
def test_the_same_log_is_told_in_either_units(log: Recording) -> None:
    """Word by word the same; every metric number is another one, and no metric unit is left."""
    facts = Facts(mass=MASS, cells=3, charge_put_back=1800.0)
    metric = sentences(analyse(log, facts))
    imperial = sentences(analyse(log, replace(facts, units="imperial")))
    assert not [line for line in imperial if METRIC.search(line)]
    assert len(metric) == len(imperial)
    for one, other in zip(metric, imperial, strict=True):
        assert bool(METRIC.search(one)) == (one != other)
    assert any(METRIC.search(line) for line in metric)


def test_lengths_and_speeds_are_the_same_ones_in_either_units() -> None:
    """By the definitions of foot and mile (1959): 0.3048 m, 0.44704 m/s."""
    log = troubled()
    facts = Facts(mass=MASS, cells=3)
    both = [
        " ".join(sentences(analyse(log, replace(facts, units=u)))) for u in ("metric", "imperial")
    ]

    def read(text: str, before: str, unit: str) -> float:
        found = re.search(rf"{before} ([\d.]+) {unit}\b", text)
        assert found is not None
        return float(found[1])

    metres, feet = read(both[0], "flown up to", "m"), read(both[1], "flown up to", "ft")
    assert 0.3048 * feet == pytest.approx(metres, rel=5e-3)
    assert metres == pytest.approx(400.0, rel=0.01)
    slow, fast = read(both[0], "the wind is", "m/s"), read(both[1], "the wind is", "mph")
    assert 0.44704 * fast == pytest.approx(slow, rel=0.02)

"""A weighing, a sweep or a throw that is off names what may be behind it."""

import datetime as dt
from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.part_causes import (
    Read,
    angle_suspects,
    near,
    sweep_suspects,
    throw_suspects,
    weighing_suspects,
    within,
)
from foamwright.model.suspects import AS_PLANNED, Suspect
from foamwright.plane.bench_records import ServoSweep, Weighing

Computed = Callable[..., ComputablePlane]
DAY = dt.date(2026, 5, 1)


def weighed(
    computed: Computed, item: str, grams: float, *, pieces: int = 1, units: str = "metric"
) -> tuple[Suspect, ...]:
    """Return what may be behind a weighing of the glider, `grams` a piece."""
    plane = computed("reedling")
    record = Weighing.model_validate(
        {"date": DAY, "item": item, "mass": f"{grams * pieces:.4f} g", "pieces": pieces}
    )
    if item == "all":
        planned = plane.masses.all_up
    else:
        count = {one.name: one.count for one in plane.plane.items}.get(item, 1)
        planned = plane.masses.named(item).mass / count
    read = Read(
        name="mass",
        value=grams * 1e-3,
        spread=0.7e-3,
        planned=planned,
        draws=plane.draws.branched(),
        units=units,
    )
    return weighing_suspects(plane, record, read)


def read_of(computed: Computed, value: float, middle: float, spread: float) -> Read:
    """Return a reading against a plan of its own luck."""
    draws = computed("reedling").draws.branched()
    planned = draws.around(middle, spread, key="plan", label="plan")
    return Read(
        name="it",
        value=value,
        spread=0.05 * value,
        planned=planned,
        draws=draws,
        units="metric",
    )


def first(found: tuple[Suspect, ...]) -> Suspect:
    """Return the likeliest cause, and see that the chances sum to one."""
    assert sum(one.probability for one in found) == pytest.approx(1.0)
    return next(one for one in found if one.name != AS_PLANNED)


def named(found: tuple[Suspect, ...], words: str) -> Suspect:
    """Return the one suspect whose name holds some words."""
    (one,) = [suspect for suspect in found if words in suspect.name]
    return one


def test_a_pair_on_the_scale_is_found(computed: Computed) -> None:
    """Twice the mass of a servo of which there are two."""
    pair = first(weighed(computed, "aileron servos", 10.0))
    assert pair.name == "all 2 pieces lay on the scale"
    assert pair.speaks_for == "all 2 would be 10.0 g"
    assert "--pieces 2" in pair.check
    other = weighed(computed, "aileron servos", 10.0, pieces=2)
    assert not [one for one in other if "pieces lay" in one.name]
    far = weighed(computed, "aileron servos", 30.0)
    assert named(far, "pieces lay").speaks_for == ""
    assert named(far, "pieces lay").probability < 0.01


def test_a_part_of_another_kind_is_told_by_its_ratio(computed: Computed) -> None:
    """Leads do not weigh thirty grams; a part the plane does not list has no count."""
    found = weighed(computed, "pack", 70.0)
    assert first(found).name == "it is another part than in the file"
    assert "1.71 times the mass in the file" in first(found).speaks_for
    leads = named(found, "leads, plugs or screws")
    assert "it would take 29" in leads.speaks_against
    assert leads.probability < 1e-3
    near_by = weighed(computed, "pack", 44.0)
    assert "more of them would do it" in named(near_by, "leads, plugs or screws").speaks_for


def test_a_part_never_weighed_is_called_typical(computed: Computed) -> None:
    """A mass from the stock is no promise."""
    plane = computed("reedling", {"items.GPS.mass": {"remove": True}})
    guessed = "GPS" in plane.masses.estimated
    planned = plane.masses.named("GPS").mass
    read = Read(
        name="mass",
        value=1.8 * float(np.median(planned)),
        spread=0.7e-3,
        planned=planned,
        draws=plane.draws.branched(),
        units="metric",
    )
    record = Weighing.model_validate({"date": DAY, "item": "GPS", "mass": "12 g"})
    assert guessed
    assert "typical one" in first(weighing_suspects(plane, record, read)).name


def test_a_plane_without_its_pack_is_found(computed: Computed) -> None:
    """The mass list is gone through for what was not aboard."""
    plane = computed("reedling")
    whole = float(np.median(plane.masses.all_up)) * 1e3
    found = weighed(computed, "all", whole - 41.0)
    assert first(found).name == "the pack was not aboard"
    assert first(found).probability > 0.9
    assert first(found).speaks_for == "it is 41.0 g in the file"
    assert named(found, "the motor was not").speaks_for == ""
    assert "heavier, not lighter" in named(found, "something is aboard").speaks_against


def test_a_plane_that_is_too_heavy_has_something_aboard(computed: Computed) -> None:
    """Twenty grams nobody listed, and the next step is the balance."""
    whole = float(np.median(computed("reedling").masses.all_up)) * 1e3
    found = weighed(computed, "all", whole + 20.0)
    assert first(found).name == "something is aboard that the file does not list"
    assert "would do it" in first(found).speaks_for
    assert "foamwright bench PLANE balance" in first(found).check


def test_a_good_weighing_is_as_planned(computed: Computed) -> None:
    """Of a part, and of all."""
    whole = float(np.median(computed("reedling").masses.all_up)) * 1e3
    for item, grams in (("pack", 41.2), ("GPS", 7.2), ("all", whole + 1.0)):
        found = weighed(computed, item, grams)
        assert found[0].name == AS_PLANNED
        assert found[0].probability > 0.9


def test_masses_are_told_in_the_users_units(computed: Computed) -> None:
    """Ounces."""
    for one in weighed(computed, "all", 212.0, units="imperial"):
        assert " g" not in f"{one.speaks_for} {one.speaks_against} ".replace(" g ", " g")


def sweep(**more: str) -> ServoSweep:
    """Return a sweep of a servo."""
    told = {"date": DAY, "servo": "aileron servos", "angle": "60 deg", "time": "0.11 s"}
    return ServoSweep.model_validate({**told, **more})


def test_a_slow_sweep_asks_for_volts_and_load(computed: Computed) -> None:
    """What only slows it is out where it was quicker."""
    slow = sweep_suspects(sweep(), read_of(computed, 0.16, 0.10, 0.015))
    assert "moved its surface" in first(slow).name
    assert "60% slower" in first(slow).speaks_for
    quick = sweep_suspects(sweep(voltage="6 V"), read_of(computed, 0.06, 0.10, 0.015))
    assert "not faster" in named(quick, "moved its surface").speaks_against
    assert named(quick, "its voltage").speaks_for == "it had 6.00 V"
    assert named(quick, "moved its surface").probability < named(quick, "voltage").probability


def test_a_film_at_another_pace_is_found(computed: Computed) -> None:
    """Twice the planned speed, or half of it: frames first."""
    twice = throw_suspects(read_of(computed, 16.0, 8.0, 0.8))
    assert first(twice).name == "the film runs twice as fast as it was taken to"
    half = throw_suspects(read_of(computed, 4.0, 8.0, 0.8))
    assert first(half).name == "the film runs half as fast as it was taken to"
    assert named(half, "twice").speaks_for == ""
    some = throw_suspects(read_of(computed, 10.5, 8.0, 0.8))
    assert "the thrower" in first(some).name
    assert "2.50 m/s of it would do it" in named(some, "there was wind").speaks_for


def test_an_angle_asks_for_the_camera(computed: Computed) -> None:
    """Seven degrees of tilt are usual, forty are not."""
    some = angle_suspects(read_of(computed, np.radians(15.0), np.radians(8.0), np.radians(2.0)))
    assert "7.00° of tilt would do it" in named(some, "camera").speaks_for
    far = angle_suspects(read_of(computed, np.radians(48.0), np.radians(8.0), np.radians(2.0)))
    assert "it would take 40.0° of tilt" in named(far, "camera").speaks_against


def test_nothing_read_where_nothing_was_planned_is_as_planned(computed: Computed) -> None:
    """A level throw as the file says it: neither has a spread of its own."""
    level = angle_suspects(read_of(computed, 0.0, 0.0, 0.0))
    assert level[0].name == AS_PLANNED
    assert level[0].probability > 0.99


@pytest.mark.parametrize(("ratio", "about"), [(2.0, True), (1.7, True), (1.5, False), (3.0, False)])
def test_a_ratio_is_near_a_factor(ratio: float, *, about: bool) -> None:
    """Within a fifth."""
    assert near(ratio, 2.0) is about


def test_words_speak_for_what_is_usual() -> None:
    """Up to three spreads."""
    assert within("5 g", 5.0, 2.0) == ("5 g would do it", "")
    assert within("9 g", 9.0, 2.0) == ("", "it would take 9 g")

"""Bench notes as observations."""

from pathlib import Path

import numpy as np
import pytest

from foamwright.model.bench_evidence import READING, balance_of, sources_of
from foamwright.plane.bench import validated
from foamwright.plane.bench_records import Bench

DAY = "date = 2026-05-01\n"


def bench(text: str) -> Bench:
    """Return a text as notes; every header is followed by the day."""
    return validated(text.replace("]]\n", f"]]\n{DAY}"), Path("bench.toml"))


def test_a_static_test_is_up_to_four_readings() -> None:
    """Spreads as written, else usual ones."""
    (source,) = sources_of(
        bench('[[static]]\nthrust = "285 g"\ncurrent = "11.2 ± 0.1 A"\nvoltage = "11.7 V"\n')
    )
    found = {one.name: one for one in source.observations}
    assert set(found) == {"static_thrust", "static_current", "static_voltage"}
    assert found["static_thrust"].value == pytest.approx(0.285 * 9.80665)
    assert found["static_thrust"].spread == pytest.approx(0.03 * 0.285 * 9.80665)
    assert found["static_current"].spread == pytest.approx(0.1)
    assert source.name == "static test of 2026-05-01"


def test_part_throttle_is_said() -> None:
    """It is noted, and told apart."""
    (source,) = sources_of(bench('[[static]]\nthrust = "85 g"\nthrottle = "50 %"\n'))
    assert source.name.endswith("at 50 % throttle") or source.name.endswith("at 50% throttle")
    assert source.observations[0].throttle == 0.5


def test_two_scales_tell_place_and_mass() -> None:
    """120 g at 100 mm and 135 g at 400 mm balance at (12 + 54) / 255 m, by the lever."""
    text = (
        '[[balances]]\nfront = "120 g"\nfront_at = "100 mm"\nrear = "135 g"\nrear_at = "400 mm"\n'
    )
    (source,) = sources_of(bench(text))
    place, mass = source.observations
    assert place.value == pytest.approx((0.12 * 0.1 + 0.135 * 0.4) / 0.255)
    assert mass.value == pytest.approx(0.255)
    # By drawing a hundred thousand such readings instead of the lever's slopes.
    draw = np.random.default_rng(1).normal
    many = 100_000
    front, rear = 0.12 + draw(0, 7e-4, many), 0.135 + draw(0, 7e-4, many)
    moment = front * (0.1 + draw(0, 1e-3, many)) + rear * (0.4 + draw(0, 1e-3, many))
    assert place.spread == pytest.approx(np.std(moment / (front + rear)), rel=0.02)


def test_fingertips_have_their_own_spread() -> None:
    """2 mm where none is written."""
    (record,) = bench('[[balances]]\nat = "251 mm"\n').balances
    assert balance_of(record) == pytest.approx((0.251, 2e-3))
    (record,) = bench('[[balances]]\nat = "251 ± 1 mm"\n').balances
    assert balance_of(record) == pytest.approx((0.251, 1e-3))


def test_a_pack_elsewhere_is_another_plane() -> None:
    """That balance is kept in the notes and not learned from."""
    assert sources_of(bench('[[balances]]\nat = "251 mm"\npack_at = "80 mm"\n')) == ()


def test_only_the_last_weighing_of_all_counts_and_no_item() -> None:
    """The others took the place of the plan already."""
    notes = validated(
        '[[weighings]]\ndate = 2026-05-03\nitem = "all"\nmass = "254 g"\n'
        '[[weighings]]\ndate = 2026-05-01\nitem = "all"\nmass = "240 g"\n'
        '[[weighings]]\ndate = 2026-05-03\nitem = "motor"\nmass = "18 g"\n',
        Path("bench.toml"),
    )
    (source,) = sources_of(notes)
    assert source.observations[0].value == pytest.approx(0.254)
    assert source.observations[0].spread == pytest.approx(1e-3)


def test_a_charge_carries_its_time_and_speed() -> None:
    """Without them it is an observation that cannot be foretold."""
    text = '[[charges]]\ncharge = "360 mAh"\ntime = "6 min"\nspeed = "14 m/s"\n'
    ((one,),) = (source.observations for source in sources_of(bench(text)))
    assert (one.name, one.speed, one.time) == ("charge_used", 14.0, 360.0)
    assert one.value == pytest.approx(0.36 * 3600.0)


def test_sources_come_by_day() -> None:
    """Whatever their place in the file."""
    notes = validated(
        '[[static]]\ndate = 2026-05-09\nthrust = "400 g"\n'
        '[[balances]]\ndate = 2026-05-02\nat = "251 mm"\n',
        Path("bench.toml"),
    )
    assert [source.day.day for source in sources_of(notes)] == [2, 9]


def test_nothing_is_read_better_than_its_instrument() -> None:
    """Every reading has a spread between a thousandth and a tenth."""
    assert all(0.001 <= spread <= 0.1 for spread in READING.values())

"""How launches end: the map, who steers, torque, the rubber's hook."""

import dataclasses
from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model import launch
from foamwright.model.computable import ComputablePlane
from foamwright.model.launch import (
    ANGLES,
    CELL,
    EVERYBODY,
    MOST_AT_ONCE,
    LaunchMap,
    all_flown,
    batch_of,
    batches_flown,
    best_at,
    clean_alone,
    map_throws,
    smoothed,
    torque_aileron,
)
from foamwright.model.launch_setup import THROTTLES, Steers, throw_of
from foamwright.physics.flight.launch import flown
from foamwright.physics.flight.launch_plane import single

Computed = Callable[..., ComputablePlane]
LINE: dict[str, object] = {"length": "2 m", "stretch": "4 m", "pull": "2 kgf"}


def test_the_map_has_a_chance_for_every_cell(computed: Computed) -> None:
    """Throttle down, angle across; best throttle and angle are cells of it."""
    found = computed("anvil").launch.map
    assert found.chance.shape == (THROTTLES.size, ANGLES.size)
    assert ((found.chance >= 0.0) & (found.chance <= 1.0)).all()
    assert found.best_throttle in THROTTLES
    assert found.best_angle in ANGLES
    row = list(THROTTLES).index(found.best_throttle)
    column = list(ANGLES).index(found.best_angle)
    assert found.chance[row, column] >= found.chance.max() - 0.5 / CELL


def test_a_heavy_plane_wants_all_of_its_thrust(computed: Computed) -> None:
    """The delta: chance grows with throttle at every angle."""
    chance = computed("anvil").launch.map.chance
    assert (np.diff(chance, axis=0) > -0.02).all()
    assert (chance[-1] > chance[0] + 0.05).all()
    assert computed("anvil").launch.throttle >= 0.9


def test_batches_flown_as_one_end_as_they_do_alone(computed: Computed) -> None:
    """Each throw, to a centimetre: only the common step may differ."""
    setup = computed("reedling").launch_setup
    throws = [throw_of(setup, who, throttle=0.8) for who in EVERYBODY]
    for together, throw in zip(all_flown(throws), throws, strict=True):
        alone = flown(single(throw))
        assert (together.clean == alone.clean).mean() >= 0.995
        both = together.clean & alone.clean
        assert np.median(np.abs(together.height - alone.height)[both]) < 0.01


def test_smoothing_keeps_what_is_even_and_the_mean_of_what_is_not() -> None:
    """A map of one value stays; a single peak is spread over its neighbours."""
    assert smoothed(np.full((3, 4), 0.7)) == pytest.approx(np.full((3, 4), 0.7))
    peak = np.zeros((5, 5))
    peak[2, 2] = 1.0
    found = smoothed(peak)
    assert found.sum() == pytest.approx(1.0)
    assert found[2, 2] == pytest.approx(0.25)
    assert found[1, 1] == pytest.approx(0.0625)


def test_the_best_throttle_at_an_angle_is_the_least_of_the_best() -> None:
    """Between two columns, too."""
    chance = np.array([[0.2, 0.9], [0.8, 0.9], [0.8, 0.1]])
    angles, throttle = np.array([0.0, 1.0]), np.array([0.4, 0.7, 1.0])
    known = LaunchMap(
        throttle=throttle, angle=angles, chance=chance, best_throttle=0.4, best_angle=1.0
    )
    assert best_at(known, 0.0) == 0.7
    assert best_at(known, 1.0) == 0.4
    assert best_at(known, 0.5) == 0.7


def test_written_throttle_and_angle_are_flown(computed: Computed) -> None:
    """And the map looks for better ones all the same."""
    written = computed("anvil", {"thrower.throttle": "70 %"}).launch
    assert written.throttle == pytest.approx(0.7)
    assert written.angle is None
    free = computed("anvil", {"thrower.angle": None}).launch
    assert free.angle == free.map.best_angle


def test_torque_aileron_balances_the_torque(computed: Computed) -> None:
    """Rolling moment of that aileron is the propeller's torque at that speed."""
    plane = computed("windrow")
    setup, speed = plane.launch_setup, np.full(plane.samples, 9.0)
    aileron = torque_aileron(setup, 0.8, speed)
    power = throw_of(setup, "hands off", throttle=0.8).power
    torque = power.torque_constant + 9.0 * (power.torque_linear + 9.0 * power.torque_square)
    load = 0.5 * setup.plane.density * 81.0 * setup.air.area * setup.air.span
    assert load * setup.air.Clda * aileron == pytest.approx(torque)


def test_torque_decides_launches_with_hands_off(computed: Computed) -> None:
    """The plank at half throttle, thrust over weight 0.6: 6 % get away, 40 % without torque."""
    throw = throw_of(computed("windrow").launch_setup, "hands off", throttle=0.5)
    nothing = 0.0 * throw.power.torque_constant
    power = dataclasses.replace(
        throw.power, torque_constant=nothing, torque_linear=nothing, torque_square=nothing
    )
    with_torque = flown(throw).clean.mean()
    without = flown(dataclasses.replace(throw, power=power)).clean.mean()
    assert with_torque < 0.15
    assert without > with_torque + 0.25


def test_who_steers_is_asked_for_in_the_plane_file(computed: Computed) -> None:
    """The chance told is that one's."""
    found = computed("windrow", {"thrower.steers": "hands off"}).launch
    assert found.steers == "hands off"
    assert (found.clean == found.flown["hands off"].clean).all()


def test_a_strong_rubber_launches_what_no_hand_can(computed: Computed) -> None:
    """The delta leaves it at half as much again as its stall speed."""
    found = computed("anvil", {"bungee": {**LINE, "stretch": "6 m", "pull": "4 kgf"}}).launch
    assert found.hook is not None
    assert np.median(found.release_speed) > 15.0
    assert found.clean.mean() > 0.8
    assert computed("anvil").launch.clean.mean() < 0.4


def test_a_weak_hook_fails_however_well_it_flies(computed: Computed) -> None:
    """20 N of pull on a hook tested with 10 N; a hook behind the balance point likewise."""
    weak = computed("anvil", {"bungee": {**LINE, "hook_limit": "10 N"}}).launch
    assert weak.clean.mean() == 0.0
    assert weak.flown["pilot"].clean.mean() > 0.2
    behind = computed("anvil", {"bungee": {**LINE, "hook": {"x": "330 mm"}}}).launch
    assert behind.clean.mean() == 0.0


def test_a_glider_is_thrown_without_throttle(computed: Computed) -> None:
    """A map of one row; the glider stays up for three seconds from a hard, level throw or not."""
    keys = dict.fromkeys(("items.motor", "items.propeller"))
    found = computed("reedling", keys).launch
    assert found.map.chance.shape == (1, ANGLES.size)
    assert found.throttle == 0.0
    assert (found.torque_aileron == 0.0).all()


@pytest.mark.parametrize("name", ["anvil", "windrow"])
def test_who_steers_alone_ends_as_among_all(computed: Computed, name: str) -> None:
    """With their common step: the same verdicts for a third of the throws."""
    plane = computed(name)
    alone = clean_alone(plane.launch_setup, plane.launch_plan)
    assert alone.tolist() == plane.launch.clean.tolist()
    assert plane.launch_clean.tolist() == alone.tolist()


def test_a_hook_that_breaks_is_no_clean_launch(computed: Computed) -> None:
    """Asked alone, too."""
    keys = {"bungee": {**LINE, "hook_limit": "1 N"}}
    assert not computed("windrow", keys).launch_clean.any()


def test_cells_of_the_map_are_throws_of_their_own(computed: Computed) -> None:
    """Each as it would be put together alone: throttle down, angle across."""
    setup = computed("windrow").launch_setup
    throws = map_throws(setup, "pilot")
    assert len(throws) == THROTTLES.size * ANGLES.size
    for row, column in ((0, 0), (2, 5), (6, 6)):
        throttle, angle = float(THROTTLES[row]), float(ANGLES[column])
        wanted = throw_of(setup, "pilot", throttle=throttle, angle=angle, first=CELL)
        found = throws[row * ANGLES.size + column]
        for record in ("plane", "air", "power", "hands", "release"):
            one, other = getattr(found, record), getattr(wanted, record)
            for field in dataclasses.fields(one):
                assert np.array_equal(getattr(one, field.name), getattr(other, field.name))


def test_batches_fly_as_if_each_were_alone(computed: Computed) -> None:
    """To rounding, though a glider and a delta have steps of their own, and many are at once."""
    flights: tuple[tuple[str, Steers], ...] = (
        ("anvil", "pilot"),
        ("reedling", "stabiliser"),
        ("anvil", "hands off"),
    )
    batches = [batch_of(map_throws(computed(name).launch_setup, who)) for name, who in flights]
    assert batches[0].step != batches[1].step
    assert sum(batch.throw.plane.mass.size for batch in batches) < MOST_AT_ONCE
    for batch, together in zip(batches, batches_flown(batches), strict=True):
        alone = flown(batch.throw, step=batch.step)
        assert (together.clean == alone.clean).mean() > 0.999
        both = together.clean & alone.clean
        for name in ("height", "airspeed", "bank", "clearance"):
            one, other = getattr(together, name)[both], getattr(alone, name)[both]
            assert one == pytest.approx(other, rel=1e-3, abs=1e-3), name


def test_what_is_too_much_at_once_keeps_its_order(
    computed: Computed, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Flown in several loads, each batch comes back in its place; nothing of nothing."""
    setups = [computed(name).launch_setup for name in ("anvil", "windrow", "reedling")]
    batches = [batch_of([throw_of(one, "pilot", throttle=0.8)]) for one in setups]
    whole = batches_flown(batches)
    monkeypatch.setattr(launch, "MOST_AT_ONCE", 300)
    parts = batches_flown(batches)
    for one, other in zip(parts, whole, strict=True):
        assert one.height == pytest.approx(other.height, rel=1e-3, abs=1e-3)
    assert batches_flown([]) == []

"""Profile drag of a thousand planes at 24 speeds against the general table look-up, same run."""

import time
from collections.abc import Callable
from importlib.resources import files

import numpy as np
from pytest_benchmark.fixture import BenchmarkFixture

from foamwright.physics.lift.section import StripShapes, atlas_from_arrays, section_table
from foamwright.physics.lift.strips import StripFlow, StripLoading, profile_drag
from foamwright.physics.numerics.tables import look_up

STRIPS, SAMPLES, SPEEDS = 14, 1024, np.linspace(6.0, 30.0, 24)


def best(action: Callable[[], object]) -> float:
    """Return the quickest of five runs [s]."""
    times = []
    for _ in range(5):
        start = time.perf_counter()
        action()
        times.append(time.perf_counter() - start)
    return min(times)


def test_strips_against_the_general_look_up(benchmark: BenchmarkFixture) -> None:
    """All strips at once, against one general look-up a strip; the ratio is in `extra_info`."""
    with files("foamwright.physics").joinpath("data", "section_atlas.npz").open("rb") as file:
        atlas = atlas_from_arrays(dict(np.load(file)))
    shapes = StripShapes(
        thickness=np.full(STRIPS, 0.09),
        camber=np.full(STRIPS, 0.02),
        sheet=np.zeros(STRIPS, dtype=bool),
        flap_chord=np.zeros(STRIPS),
    )
    table = section_table(atlas, shapes)
    loading = StripLoading(
        lift=np.column_stack([np.full(STRIPS, 0.2), np.full(STRIPS, 4.5)]),
        area=np.full(STRIPS, 0.12 / STRIPS),
        chord=np.full(STRIPS, 0.15),
        upright=np.ones(STRIPS),
        deflection=np.zeros((STRIPS, 2)),
        reference_area=0.12,
    )
    states = np.broadcast_to([1.0, 0.05], (SAMPLES, SPEEDS.size, 2))
    flow = StripFlow(amplitudes=states, speed=SPEEDS, kinematic_viscosity=np.full(SAMPLES, 1.5e-5))
    drag, outside = benchmark(profile_drag, loading, table, flow)
    assert drag.shape == (SAMPLES, SPEEDS.size)
    assert not outside.all()
    random = np.random.default_rng(7)
    points = (
        np.log(random.uniform(4e4, 3e5, (SAMPLES, SPEEDS.size))),
        random.uniform(0.0, 0.9, (SAMPLES, SPEEDS.size)),
    )
    axes = (table.log_reynolds, table.lift_axis)
    ours = best(lambda: profile_drag(loading, table, flow))
    one = best(lambda: look_up(axes, table.log_drag_at_lift[0], points))
    benchmark.extra_info["times as fast as one general look-up a strip"] = STRIPS * one / ours

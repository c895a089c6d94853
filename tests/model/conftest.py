"""Planes made computable once for all tests of the model."""

import shutil
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.ensemble import Draws
from foamwright.plane.document import LoadedPlane, load
from foamwright.plane.variants import overridden

ROOT = Path(__file__).parents[2]
FOLDERS = {
    "reedling": ROOT / "examples" / "reedling",
    "windrow": ROOT / "examples" / "windrow",
    "anvil": ROOT / "examples" / "anvil",
    "saltmarsh": ROOT / "tests" / "journeys" / "planes" / "saltmarsh",
}
SAMPLES = 256

COEFFICIENTS = (0.0, 0.15, 0.3, 0.45, 0.6, 0.75)
"""Advance ratios of the invented propeller table beside a copy of the glider."""

Read = Callable[[str], LoadedPlane]
Computed = Callable[..., ComputablePlane]


@pytest.fixture(scope="session")
def read() -> Read:
    """Return a plane by its short name."""
    known = {name: load(folder) for name, folder in FOLDERS.items()}
    return known.__getitem__


@pytest.fixture(scope="session")
def computed(read: Read) -> Computed:
    """Return a plane, perhaps with some keys changed, with always the same luck."""
    draws = {name: Draws(SAMPLES, 1) for name in FOLDERS}
    known = {name: ComputablePlane(read(name), draws[name]) for name in FOLDERS}

    def computable(name: str, changes: Mapping[str, object] | None = None) -> ComputablePlane:
        known[name].settle()
        if not changes:
            return known[name]
        return ComputablePlane(overridden(read(name), changes), draws[name], known[name])

    return computable


@pytest.fixture(scope="session")
def measured_propeller(tmp_path_factory: pytest.TempPathFactory) -> LoadedPlane:
    """Return the glider with an invented table of coefficients for its propeller."""
    folder = tmp_path_factory.mktemp("reedling")
    shutil.copy(FOLDERS["reedling"] / "plane.toml", folder)
    rows = [
        f"{J},{0.11 * (1 - (J / 0.75) ** 2):.5f},{0.05 * (1 - 0.7 * (J / 0.75) ** 2):.5f}"
        for J in COEFFICIENTS
    ]
    (folder / "bench.csv").write_text("\n".join(["J,CT,CP", *rows]) + "\n", encoding="utf-8")
    return overridden(load(folder), {"items.propeller.coefficients": "bench.csv"})

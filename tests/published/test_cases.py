"""Values printed outside this project: tables beside this file, one test."""

import importlib
import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from foamwright.sources import SOURCES

KINDS = {"printed", "measured", "analytic", "reference library", "recomputed"}


def cases() -> list[dict[str, Any]]:
    """Return the cases of all tables."""
    found: list[dict[str, Any]] = []
    for table in sorted(Path(__file__).parent.glob("cases_*.toml")):
        read = tomllib.loads(table.read_text(encoding="utf-8"))["case"]
        found += [{**case, "table": table.stem.removeprefix("cases_")} for case in read]
    return found


def as_given(value: object) -> object:
    """Return a list of numbers as an array, a number as a float array, the rest as it is."""
    if isinstance(value, list):
        return np.asarray(value, dtype=float)
    return np.float64(value) if isinstance(value, float) else value


def call(case: dict[str, Any]) -> object:
    """Return what the named function gives."""
    module, _, name = case["call"].rpartition(".")
    function = getattr(importlib.import_module(module), name)
    return function(**{key: as_given(value) for key, value in case["given"].items()})


@pytest.mark.published
@pytest.mark.parametrize(
    "case", cases(), ids=lambda case: f"{case['table']}: {case['name']} [{case['source']}]"
)
def test_agrees_with_the_printed_value(case: dict[str, Any]) -> None:
    """The model gives the printed value within the tolerance named beside it."""
    assert case["source"] in SOURCES
    assert case["kind"] in KINDS
    assert "tolerance" in case or "absolute" in case
    found = np.asarray(call(case), dtype=float)
    printed = np.asarray(case["value"], dtype=float)
    assert found.shape == printed.shape
    assert found == pytest.approx(
        printed, rel=case.get("tolerance", 0.0), abs=case.get("absolute", 0.0)
    )

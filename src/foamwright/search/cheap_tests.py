"""Bench and flight tests as data: what each settles, and how long it takes."""

import tomllib
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import lru_cache
from importlib.resources import files

from foamwright.plane.gear import Motor, Propeller
from foamwright.questions.case import Case


@dataclass(frozen=True, kw_only=True, slots=True)
class CheapTest:
    """One test."""

    do: str
    """What to do, in the imperative."""
    keys: tuple[str, ...]
    """Names of the inputs it settles; `*` stands for any."""
    only: str
    """When it is worth offering."""
    leaves: float
    """Spread after over spread before."""
    minutes: float
    """How long it takes."""
    call: str
    """The command that notes it; empty where it goes into the plane file."""
    tag: str
    """Where that comes from."""

    def settles(self, key: str) -> bool:
        """Return whether the test settles an input."""
        return any(fnmatchcase(key, pattern) for pattern in self.keys)


@lru_cache(maxsize=1)
def cheap_tests() -> tuple[CheapTest, ...]:
    """Return every test known."""
    text = files("foamwright.search").joinpath("cheap_tests.toml").read_text(encoding="utf-8")
    return tuple(
        CheapTest(**{**entry, "keys": tuple(entry["keys"])})
        for entry in tomllib.loads(text)["test"]
    )


def masses_unweighed(case: Case) -> set[str]:
    """Return the inputs of masses that nobody weighed."""
    estimated = set(case.computed.masses.estimated)
    found = {f"items.{name}.mass" for name in estimated}
    return found | ({"airframe.bare_mass"} if "bare foam" in estimated else set())


def is_new(test: CheapTest, case: Case) -> bool:
    """Return whether a test would tell anything that nobody has measured yet."""
    items = case.plane.items
    if test.only == "propeller":
        measured = any(
            item.static_reading is not None or item.coefficients is not None
            for item in items
            if isinstance(item, Propeller)
        )
        return any(isinstance(item, Motor) for item in items) and not measured
    if test.only == "pack":
        return any(item.kind == "pack" for item in items)
    return True


def settled(test: CheapTest, case: Case) -> tuple[str, ...]:
    """Return the names of the inputs of a plane that a test settles."""
    if not is_new(test, case):
        return ()
    unweighed = masses_unweighed(case) if test.only == "unweighed" else None
    return tuple(
        entry.key
        for entry in case.computed.draws.inputs()
        if test.settles(entry.key) and (unweighed is None or entry.key in unweighed)
    )

"""The record of derivatives holds what is said and cannot be changed."""

from dataclasses import FrozenInstanceError, fields

import numpy as np
import pytest

from foamwright.physics.flight.derivatives import Derivatives

REFERENCES = ("area", "span", "chord")
LIFTED = ("Clb_CL", "Clr_CL", "Cnp_CL", "Cnda_CL")


def record(value: float) -> Derivatives:
    """Return derivatives that are all alike."""
    names = [field.name for field in fields(Derivatives)]
    return Derivatives(**{name: np.full(2, value) for name in names})


def test_every_force_has_every_motion_and_control() -> None:
    """Lift and pitch know alpha, q and elevator; side, roll and yaw know b, p, r, da, dr."""
    names = {field.name for field in fields(Derivatives)}
    lengthwise = {f"{c}{s}" for c in ("CL", "Cm") for s in ("0", "a", "q", "de")}
    sideways = {f"{c}{s}" for c in ("CY", "Cl", "Cn") for s in ("b", "p", "r", "da", "dr")}
    assert names == {*REFERENCES, *LIFTED, *lengthwise, *sideways}


def test_it_is_frozen_and_by_name_only() -> None:
    """A derivative is not changed behind another model's back."""
    found = record(0.5)
    with pytest.raises(FrozenInstanceError):
        found.Clp = np.zeros(2)  # type: ignore[misc]  # that is what is tested
    with pytest.raises(TypeError):
        Derivatives(np.zeros(2))  # type: ignore[call-arg]  # that is what is tested

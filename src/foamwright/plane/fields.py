"""The quantities a plane file may hold: each field knows its dimension."""

from collections.abc import Callable
from typing import Annotated

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

from foamwright.problems import QuantityProblem
from foamwright.quantity import Quantity, read


def reader(
    *dimensions: str, limits: tuple[float, float] | None = None
) -> Callable[[object], Quantity]:
    """Return a validator that reads a written quantity of one of some dimensions.

    `limits` [SI] are those of the first, where the field knows better than the dimension.
    """

    def validate(written: object) -> Quantity:
        if isinstance(written, Quantity):
            return written
        try:
            return read(written, *dimensions, limits=limits)
        except QuantityProblem as problem:
            finding = problem.findings[0]
            raise PydanticCustomError(
                "quantity", "{what}", {"what": finding.what, "expected": finding.expected}
            ) from problem

    return validate


Mass = Annotated[Quantity, BeforeValidator(reader("mass"))]
Length = Annotated[Quantity, BeforeValidator(reader("length"))]
Chord = Annotated[Quantity, BeforeValidator(reader("length", limits=(0.005, 1.0)))]
Extent = Annotated[Quantity, BeforeValidator(reader("length", limits=(0.0, 3.0)))]
LineLength = Annotated[Quantity, BeforeValidator(reader("length", limits=(0.02, 60.0)))]
Diameter = Annotated[Quantity, BeforeValidator(reader("length", limits=(0.02, 0.5)))]
Pitch = Annotated[Quantity, BeforeValidator(reader("length", limits=(0.005, 0.5)))]
Stator = Annotated[Quantity, BeforeValidator(reader("length", limits=(0.001, 0.08)))]
Arm = Annotated[Quantity, BeforeValidator(reader("length", limits=(0.002, 0.05)))]
Rod = Annotated[Quantity, BeforeValidator(reader("length", limits=(0.0003, 0.005)))]
RodLength = Annotated[Quantity, BeforeValidator(reader("length", limits=(0.005, 1.0)))]
Play = Annotated[Quantity, BeforeValidator(reader("length", limits=(0.0, 0.005)))]
Lean = Annotated[Quantity, BeforeValidator(reader("angle", limits=(-1.0, 1.0)))]
TurnRate = Annotated[Quantity, BeforeValidator(reader("turn rate"))]
Gain = Annotated[Quantity, BeforeValidator(reader("fraction", limits=(0.01, 5.0)))]
Share = Annotated[Quantity, BeforeValidator(reader("fraction", limits=(0.0, 1.0)))]
Elevation = Annotated[Quantity, BeforeValidator(reader("elevation"))]
Thickness = Annotated[Quantity, BeforeValidator(reader("length", "fraction"))]
Fraction = Annotated[Quantity, BeforeValidator(reader("fraction"))]
Angle = Annotated[Quantity, BeforeValidator(reader("angle"))]
Speed = Annotated[Quantity, BeforeValidator(reader("speed"))]
Time = Annotated[Quantity, BeforeValidator(reader("time"))]
Moment = Annotated[Quantity, BeforeValidator(reader("time", limits=(0.0, 60.0)))]
Temperature = Annotated[Quantity, BeforeValidator(reader("temperature"))]
Voltage = Annotated[Quantity, BeforeValidator(reader("voltage"))]
Current = Annotated[Quantity, BeforeValidator(reader("current"))]
Draw = Annotated[Quantity, BeforeValidator(reader("power", "current"))]
Resistance = Annotated[Quantity, BeforeValidator(reader("resistance"))]
Charge = Annotated[Quantity, BeforeValidator(reader("charge"))]
SpeedConstant = Annotated[Quantity, BeforeValidator(reader("speed constant"))]
RotationSpeed = Annotated[Quantity, BeforeValidator(reader("rotation speed"))]
Wobble = Annotated[Quantity, BeforeValidator(reader("frequency", limits=(0.5, 30.0)))]
Cutoff = Annotated[Quantity, BeforeValidator(reader("frequency", limits=(2.0, 1000.0)))]
Lag = Annotated[Quantity, BeforeValidator(reader("time", limits=(0.0005, 0.5)))]
Force = Annotated[Quantity, BeforeValidator(reader("force"))]
Torque = Annotated[Quantity, BeforeValidator(reader("torque"))]
Area = Annotated[Quantity, BeforeValidator(reader("area"))]
Power = Annotated[Quantity, BeforeValidator(reader("power"))]
Money = Annotated[Quantity, BeforeValidator(reader("money"))]

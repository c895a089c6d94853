"""The quantities a plane file may hold: each field knows its dimension and sane range."""

from typing import Annotated

from pydantic import BeforeValidator

from foamwright.quantity import Quantity, reader

Mass = Annotated[Quantity, BeforeValidator(reader("mass"))]
Length = Annotated[Quantity, BeforeValidator(reader("length"))]
Thickness = Annotated[Quantity, BeforeValidator(reader("length", "fraction"))]
Fraction = Annotated[Quantity, BeforeValidator(reader("fraction"))]
Angle = Annotated[Quantity, BeforeValidator(reader("angle"))]
Speed = Annotated[Quantity, BeforeValidator(reader("speed"))]
Time = Annotated[Quantity, BeforeValidator(reader("time"))]
Temperature = Annotated[Quantity, BeforeValidator(reader("temperature"))]
Voltage = Annotated[Quantity, BeforeValidator(reader("voltage"))]
Current = Annotated[Quantity, BeforeValidator(reader("current"))]
Draw = Annotated[Quantity, BeforeValidator(reader("power", "current"))]
Resistance = Annotated[Quantity, BeforeValidator(reader("resistance"))]
Charge = Annotated[Quantity, BeforeValidator(reader("charge"))]
SpeedConstant = Annotated[Quantity, BeforeValidator(reader("speed constant"))]
RotationSpeed = Annotated[Quantity, BeforeValidator(reader("rotation speed"))]
Force = Annotated[Quantity, BeforeValidator(reader("force"))]
Torque = Annotated[Quantity, BeforeValidator(reader("torque"))]
Area = Annotated[Quantity, BeforeValidator(reader("area"))]
Power = Annotated[Quantity, BeforeValidator(reader("power"))]
Money = Annotated[Quantity, BeforeValidator(reader("money"))]

"""Where propeller, motor, speed controller and pack agree, at a throttle or for a thrust."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples
from foamwright.physics.drive.controller import Controller, current_gain
from foamwright.physics.drive.motor import (
    Motor,
    current_for_torque,
    shaft_torque,
    voltage_for_speed,
)
from foamwright.physics.drive.pack import Pack, pack_resistance, pack_voltage
from foamwright.physics.drive.propeller import (
    Multipliers,
    PropellerTable,
    coefficients,
    power_coefficient,
    thrust_coefficient,
)
from foamwright.physics.numerics.roots import bracketed_root

TWO_PI = 2.0 * np.pi

NEVER = 1e6
"""A thrust no propeller gives, in place of one that is infinite or not a number [N]."""

ENOUGH = 1e-5
"""Tolerance of the revolutions: estimates that agree to a tenth of it end the search, and the
last step has gained far more by then."""

DUTY_PASSES = 12
"""Passes of the duty for a motor voltage; each one gains a factor of pack sag, about five."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Drive:
    """Everything between pack and air, n samples."""

    motor: Motor
    controller: Controller
    pack: Pack
    propeller: PropellerTable
    multipliers: Multipliers
    """How each sample's propeller differs from the table."""
    density: Samples
    """Of the air (n,) [kg m^-3]."""
    gear_power: Samples
    """What video, boards and servos take from the pack (n,) [W]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Operating:
    """One state of the drive, (n, k)."""

    revolutions: Samples
    """Of the propeller [s^-1]."""
    thrust: Samples
    """[N]."""
    torque: Samples
    """At the shaft [N m]."""
    throttle: Samples
    """Duty [-]."""
    motor_current: Samples
    """[A]."""
    pack_current: Samples
    """With the gear's draw [A]."""
    pack_voltage: Samples
    """Under load [V]."""
    efficiency: Samples
    """Thrust power over pack power without the gear's draw [-]."""
    holds: Flags
    """Whether there is such a state (a thrust may ask for more than full throttle)."""
    outside: Flags
    """Where the propeller's table was left."""


@dataclass(frozen=True, kw_only=True, slots=True)
class _Supply:
    """The pack seen from the motor, (n, 1)."""

    voltage: Samples
    resistance: Samples
    gear_current: Samples


def _supply(drive: Drive, charge: float | Samples) -> _Supply:
    left = np.full(drive.density.shape, charge)
    voltage = pack_voltage(drive.pack, left)
    return _Supply(
        voltage=voltage[:, None],
        resistance=pack_resistance(drive.pack, left)[:, None],
        gear_current=(drive.gear_power / voltage)[:, None],
    )


@dataclass(frozen=True, slots=True)
class _AirLoad:
    """The propeller of every sample in the air at (n, k) airspeeds."""

    table: PropellerTable
    given: Multipliers
    airspeed: Samples
    density: Samples

    def _point(self, revolutions: Samples) -> tuple[Samples, Samples, Samples]:
        """Return turns, advance ratio and the pressure that coefficients multiply."""
        turns = np.maximum(revolutions, 1e-3)
        diameter = self.table.diameter
        return turns, self.airspeed / (turns * diameter), self.density * turns**2 * diameter**4

    def thrust(self, revolutions: Samples) -> Samples:
        """Return thrust (n, k) [N]."""
        turns, ratio, pressure = self._point(revolutions)
        return thrust_coefficient(self.table, ratio, turns, self.given) * pressure

    def torque(self, revolutions: Samples) -> Samples:
        """Return torque (n, k) [N m]."""
        turns, ratio, pressure = self._point(revolutions)
        arm = self.table.diameter / TWO_PI
        return power_coefficient(self.table, ratio, turns, self.given) * pressure * arm

    def both(self, revolutions: Samples) -> tuple[Samples, Samples, Flags]:
        """Return thrust, torque and who is outside the table, (n, k)."""
        turns, ratio, pressure = self._point(revolutions)
        CT, CP, outside = coefficients(self.table, ratio, turns, self.given)
        return CT * pressure, CP * pressure * self.table.diameter / TWO_PI, outside


def _air_load(drive: Drive, airspeed: Samples) -> _AirLoad:
    """Return the propeller in the air."""
    given = Multipliers(
        advance=drive.multipliers.advance[:, None],
        thrust=drive.multipliers.thrust[:, None],
        power=drive.multipliers.power[:, None],
    )
    return _AirLoad(drive.propeller, given, airspeed, drive.density[:, None])


def at_throttle(
    drive: Drive, airspeed: Samples, throttle: float, charge: float | Samples
) -> Operating:
    """Return the drive's state at a throttle.

    Parameters
    ----------
    drive : Drive
        n samples.
    airspeed : (n, k) [m s^-1]
        Or (1, k), the same for all samples.
    throttle : float [-]
        Duty, above 0 to 1.
    charge : (n,) [-]
        Share left in the pack; or one for all samples.

    Returns
    -------
    Operating [-]

    Source
    ------
    drela-2007, own-derivation
    """
    supply = _supply(drive, charge)
    speed_constant = drive.motor.speed_constant[:, None]
    gain = current_gain(np.full_like(supply.voltage, throttle), drive.controller.part_loss[:, None])
    resistance = (drive.motor.resistance + drive.controller.resistance)[:, None]
    loop = resistance + throttle * gain * supply.resistance
    open_voltage = throttle * (supply.voltage - supply.resistance * supply.gear_current)
    speed = np.broadcast_to(airspeed, np.broadcast_shapes(airspeed.shape, supply.voltage.shape))
    load = _air_load(drive, speed)

    def motor_current(revolutions: Samples) -> Samples:
        turning = TWO_PI * revolutions
        lag = turning * drive.motor.commutation[:, None]
        return (open_voltage - turning / speed_constant) / (loop + lag)

    def residual(revolutions: Samples) -> Samples:
        given = shaft_torque(drive.motor, motor_current(revolutions), TWO_PI * revolutions)
        return given - load.torque(revolutions)

    top = np.broadcast_to(open_voltage * speed_constant / TWO_PI, speed.shape)
    turns, missed = bracketed_root(residual, 1e-3 * top, top, tolerance=ENOUGH, most=40)
    thrust, torque, outside = load.both(turns)
    current = motor_current(turns)
    drawn = gain * current
    voltage = supply.voltage - supply.resistance * (drawn + supply.gear_current)
    return Operating(
        revolutions=turns,
        thrust=thrust,
        torque=torque,
        throttle=np.full(speed.shape, throttle),
        motor_current=current,
        pack_current=drawn + supply.gear_current,
        pack_voltage=voltage,
        efficiency=thrust * speed / np.maximum(voltage * drawn, 1e-9),
        holds=~missed,
        outside=outside,
    )


def _duty(drive: Drive, supply: _Supply, motor_voltage: Samples, current: Samples) -> Samples:
    """Return the duty that gives a motor voltage while the pack sags under it."""
    part_loss = drive.controller.part_loss[:, None]
    duty = np.clip(motor_voltage / supply.voltage, 0.0, 1.5)
    for _ in range(DUTY_PASSES):
        drawn = current_gain(duty, part_loss) * current + supply.gear_current
        voltage = np.maximum(supply.voltage - supply.resistance * drawn, 0.3 * supply.voltage)
        duty = np.clip(motor_voltage / voltage, 0.0, 1.5)
    return duty


def at_thrust(
    drive: Drive, airspeed: Samples, thrust: Samples, charge: float | Samples
) -> Operating:
    """Return the drive's state that gives a thrust; no nested solution is needed.

    Parameters
    ----------
    drive : Drive
        n samples.
    airspeed : (n, k) [m s^-1]
        Or (1, k), the same for all samples.
    thrust : (n, k) [N]
        Wanted, positive; where it is infinite or not a number, no state holds and all values are
        those of the bracket's end.
    charge : (n,) [-]
        Share left in the pack; or one for all samples.

    Returns
    -------
    Operating [-]

    Source
    ------
    drela-2007, own-derivation
    """
    supply = _supply(drive, charge)
    speed = np.broadcast_to(airspeed, thrust.shape)
    load = _air_load(drive, speed)
    speed_constant = drive.motor.speed_constant[:, None]
    top = np.broadcast_to(1.3 * supply.voltage * speed_constant / TWO_PI, thrust.shape)

    asked = np.where(np.isfinite(thrust), thrust, NEVER)

    def residual(revolutions: Samples) -> Samples:
        return load.thrust(revolutions) - asked

    turns, missed = bracketed_root(residual, 1e-3 * top, top, tolerance=ENOUGH, most=40)
    force, torque, outside = load.both(turns)
    current = current_for_torque(drive.motor, torque, TWO_PI * turns)
    wanted = voltage_for_speed(drive.motor, current, TWO_PI * turns)
    wanted += current * drive.controller.resistance[:, None]
    duty = _duty(drive, supply, wanted, current)
    drawn = current_gain(duty, drive.controller.part_loss[:, None]) * current
    voltage = supply.voltage - supply.resistance * (drawn + supply.gear_current)
    return Operating(
        revolutions=turns,
        thrust=force,
        torque=torque,
        throttle=duty,
        motor_current=current,
        pack_current=drawn + supply.gear_current,
        pack_voltage=voltage,
        efficiency=force * speed / np.maximum(voltage * drawn, 1e-9),
        holds=~missed & (duty <= 1.0),
        outside=outside,
    )

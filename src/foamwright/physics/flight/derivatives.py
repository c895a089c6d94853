"""How forces and moments of the whole plane change with its motion and its controls."""

from dataclasses import dataclass

from foamwright.physics.arrays import Samples


@dataclass(frozen=True, kw_only=True, slots=True)
class Derivatives:
    """Stability and control derivatives of n samples about the centre of gravity.

    Body axes of flight mechanics: x forward, y right, z down. Rates are made dimensionless as
    pb/2V, qc/2V, rb/2V. Positive: right wing down, nose up, nose right; side force to the right;
    beta is flow from the right. Controls: elevator trailing edge down, aileron right trailing
    edge up (rolls right), rudder trailing edge to the right (yaws right).
    """

    area: Samples
    """Wing area (n,) [m^2]."""
    span: Samples
    """Wing span (n,) [m]."""
    chord: Samples
    """Mean aerodynamic chord (n,) [m]."""
    CL0: Samples
    """Lift at no angle of attack (n,) [-]."""
    CLa: Samples
    """Lift per angle of attack (n,) [rad^-1]."""
    CLq: Samples
    """Lift per pitch rate (n,) [-]."""
    CLde: Samples
    """Lift per elevator (n,) [rad^-1]."""
    Cm0: Samples
    """Pitching moment at no angle of attack (n,) [-]."""
    Cma: Samples
    """Pitching moment per angle of attack (n,) [rad^-1]."""
    Cmq: Samples
    """Pitching moment per pitch rate (n,) [-]."""
    Cmde: Samples
    """Pitching moment per elevator (n,) [rad^-1]."""
    CYb: Samples
    """Side force per sideslip (n,) [rad^-1]."""
    CYp: Samples
    """Side force per roll rate (n,) [-]."""
    CYr: Samples
    """Side force per yaw rate (n,) [-]."""
    CYda: Samples
    """Side force per aileron (n,) [rad^-1]."""
    CYdr: Samples
    """Side force per rudder (n,) [rad^-1]."""
    Clb: Samples
    """Rolling moment per sideslip (n,) [rad^-1], without the part that grows with lift."""
    Clp: Samples
    """Rolling moment per roll rate (n,) [-]."""
    Clr: Samples
    """Rolling moment per yaw rate (n,) [-], without the part that grows with lift."""
    Clda: Samples
    """Rolling moment per aileron (n,) [rad^-1]."""
    Cldr: Samples
    """Rolling moment per rudder (n,) [rad^-1]."""
    Cnb: Samples
    """Yawing moment per sideslip (n,) [rad^-1]."""
    Cnp: Samples
    """Yawing moment per roll rate (n,) [-], without the part that grows with lift."""
    Cnr: Samples
    """Yawing moment per yaw rate (n,) [-]."""
    Cnda: Samples
    """Yawing moment per aileron (n,) [rad^-1], without the part that grows with lift."""
    Cndr: Samples
    """Yawing moment per rudder (n,) [rad^-1]."""
    Clb_CL: Samples
    """What the rolling moment per sideslip gains per CL (sweep) (n,) [rad^-1]."""
    Clr_CL: Samples
    """What the rolling moment per yaw rate gains per CL (n,) [-]."""
    Cnp_CL: Samples
    """What the yawing moment per roll rate gains per CL (n,) [-]."""
    Cnda_CL: Samples
    """What the yawing moment per aileron gains per CL, adverse yaw (n,) [rad^-1]."""

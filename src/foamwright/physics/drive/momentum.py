"""The actuator disc: closed forms that bound every propeller."""

import numpy as np

from foamwright.physics.arrays import Samples


def disc_area(diameter: Samples) -> Samples:
    """Return the area a propeller sweeps.

    Parameters
    ----------
    diameter : (n,) [m]
        Diameter of the propeller.

    Returns
    -------
    (n,) [m^2]

    Source
    ------
    own-derivation
    """
    return 0.25 * np.pi * diameter * diameter


def ideal_static_thrust(power: Samples, diameter: Samples, density: Samples) -> Samples:
    """Return the thrust of an ideal disc at rest, (2 rho A P^2)^(1/3).

    Parameters
    ----------
    power : (n,) [W]
        Shaft power.
    diameter : (n,) [m]
        Diameter of the propeller.
    density : (n,) [kg m^-3]
        Density of the air.

    Returns
    -------
    (n,) [N]

    Source
    ------
    glauert-1935
    """
    thrust: Samples = np.cbrt(2.0 * density * disc_area(diameter) * power * power)
    return thrust


def thrust_loading(advance_ratio: Samples, thrust_coefficient: Samples) -> Samples:
    """Return thrust over dynamic pressure and disc area, 8 CT / (pi J^2).

    Parameters
    ----------
    advance_ratio : (n,) [-]
        J = V / (n D), not zero.
    thrust_coefficient : (n,) [-]
        CT = T / (rho n^2 D^4).

    Returns
    -------
    (n,) [-]

    Source
    ------
    own-derivation
    """
    return 8.0 * thrust_coefficient / (np.pi * advance_ratio * advance_ratio)


def froude_efficiency(loading: Samples) -> Samples:
    """Return the efficiency of an ideal disc, 2 / (1 + sqrt(1 + Tc)).

    Parameters
    ----------
    loading : (n,) [-]
        Thrust over dynamic pressure and disc area, Tc.

    Returns
    -------
    (n,) [-]

    Source
    ------
    glauert-1935
    """
    return 2.0 / (1.0 + np.sqrt(1.0 + loading))


def induced_speed(thrust: Samples, airspeed: Samples, mass_flow_area: Samples) -> Samples:
    """Return the speed an ideal disc adds at its plane, valid at rest too.

    Parameters
    ----------
    thrust : (n,) [N]
        Thrust.
    airspeed : (n,) [m s^-1]
        Speed of the air far ahead.
    mass_flow_area : (n,) [kg m^-1]
        Air density times disc area.

    Returns
    -------
    (n,) [m s^-1]

    Source
    ------
    glauert-1935
    """
    half = 0.5 * airspeed
    return np.sqrt(half * half + thrust / (2.0 * mass_flow_area)) - half


def propeller_efficiency(
    advance_ratio: Samples, thrust_coefficient: Samples, power_coefficient: Samples
) -> Samples:
    """Return the share of shaft power that becomes thrust power, J CT / CP.

    Parameters
    ----------
    advance_ratio : (n,) [-]
        J = V / (n D).
    thrust_coefficient : (n,) [-]
        CT = T / (rho n^2 D^4).
    power_coefficient : (n,) [-]
        CP = P / (rho n^3 D^5).

    Returns
    -------
    (n,) [-]

    Source
    ------
    own-derivation
    """
    return advance_ratio * thrust_coefficient / power_coefficient


def figure_of_merit(thrust_coefficient: Samples, power_coefficient: Samples) -> Samples:
    """Return ideal over real power at rest, (CT^1.5 / CP) sqrt(2 / pi).

    Parameters
    ----------
    thrust_coefficient : (n,) [-]
        Static CT = T / (rho n^2 D^4); negative counts as none.
    power_coefficient : (n,) [-]
        Static CP = P / (rho n^3 D^5).

    Returns
    -------
    (n,) [-]

    Source
    ------
    own-derivation
    """
    merit: Samples = (
        np.maximum(thrust_coefficient, 0.0) ** 1.5 / power_coefficient * np.sqrt(2.0 / np.pi)
    )
    return merit


def tip_loss(blade_count: Samples, radius: Samples, inflow_tangent: Samples) -> Samples:
    """Return Prandtl's tip factor from the pitch of the helical wake sheets.

    Parameters
    ----------
    blade_count : (n,) [-]
        Number of blades.
    radius : (n,) [-]
        r/R, below one.
    inflow_tangent : (n,) [-]
        Wake speed over tip speed, lambda.

    Returns
    -------
    (n,) [-]

    Source
    ------
    betz-prandtl-1919
    """
    exponent = 0.5 * blade_count * (1.0 - radius) * np.sqrt(1.0 + 1.0 / inflow_tangent**2)
    return (2.0 / np.pi) * np.arccos(np.exp(-exponent))


def many_blade_circulation(speed_ratio: Samples) -> Samples:
    """Return the ideal circulation function of infinitely many blades, x^2 / (1 + x^2).

    Parameters
    ----------
    speed_ratio : (n,) [-]
        Local rotational speed over the speed of the wake, r omega / V.

    Returns
    -------
    (n,) [-]

    Source
    ------
    goldstein-1929
    """
    square = speed_ratio * speed_ratio
    return square / (1.0 + square)

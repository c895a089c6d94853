"""How far a solid surface twists under a torque."""

import numpy as np

from foamwright.physics.arrays import Grid, Samples


def torsion_constant(place: Grid, thickness: Samples) -> Samples:
    """Return the torsion constant of a long solid section.

    Parameters
    ----------
    place : (k,) [m]
        Along the middle line of the section, rising.
    thickness : (n, k) [m]
        Across it there.

    Returns
    -------
    (n,) [m^4]
        Exact for an ellipse; a few percent high for sections with corners.

    Source
    ------
    roark
        Any elongated section: K = F / (3 + 4 F / (A U^2)), F the integral of thickness cubed.
    """
    length = place[-1] - place[0]
    area = np.trapezoid(thickness, place, axis=1)
    cubed = np.trapezoid(thickness**3, place, axis=1)
    found: Samples = cubed / (3.0 + 4.0 * cubed / (area * length**2))
    return found


def twist(torque: Samples, place: Grid, stiffness: Samples) -> Samples:
    """Return how far a surface held at its root twists where a torque is put on.

    Parameters
    ----------
    torque : (n,) [N m]
        Put on at the last place.
    place : (k,) [m]
        From the root outwards, rising.
    stiffness : (n, k) [N m^2]
        Shear modulus times torsion constant there.

    Returns
    -------
    (n,) [rad]

    Source
    ------
    roark
        Saint-Venant torsion of a bar whose section changes slowly.
    """
    found: Samples = torque * np.trapezoid(1.0 / stiffness, place, axis=1)
    return found

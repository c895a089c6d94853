"""Plain flaps in thin-aerofoil theory; trailing edge down positive."""

import numpy as np

from foamwright.physics.arrays import Samples


def flap_effectiveness(chord_fraction: Samples) -> Samples:
    """Return the change of zero-lift angle per deflection of a plain flap, tau.

    Parameters
    ----------
    chord_fraction : (n,) [-]
        Chord behind the hinge over the whole chord.

    Returns
    -------
    (n,) [-]

    Valid
    -----
    Inviscid, sealed gap; at low Reynolds number real flaps reach about 0.7 of it.

    Source
    ------
    glauert-1927
    """
    hinge = _hinge_angle(chord_fraction)
    return np.asarray((np.pi - hinge + np.sin(hinge)) / np.pi)


def flap_pitching_moment(chord_fraction: Samples) -> Samples:
    """Return the change of the moment about the quarter chord per deflection.

    Parameters
    ----------
    chord_fraction : (n,) [-]
        Chord behind the hinge over the whole chord.

    Returns
    -------
    (n,) [rad^-1]

    Source
    ------
    glauert-1927
    """
    hinge = _hinge_angle(chord_fraction)
    return np.asarray(-0.5 * np.sin(hinge) * (1.0 - np.cos(hinge)))


def hinge_moment_from_angle(chord_fraction: Samples) -> Samples:
    """Return the hinge moment per angle of attack, on the flap's own chord squared.

    Parameters
    ----------
    chord_fraction : (n,) [-]
        Chord behind the hinge over the whole chord.

    Returns
    -------
    (n,) [rad^-1]

    Source
    ------
    glauert-1927
    """
    return np.asarray(-_first_moment(_hinge_angle(chord_fraction)) / chord_fraction**2)


def hinge_moment_from_deflection(chord_fraction: Samples) -> Samples:
    """Return the hinge moment per deflection at fixed angle of attack.

    Parameters
    ----------
    chord_fraction : (n,) [-]
        Chord behind the hinge over the whole chord.

    Returns
    -------
    (n,) [rad^-1]

    Valid
    -----
    Inviscid, sealed gap; real flaps at low Reynolds number reach 0.6 to 0.8 of it.

    Source
    ------
    glauert-1927
    """
    hinge = _hinge_angle(chord_fraction)
    behind = np.pi - hinge
    # The logarithmic part of the pressure, integrated by parts in closed form.
    peak = 0.5 * np.sin(hinge) * (behind * np.cos(hinge) + np.sin(hinge))
    return np.asarray(-(behind * _first_moment(hinge) + peak) / (np.pi * chord_fraction**2))


def _hinge_angle(chord_fraction: Samples) -> Samples:
    return np.asarray(np.arccos(2.0 * chord_fraction - 1.0))


def _first_moment(hinge: Samples) -> Samples:
    """Integral of (1 + cos t)(cos h - cos t) from the hinge to the trailing edge."""
    cosine, sine = np.cos(hinge), np.sin(hinge)
    return np.asarray((np.pi - hinge) * (cosine - 0.5) + sine - 0.5 * sine * cosine)

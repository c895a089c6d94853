"""From servo arm to control horn: a four-bar linkage, its play, its pushrod, its mixing."""

from dataclasses import dataclass

import numpy as np

from foamwright.physics.arrays import Flags, Samples

BUCKLING_MARGIN = 2.0
"""Buckling load over rod force that is kept; common practice: rods are never quite straight."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Linkage:
    """Two arms and a pushrod in one plane; everything may be broadcast, (n,) or (n, 1).

    The rod runs along x at neutral; an arm at angle zero stands square to it.
    """

    servo_arm: Samples
    """From the servo's axis to the rod [m]."""
    horn_arm: Samples
    """From the hinge line to the rod [m]."""
    rod: Samples
    """Length of the pushrod between its two holes [m]."""
    servo_offset: Samples
    """How far the arm leans away from square at neutral, towards the horn [rad]."""
    horn_offset: Samples
    """How far the horn leans away from square at neutral, away from the servo [rad]."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Driven:
    """Where a linkage stands."""

    angle: Samples
    """Of the driven arm from neutral [rad]."""
    ratio: Samples
    """Driven angle per driving angle there [-]."""
    lever: Samples
    """Of the rod about the driven axis: torque over rod force [m]."""
    locked: Flags
    """Where the rod cannot reach: no answer."""


def reversed_linkage(linkage: Linkage) -> Linkage:
    """Return the same linkage driven from the other end.

    Parameters
    ----------
    linkage : Linkage
        As built.

    Returns
    -------
    Linkage [-]
        Its servo is the horn and the other way round.

    Source
    ------
    own-derivation
    """
    # Seen from the other side of the rod, x runs backwards, and so do both offsets and angles.
    return Linkage(
        servo_arm=linkage.horn_arm,
        horn_arm=linkage.servo_arm,
        rod=linkage.rod,
        servo_offset=-linkage.horn_offset,
        horn_offset=-linkage.servo_offset,
    )


def driven(linkage: Linkage, angle: Samples) -> Driven:
    """Return the horn for a turn of the servo arm towards the horn (the rod pushes).

    Parameters
    ----------
    linkage : Linkage
        The four bars.
    angle : (n,) [rad]
        Of the servo arm from neutral, towards the horn positive.

    Returns
    -------
    Driven [-]
        The horn turns away from the servo.

    Valid
    -----
    Rods that lie in the plane both arms turn in. Near dead centre the ratio goes to nothing or
    beyond all bounds; beyond it the linkage is locked.

    Source
    ------
    own-derivation
    """
    a, h, rod = linkage.servo_arm, linkage.horn_arm, linkage.rod
    arm, horn = linkage.servo_offset, linkage.horn_offset
    # The hinge as seen from the servo's axis; both pins lie on the rod, which is along x.
    hinge_x = a * np.sin(arm) + rod - h * np.sin(horn)
    hinge_y = a * np.cos(arm) - h * np.cos(horn)
    turned = arm + angle
    pin_x, pin_y = a * np.sin(turned) - hinge_x, a * np.cos(turned) - hinge_y
    away = np.hypot(pin_x, pin_y)
    cosine = (away**2 + h**2 - rod**2) / (2.0 * h * away)
    locked = np.abs(cosine) > 1.0
    stands = np.arctan2(pin_x, pin_y) + np.arccos(np.clip(cosine, -1.0, 1.0))
    along_x, along_y = h * np.sin(stands) - pin_x, h * np.cos(stands) - pin_y
    driving = (along_x * np.cos(turned) - along_y * np.sin(turned)) * a / rod
    lever = (along_x * np.cos(stands) - along_y * np.sin(stands)) * h / rod
    none = np.where(locked, np.nan, 1.0)
    divisor = np.where(locked, 1.0, lever)
    turn = (stands - horn + np.pi) % (2.0 * np.pi) - np.pi
    return Driven(
        angle=turn * none, ratio=driving / divisor * none, lever=lever * none, locked=locked
    )


def servo_angle(linkage: Linkage, deflection: Samples) -> Driven:
    """Return the servo for a deflection of the surface away from the servo (rod pushing).

    Parameters
    ----------
    linkage : Linkage
        The four bars.
    deflection : (n,) [rad]
        Of the surface from neutral.

    Returns
    -------
    Driven [-]
        Servo angle per surface angle is the mechanical advantage; the lever is the servo's.

    Source
    ------
    own-derivation
    """
    back = driven(reversed_linkage(linkage), -deflection)
    return Driven(angle=-back.angle, ratio=back.ratio, lever=back.lever, locked=back.locked)


def rod_stiffness(diameter: Samples, bore: Samples) -> Samples:
    """Return the second moment of area of a round rod or tube.

    Parameters
    ----------
    diameter : (n,) [m]
        Outer.
    bore : (n,) [m]
        Inner; zero for a solid rod.

    Returns
    -------
    (n,) [m^4]

    Source
    ------
    own-derivation
    """
    return np.pi * (diameter**4 - bore**4) / 64.0


def buckling_load(modulus: Samples, second_moment: Samples, free_length: Samples) -> Samples:
    """Return the push under which a straight rod with pinned ends gives way sideways.

    Parameters
    ----------
    modulus : (n,) [Pa]
        Young's modulus.
    second_moment : (n,) [m^4]
        Of its cross-section.
    free_length : (n,) [m]
        Between two supports or pins.

    Returns
    -------
    (n,) [N]

    Valid
    -----
    Slender rods; a Z bend, an offset keeper or a bow costs up to half of it.

    Source
    ------
    euler-1744
    """
    return np.pi**2 * modulus * second_moment / free_length**2


def edge_play(
    linkage: Linkage, servo_slop: Samples, hole_play: Samples, flap_chord: Samples
) -> Samples:
    """Return how far the trailing edge moves freely, from one end of the play to the other.

    Parameters
    ----------
    linkage : Linkage
        The four bars; the play is that about neutral.
    servo_slop : (n,) [rad]
        Free play of the servo arm.
    hole_play : (n,) [m]
        Free play along the rod, of both holes together.
    flap_chord : (n,) [m]
        Hinge line to trailing edge.

    Returns
    -------
    (n,) [m]

    Source
    ------
    own-derivation
    """
    neutral = driven(linkage, np.zeros_like(linkage.servo_arm))
    return flap_chord * (servo_slop * np.abs(neutral.ratio) + hole_play / np.abs(neutral.lever))


def edge_travel(flap_chord: Samples, deflection: Samples) -> Samples:
    """Return how far the trailing edge goes, as a ruler held against it tells.

    Parameters
    ----------
    flap_chord : (n,) [m]
        Hinge line to trailing edge.
    deflection : (n,) [rad]
        Of the surface.

    Returns
    -------
    (n,) [m]

    Source
    ------
    common-practice
    """
    return flap_chord * np.sin(deflection)


def travel_left(limit: Samples, asked: Samples, other: Samples) -> Samples:
    """Return which share of the other command is left where one surface takes two.

    Parameters
    ----------
    limit : (n,) [rad]
        Largest travel of the surface.
    asked : (n,) [rad]
        What the first command takes.
    other : (n,) [rad]
        What the second would take alone.

    Returns
    -------
    (n,) [-]
        1 where both fit, 0 where the first takes all.

    Source
    ------
    own-derivation
    """
    left = np.maximum(limit - np.abs(asked), 0.0)
    return np.minimum(left / np.maximum(np.abs(other), 1e-9), 1.0)

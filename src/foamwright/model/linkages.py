"""Every control surface with its servo, arms and pushrod, as far as they are known."""

from dataclasses import dataclass

import numpy as np

from foamwright.model.ensemble import Draws
from foamwright.model.foam import is_mirrored
from foamwright.model.surfaces import geometry_of
from foamwright.physics.arrays import Samples
from foamwright.physics.gear.linkage import Linkage, buckling_load, rod_stiffness
from foamwright.physics.lift.hinge import mean_square_chord
from foamwright.plane.airframe import Airframe, ControlRole, ControlSurface, Surface
from foamwright.plane.gear import Servo
from foamwright.plane.plane import Plane
from foamwright.quantity import Quantity, show

ARM, HORN = (0.008, 0.001), (0.012, 0.0015)
"""Servo arm and horn where none was written, and spread [m]; common practice, no source."""

ARM_SHARE = 0.03
"""Spread of a written arm where none is written [-]: the middle of a hole, by ruler."""

TORQUE_SHARE = 0.15
"""Spread of a label's torque and speed where none is written [-]; common practice, no source."""

SLOP = (float(np.radians(1.0)), float(np.radians(0.4)))
"""Free play of a servo's arm, and spread [rad]: 0.5-1.5 degrees new; common practice."""

HOLE_PLAY = (0.00015, 0.00006)
"""Free play along the rod of both holes together, and spread [m]: bends that fit; common
practice, no source."""

ROD_DIAMETER = 0.001
"""Pushrod where none was written [m]; common practice, no source."""

SUPPORTED = 0.080
"""Longest free piece of a pushrod where none was written [m]: supported every 60-80 mm; common
practice, no source."""

SHORTEST_ROD = 0.030
"""Shortest pushrod that is guessed from places [m]."""

MODULUS = {"steel": 200e9, "carbon": 120e9}
"""Young's modulus of pushrods [Pa]; handbook steel, pultruded carbon, from memory."""

THROWS: dict[ControlRole, tuple[float, float]] = {
    "aileron": (16.0, 14.0),
    "elevator": (13.0, 13.0),
    "elevon": (16.0, 12.0),
    "ruddervator": (13.0, 13.0),
    "rudder": (20.0, 20.0),
    "flap": (0.0, 30.0),
}
"""Travel up and down at high rate where none was written [deg]; common practice, no source."""

HINGE_POINTS = 33
"""Places along a hinge at which the chord is looked at."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Hinged:
    """One control surface and what moves it; samples (n,)."""

    key: str
    """Where it stands in the plane file."""
    name: str
    """The builder's name."""
    role: ControlRole
    """What it does."""
    lifting: bool
    """Whether the wing's angle of attack loads it too."""
    servo: str
    """Name of the servo."""
    panels: float
    """Panels one piece of that servo holds."""
    fraction: float
    """Chord behind the hinge over the whole [-]."""
    edge: float
    """Hinge to trailing edge where it is deepest [m]."""
    square_chord: float
    """Mean square of the flap's chord [m^2]."""
    length: float
    """Along the hinge, one panel [m]."""
    up: float
    """Travel, trailing edge up [rad]."""
    down: float
    """Travel, trailing edge down [rad]."""
    linkage: Linkage
    """The four bars."""
    rod_diameter: float
    """Of the pushrod [m]."""
    rod_free: float
    """Its longest free piece [m]."""
    buckles: Samples
    """Push under which the rod gives way [N]."""
    play: Samples
    """Free play along the rod [m]."""
    torque: Samples
    """Label torque of the servo [N m]."""
    slop: Samples
    """Free play of the servo's arm [rad]."""
    sixty: Samples
    """Label time for 60 degrees [s]."""


def servos(plane: Plane) -> dict[str, Servo]:
    """Return the servos by name."""
    return {item.name: item for item in plane.items if isinstance(item, Servo)}


def controls(airframe: Airframe) -> list[tuple[str, Surface, ControlSurface]]:
    """Return every control surface with its key and its surface."""
    return [
        (f"airframe.surfaces.{surface.name}.controls.{control.name}", surface, control)
        for surface in airframe.surfaces
        for control in surface.controls
    ]


def unmoved(plane: Plane) -> tuple[str, ...]:
    """Return what is missing for the linkages: servos not named, or without their numbers."""
    known = servos(plane)
    found = []
    for key, _, control in controls(plane.airframe):
        if control.servo is None:
            found.append(f"{key}.servo, the name of the item that moves it")
            continue
        servo = known.get(control.servo)
        found += [
            f"items.{control.servo}.{word}, from its label"
            for word in ("torque", "speed")
            if servo is not None and getattr(servo, word) is None
        ]
    return tuple(dict.fromkeys(found))


def linkage_inputs(plane: Plane) -> tuple[tuple[str, str], ...]:
    """Return every input the linkages draw, with its label, in one order."""
    found = []
    for name in servos(plane):
        for word, label in (("torque", "torque"), ("slop", "slop"), ("arm", "arm")):
            found.append((f"items.{name}.{word}", f"{label} of {name}"))
        found.append((f"items.{name}.speed", f"speed of {name}"))
    for key, _, control in controls(plane.airframe):
        found.append((f"{key}.horn_arm", f"horn of {control.name}"))
        found.append((f"{key}.linkage_play", f"linkage play of {control.name}"))
    return tuple(found)


def panels_of(plane: Plane, surface: Surface, control: ControlSurface) -> float:
    """Return how many panels one piece of the servo holds.

    Pieces are dealt out evenly to the controls that name the servo; what is left over helps
    nobody, and a piece that serves several is counted for each (see `sharing`).
    """
    same = [c for _, _, c in controls(plane.airframe) if c.servo == control.servo]
    pieces = max(servos(plane)[control.servo or ""].count // len(same), 1)
    panels = 2 if is_mirrored(surface) else 1
    return panels / min(pieces, panels)


def sharing(plane: Plane, hinged: tuple[Hinged, ...]) -> dict[str, tuple[Hinged, ...]]:
    """Return which surfaces pull at one piece of a servo at the same time, by name of each."""
    known = servos(plane)
    found = {}
    for one in hinged:
        same = tuple(h for h in hinged if h.servo == one.servo)
        found[one.key] = same if known[one.servo].count < len(same) else (one,)
    return found


def hinge_line(surface: Surface, control: ControlSurface) -> tuple[float, np.ndarray, np.ndarray]:
    """Return length of the hinge [m], flap chords and x of the hinge along it."""
    geometry = geometry_of(surface)
    steps = np.hypot(*np.diff(geometry.leading_edge[:, 1:], axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    share = np.linspace(control.start.value, control.end.value, HINGE_POINTS)
    chord = np.interp(share * along[-1], along, geometry.chord)
    edge = np.interp(share * along[-1], along, geometry.leading_edge[:, 0])
    fraction = control.chord_fraction.value
    length = (control.end.value - control.start.value) * float(along[-1])
    return length, fraction * chord, edge + (1.0 - fraction) * chord


def _length(quantity: Quantity | None, usual: float) -> float:
    return usual if quantity is None else quantity.value


def rod_length(servo: Servo, control: ControlSurface, hinge: float) -> float:
    """Return the length of the pushrod [m]: written, or from servo to hinge line."""
    if control.pushrod_length is not None:
        return control.pushrod_length.value
    if servo.at is None:
        return SUPPORTED
    return max(abs(hinge - servo.at.x.value), SHORTEST_ROD)


def written_or(
    quantity: Quantity | None, usual: tuple[float, float], draws: Draws, *, key: str, label: str
) -> Samples:
    """Return what was written, or what is usual (n,); arms and plays are never nothing."""
    if quantity is None:
        found = draws.around(*usual, key=key, label=label)
    else:
        found = draws.written(quantity, ARM_SHARE * quantity.value, key=key, label=label)
    return np.maximum(found, 0.0)


def hinged_of(plane: Plane, draws: Draws) -> tuple[Hinged, ...]:
    """Return every control surface with what moves it; ask `unmoved` first."""
    return tuple(_hinged(plane, draws, entry) for entry in controls(plane.airframe))


def _bars(draws: Draws, servo: Servo, control: ControlSurface, *, key: str, rod: float) -> Linkage:
    arm = written_or(
        servo.arm, ARM, draws, key=f"items.{servo.name}.arm", label=f"arm of {servo.name}"
    )
    horn = written_or(
        control.horn_arm, HORN, draws, key=f"{key}.horn_arm", label=f"horn of {control.name}"
    )
    whole = np.ones(draws.samples)
    return Linkage(
        servo_arm=np.maximum(arm, 1e-3),
        horn_arm=np.maximum(horn, 1e-3),
        rod=rod * whole,
        servo_offset=_length(servo.arm_angle, 0.0) * whole,
        horn_offset=_length(control.horn_angle, 0.0) * whole,
    )


def _hinged(plane: Plane, draws: Draws, entry: tuple[str, Surface, ControlSurface]) -> Hinged:
    key, surface, control = entry
    servo = servos(plane)[control.servo or ""]
    length, chords, hinge = hinge_line(surface, control)
    rod = rod_length(servo, control, float(np.mean(hinge)))
    free = _length(control.pushrod_free, min(rod, SUPPORTED))
    thick = _length(control.pushrod_diameter, ROD_DIAMETER)
    second = rod_stiffness(np.array([thick]), np.zeros(1))
    buckles = buckling_load(np.array([MODULUS[control.pushrod]]), second, np.array([free]))
    up, down = THROWS[control.role]
    item = f"items.{servo.name}"
    return Hinged(
        key=key,
        name=control.name,
        role=control.role,
        lifting=surface.role in ("wing", "canard"),
        servo=servo.name,
        panels=panels_of(plane, surface, control),
        fraction=control.chord_fraction.value,
        edge=float(chords.max()),
        square_chord=float(np.mean(mean_square_chord(chords[:-1], chords[1:]))),
        length=length,
        up=_length(control.throw_up, float(np.radians(up))),
        down=_length(control.throw_down, float(np.radians(down))),
        linkage=_bars(draws, servo, control, key=key, rod=rod),
        rod_diameter=thick,
        rod_free=free,
        buckles=np.repeat(buckles, draws.samples),
        play=written_or(
            control.linkage_play,
            HOLE_PLAY,
            draws,
            key=f"{key}.linkage_play",
            label=f"linkage play of {control.name}",
        ),
        torque=_label(servo.torque, draws, key=f"{item}.torque", label=f"torque of {servo.name}"),
        slop=written_or(servo.slop, SLOP, draws, key=f"{item}.slop", label=f"slop of {servo.name}"),
        sixty=_label(servo.speed, draws, key=f"{item}.speed", label=f"speed of {servo.name}"),
    )


def _label(quantity: Quantity | None, draws: Draws, *, key: str, label: str) -> Samples:
    if quantity is None:
        return np.full(draws.samples, np.nan)
    return np.maximum(
        draws.written(quantity, TORQUE_SHARE * quantity.value, key=key, label=label), 0.0
    )


def linkage_assumed(plane: Plane) -> tuple[str, ...]:
    """Return what was assumed of servos, arms, rods and throws."""
    known, found = servos(plane), []
    for _, _, control in controls(plane.airframe):
        servo = known.get(control.servo or "")
        if servo is not None and servo.arm is None:
            found.append(f"{servo.name}: arm {show(ARM[0], 'length', plane.units)}")
        if servo is not None and servo.slop is None:
            found.append(f"{servo.name}: slop {show(SLOP[0], 'angle', plane.units)}")
        if control.horn_arm is None:
            found.append(f"{control.name}: horn {show(HORN[0], 'length', plane.units)}")
        if control.pushrod_diameter is None:
            rod = show(ROD_DIAMETER, "length", plane.units)
            found.append(f"{control.name}: {control.pushrod} pushrod {rod} thick")
        if control.pushrod_free is None:
            free = show(SUPPORTED, "length", plane.units)
            found.append(f"{control.name}: pushrod supported every {free} at least")
        if control.throw_up is None or control.throw_down is None:
            up, down = THROWS[control.role]
            found.append(f"{control.name}: throws {up:.0f}° up and {down:.0f}° down")
    return tuple(dict.fromkeys(found))

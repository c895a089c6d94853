"""Travel of the surfaces for a first flight, in degrees and at the trailing edge."""

import numpy as np

from foamwright.model.control import Held
from foamwright.model.linkages import Hinged
from foamwright.physics.gear.linkage import edge_travel
from foamwright.plane.airframe import ControlRole
from foamwright.questions.answer import Figure
from foamwright.questions.case import Case
from foamwright.questions.chance import LENGTH, figure

LOW_RATE: dict[ControlRole, tuple[float, float]] = {
    "aileron": (9.0, 8.0),
    "elevator": (8.0, 8.0),
    "elevon": (9.0, 7.0),
    "ruddervator": (8.0, 8.0),
    "rudder": (12.0, 12.0),
    "flap": (0.0, 15.0),
}
"""Travel up and down for a first flight [deg], never more than the high rate; common practice, no
source."""


MIXED_PITCH = {"elevon": 7.0, "ruddervator": 8.0}
"""Travel that a first flight's elevator takes of surfaces with two commands [deg]; common
practice, no source."""


def at_edge(hinged: Hinged, angle: float) -> float:
    """Return the travel of the trailing edge where the surface is deepest [m]."""
    return float(edge_travel(np.array([hinged.edge]), np.array([angle]))[0])


def low_rate(hinged: Hinged, *, up: bool) -> tuple[float, float]:
    """Return the first flight's travel one way: angle [rad] and at the trailing edge [m]."""
    usual = float(np.radians(LOW_RATE[hinged.role][0 if up else 1]))
    angle = min(usual, hinged.up if up else hinged.down)
    return angle, at_edge(hinged, angle)


def said_of(role: ControlRole, way: str) -> str:
    """Return what a way is called: rudders go left and right."""
    return {"up": "left", "down": "right"}[way] if role == "rudder" else way


def first_throws(case: Case, held: tuple[Held, ...]) -> list[Figure]:
    """Return low and high rate of every surface at the trailing edge."""
    whole = np.ones(case.computed.samples)
    found = []
    for number, entry in enumerate(held, start=1):
        one = entry.hinged
        for way, up, most in (("up", True, one.up), ("down", False, one.down)):
            low, words = low_rate(one, up=up), said_of(one.role, way)
            for rate, angle, edge in (("low", *low), ("high", most, at_edge(one, most))):
                label = f"{one.name} {words}, {rate} rate ({np.degrees(angle):.0f}°)"
                found.append(figure(f"throw_{number}_{way}_{rate}", label, whole * edge, LENGTH))
    return found

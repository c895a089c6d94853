"""The leaf that takes an outline from a photo: the photo stays in the browser, points come here."""

from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from foamwright.jobs import photo as job
from foamwright.jobs.photo_keys import keys_for, roles, targets
from foamwright.jobs.photo_request import PAPERS
from foamwright.model.photo_clicks import EDGES, Told, View
from foamwright.model.photo_outline import Outline
from foamwright.page.asking import desk_of, posting, still_as_seen, variant_of
from foamwright.page.desk import Desk
from foamwright.page.dress import dressed
from foamwright.page.edits import edited, variant_in
from foamwright.page.guard import HEADERS
from foamwright.plane.plane import Plane
from foamwright.problems import CallProblem
from foamwright.quantity import show, show_band

POLICY = "content-security-policy"

OWN_PICTURES = {POLICY: f"{HEADERS[POLICY]}; img-src 'self' blob:"}
"""What this leaf may show besides: a picture the browser itself made of a chosen file."""

MM = 1e-3

LEAST_SHARE = 0.05
"""Least share of the spread that is told."""

VIEWS: dict[View, str] = {
    "surface": "a wing or tail from above",
    "fin": "a fin from the side",
    "body side": "a body from the side",
    "body above": "a body from above",
}
"""What a photo can show, in words."""

COLUMNS = {
    "x": "from the nose",
    "y": "from the middle line",
    "z": "up",
    "leading_edge": "leading edge",
    "chord": "chord",
    "width": "width",
    "height": "height",
}
"""What is told of a station, in words."""

JSON = dict[str, object]


def plane_of(desk: Desk, variant: str | None) -> tuple[Plane | None, str]:
    """Return the plane on the desk and its revision; none where there is no plane yet."""
    if not desk.exists:
        return None, ""
    with desk.lock:
        found = desk.reading(variant)
    return found.loaded.plane, found.revision


def page(request: Request) -> Response:
    """Return the leaf, with or without a plane to write into."""
    variant = variant_of(request)
    plane, revision = plane_of(desk_of(request), variant)
    told = {
        "plane": plane,
        "revision": revision,
        "variant": variant,
        "views": [
            {
                "key": view,
                "words": words,
                "edges": EDGES[view],
                "targets": [] if plane is None else targets(plane, view),
                "roles": roles(view),
            }
            for view, words in VIEWS.items()
        ],
        "papers": list(PAPERS),
    }
    answer = dressed(request, "photo.html", told)
    answer.headers.update(OWN_PICTURES)
    return answer


def cell(value: float, spread: float, units: str) -> JSON:
    """Return a length [mm] as it is shown, with the band that holds eight in ten."""
    low, high = job.band_of(Told(value=value, spread=spread))
    band = show_band(low * MM, high * MM, "length", units) if spread > 0.0 else ""
    return {"value": show(value * MM, "length", units), "band": band}


def whole_told(name: str, told: Told, units: str) -> JSON:
    """Return span, length or area as it is shown."""
    dimension, factor = ("area", MM * MM) if name == "area" else ("length", MM)
    low, high = (end * factor for end in job.band_of(told))
    return {
        "name": name,
        "value": show(told.value * factor, dimension, units),
        "band": show_band(low, high, dimension, units),
    }


def table_of(outline: Outline, units: str) -> JSON:
    """Return the stations as a table."""
    rows = [
        [cell(value, spread, units) for value, spread in zip(row, spreads, strict=True)]
        for row, spreads in zip(outline.stations.tolist(), outline.spreads.tolist(), strict=True)
    ]
    return {
        "columns": [COLUMNS[name] for name in outline.names],
        "rows": rows,
        "carried_by": [
            f"{name} {100 * share:.0f} %"
            for name, share in outline.carried_by
            if share >= LEAST_SHARE
        ],
        "whole": [whole_told(name, told, units) for name, told in outline.whole.items()],
    }


def read(desk: Desk, body: Mapping[str, object]) -> JSON:
    """Return what the clicks tell so far."""
    found = job.read_photo(body)
    plane, _ = plane_of(desk, variant_in(body))
    drawn = found.drawn
    return {
        "missing": found.missing,
        "assumed": list(found.assumed),
        "remarks": list(found.remarks),
        "table": None
        if found.outline is None
        else table_of(found.outline, "metric" if plane is None else plane.units),
        "drawn": None
        if drawn is None
        else {
            "squares": drawn.squares,
            "middle": drawn.middle,
            "guides": drawn.guides,
            "outlines": drawn.outlines,
        },
    }


def target_in(body: Mapping[str, object]) -> dict[str, str]:
    """Return what is to be written into; raises CallProblem for anything but words."""
    found = body.get("target")
    if not isinstance(found, Mapping) or not all(isinstance(v, str) for v in found.values()):
        raise CallProblem("nothing is named to be written into", expected="a surface or a body")
    return {str(key): str(value) for key, value in found.items()}


def write(desk: Desk, body: Mapping[str, object]) -> JSON:
    """Write the stations into the plane file, whole or not at all."""
    target = target_in(body)
    variant = variant_in(body)
    with desk.lock:
        still_as_seen(desk, body)
        outline = job.stations_in(body)
        if variant is not None and target.get("new") == "yes":
            raise CallProblem(
                "a variant changes what is there", expected="put new foam into the plane itself"
            )
        keys = keys_for(desk.reading(variant).written, outline, target)
        told = edited(desk, {"variant": variant, "revision": body.get("revision"), "keys": keys})
        plane, _ = plane_of(desk, variant)
    names = [] if plane is None else targets(plane, outline.view)
    return {**told, "targets": names, "written": len(outline.stations)}


ROUTES = [
    Route("/photo", page),
    Route("/photo/outline", posting(read), methods=["POST"]),
    Route("/photo/write", posting(write), methods=["POST"]),
]
"""Where this leaf listens."""

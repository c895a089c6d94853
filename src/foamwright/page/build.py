"""The leaf of the build order: what is done, what is ready, what stands against the next cut."""

import dataclasses
from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from foamwright.jobs import order as job
from foamwright.jobs.ask import Settings
from foamwright.page.asking import Told, desk_of, planned, posting, still_as_seen, variant_of
from foamwright.page.desk import Desk
from foamwright.page.dress import dressed, fragment
from foamwright.page.edits import variant_in
from foamwright.plane import bench
from foamwright.problems import CallProblem

LONGEST_NOTE = 400
"""Most letters of a note at the bench."""

Phases = list[tuple[str, list[Told]]]


def settings_of(desk: Desk, variant: str | None) -> Settings:
    """Return how the desk asks, of a variant."""
    return dataclasses.replace(desk.settings, variant=variant)


def found_on(desk: Desk, variant: str | None) -> tuple[job.Order, str]:
    """Return the build order as the files are now, and their revision."""
    with desk.lock:
        sight = desk.sight(variant)
        notes = bench.load(sight.loaded.folder)
        return job.order_of(sight.case, notes, variant), sight.revision


def told_of(found: job.Order, ordered: job.OrderedStep) -> Told:
    """Return a step for a template."""
    names = {one.step.id: one.step.do for one in found.steps}
    return {
        "ordered": ordered,
        "lacks": [names.get(name, name) for name in ordered.lacks],
        "against": [] if ordered.state == "done" else job.objections(ordered),
        "shown": ordered.record is not None and not ordered.record.date,
    }


def phases_of(found: job.Order) -> Phases:
    """Return the steps under their headings, in the order they are worked."""
    phases: dict[str, list[Told]] = {}
    for ordered in found.steps:
        phases.setdefault(ordered.step.phase, []).append(told_of(found, ordered))
    return list(phases.items())


def steps_told(found: job.Order, revision: str) -> Told:
    """Return the list of steps, with the revision it was made of."""
    states = [ordered.state for ordered in found.steps]
    html = fragment("order_steps.html", {"phases": phases_of(found), "not_asked": found.not_asked})
    return {
        "html": html,
        "revision": revision,
        "done": states.count("done"),
        "all": len(states),
    }


@planned
def page(request: Request) -> Response:
    """Return the leaf."""
    variant = variant_of(request)
    found, revision = found_on(desk_of(request), variant)
    told = steps_told(found, revision)
    return dressed(request, "order.html", {**told, "plane": found.plane, "variant": variant})


def steps(request: Request) -> Response:
    """Return the steps as the files are now."""
    return JSONResponse(steps_told(*found_on(desk_of(request), variant_of(request))))


def step_in(body: Mapping[str, object]) -> str:
    """Return which step a request is about; raises CallProblem where it names none."""
    name = body.get("step")
    if not isinstance(name, str):
        raise CallProblem("no step is named", expected="its id")
    return name


def note_in(body: Mapping[str, object]) -> str | None:
    """Return the note of a request, none where it is empty; raises CallProblem for a book."""
    note = body.get("note", "")
    if not isinstance(note, str) or len(note) > LONGEST_NOTE:
        raise CallProblem("the note is too long", expected=f"at most {LONGEST_NOTE} letters")
    return " ".join(note.split()) or None


def tick(desk: Desk, body: Mapping[str, object]) -> Told:
    """Record a step as done; raises CallProblem with what stands against it."""
    with desk.lock:
        still_as_seen(desk, body)
        done = job.done(
            desk.path,
            step_in(body),
            settings_of(desk, variant_in(body)),
            anyway=body.get("anyway") is True,
            note=note_in(body),
        )
        return {**steps_told(done.order, desk.revision()), "warnings": list(done.warnings)}


def untick(desk: Desk, body: Mapping[str, object]) -> Told:
    """Take the record of a step back."""
    with desk.lock:
        still_as_seen(desk, body)
        sight = desk.sight(variant_in(body))
        bench.take_back(bench.load(sight.loaded.folder), step_in(body))
        return steps_told(*found_on(desk, variant_in(body)))


ROUTES = [
    Route("/order", page),
    Route("/order/steps", steps),
    Route("/order/done", posting(tick), methods=["POST"]),
    Route("/order/back", posting(untick), methods=["POST"]),
]
"""Where this leaf listens."""

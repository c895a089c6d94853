"""The leaf of the next steps: changes and tests ranked, each change to be tried on the drawing."""

import dataclasses

from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from foamwright.jobs.ask import Settings
from foamwright.jobs.next_step import Next, next_of
from foamwright.page.answers import BY_ID
from foamwright.page.asking import Told, desk_of, planned, variant_of
from foamwright.page.bench_entry import noted_before
from foamwright.page.bench_forms import forms_of
from foamwright.page.desk import Desk
from foamwright.page.dress import dressed, fragment
from foamwright.page.errands import Step, Work
from foamwright.page.slow import errands_of, state_of
from foamwright.plane import flights
from foamwright.plane.bench import today
from foamwright.quantity import show
from foamwright.search.next_step import NextStep, StepEffect

LANE = "next"

SAMPLES = 512
"""Planes like yours: all changes are computed anew, so fewer than for the answers."""

FIRST = 6
"""Steps shown at once; the others are a click away."""

LEAST_MASS, LEAST_PRICE = 0.5e-3, 0.005
"""Less is not worth telling [kg], in the plane's currency."""


def chance(share: float) -> str:
    """Return a chance in words: planes of a hundred."""
    count = round(100.0 * share)
    if count == 100 and share < 1.0:
        return "over 99"
    return "under 1" if count == 0 and share > 0.0 else f"{count}"


def effect_told(effect: StepEffect) -> Told:
    """Return what a step does to one question."""
    question = BY_ID.get(effect.question)
    return {
        "asks": question.asks if question else effect.question,
        "before": chance(effect.before),
        "after": chance(effect.after),
        "better": effect.after > effect.before,
    }


def asked_for(step: NextStep, units: str, currency: str) -> Told:
    """Return what a step takes."""
    mass = ""
    if abs(step.mass) >= LEAST_MASS:
        mass = f"{'+' if step.mass > 0 else '−'}{show(abs(step.mass), 'mass', units)}"
    return {
        "minutes": f"{step.minutes:.0f} min",
        "mass": mass,
        "price": show(step.price, "money", units, currency) if step.price >= LEAST_PRICE else "",
    }


def entered_at(step: NextStep) -> str:
    """Return which test notes the result of a step; empty where it goes into the plane file."""
    return step.call.split()[-1] if step.kind == "test" and step.call else ""


def step_told(step: NextStep, found: Next) -> Told:
    """Return one step for a template."""
    return {
        "do": step.do,
        "kind": step.kind,
        "effects": [
            told for told in map(effect_told, step.effect) if told["before"] != told["after"]
        ],
        "because": step.because,
        "worth": f"{step.worth:.2g}",
        "keys": dict(step.keys),
        "test": entered_at(step),
        **asked_for(step, found.units, found.currency),
    }


def steps_told(found: Next) -> str:
    """Return the steps as a piece of the page."""
    steps = [step_told(step, found) for step in found.steps]
    return fragment(
        "next_steps.html",
        {
            "steps": steps,
            "first": FIRST,
            "samples": found.samples,
            "seed": found.seed,
            "seconds": f"{found.seconds:.1f}",
        },
    )


def settings_of(desk: Desk, variant: str | None) -> Settings:
    """Return how the steps are asked for."""
    samples = min(SAMPLES, desk.settings.samples)
    return dataclasses.replace(desk.settings, variant=variant, samples=samples)


def trying(desk: Desk, variant: str | None) -> Work:
    """Return the work of trying every change and test."""

    def work(step: Step) -> Told:
        step("reading the plane")
        found = next_of(desk.path, settings_of(desk, variant), lambda do: step(f"trying: {do}"))
        best = found.steps[0] if found.steps else None
        return {
            "html": steps_told(found),
            "best": None if best is None else {"do": best.do, "minutes": f"{best.minutes:.0f}"},
        }

    return work


@planned
def page(request: Request) -> Response:
    """Return the leaf; its steps follow."""
    desk, variant = desk_of(request), variant_of(request)
    reading = desk.reading(variant)
    loaded = reading.loaded
    weighed = frozenset(one.item for one in loaded.notes.bench.weighings)
    kept = tuple(flight.name for flight in flights.load(loaded.folder))
    before = noted_before(desk)
    told = {
        "plane": loaded.plane.name,
        "variant": variant,
        "revision": reading.revision,
        "forms": forms_of(desk.reading().loaded.plane, weighed, kept),
        "today": today().isoformat(),
        "noted": before["html"],
        "noted_count": before["count"],
    }
    return dressed(request, "next.html", told)


def begin(request: Request) -> Response:
    """Begin to rank the steps, or tell those already ranked for the files as they are."""
    desk, variant = desk_of(request), variant_of(request)
    revision = desk.revision()
    errand = errands_of(request).start(LANE, (revision, variant), trying(desk, variant))
    return JSONResponse({**state_of(errand), "revision": revision})


def best(request: Request) -> Response:
    """Return the best step as a line, where the steps were ranked for the files as they are.

    Nothing is begun: ranking takes seconds of a machine that is to follow a part being moved.
    """
    desk, variant = desk_of(request), variant_of(request)
    revision = desk.revision()
    known = errands_of(request).known(LANE, (revision, variant))
    told = {"known": known is not None, "best": (known or {}).get("best"), "variant": variant}
    return JSONResponse({"html": fragment("next_best.html", told), "revision": revision})


ROUTES = [Route("/next", page), Route("/next/steps", begin), Route("/next/best", best)]
"""Where this leaf listens."""

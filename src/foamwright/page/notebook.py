"""The main leaf: the drawing, the questions beside it, all that is written below."""

from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.routing import Route

from foamwright.page import answers, edits
from foamwright.page.asking import Told, desk_of, posting, variant_of
from foamwright.page.desk import Desk, Reading, Sight
from foamwright.page.dress import dressed, fragment
from foamwright.page.inputs import groups
from foamwright.page.sketch import movables, moved, outline, sketch
from foamwright.plane.findings import KINDS_OF_ITEMS
from foamwright.problems import CallProblem, InputProblem
from foamwright.questions.case import Case
from foamwright.questions.charts import charts_of
from foamwright.questions.register import QUESTIONS


def fields(seen: Sight | Reading) -> str:
    """Return all that is written, as fields."""
    return fragment("written.html", {"groups": groups(seen), "kinds": sorted(KINDS_OF_ITEMS)})


def sheet_told(sight: Sight, case: Case) -> Told:
    """Return the drawing, the list of parts and the fields for a case."""
    unplaced = list(case.computed.masses.unplaced)
    return {
        "revision": sight.revision,
        "svg": sketch(case, sight.variant).svg,
        "parts": fragment("parts.html", {"parts": movables(case), "unplaced": unplaced}),
        "written": fields(sight),
    }


def page(request: Request) -> Response:
    """Return the page: what is written and the foam at once, the rest as soon as it is there."""
    desk = desk_of(request)
    if not desk.exists:
        return RedirectResponse("/new", status_code=303)
    variant = variant_of(request)
    reading = desk.reading(variant)
    sight = desk.known(variant, reading.revision)
    told: Told = {
        "revision": reading.revision,
        "svg": outline(reading.loaded),
        "parts": "",
        "written": fields(reading),
    }
    if sight is not None:
        told = sheet_told(sight, sight.case)
    plane = reading.loaded.plane
    return dressed(
        request,
        "notebook.html",
        {
            **told,
            "plane": plane,
            "variant": variant,
            "variants": reading.loaded.variants,
            "questions": QUESTIONS,
            "quick": answers.QUICK,
            "samples": desk.settings.samples,
            "folder": reading.loaded.folder.resolve().name,
        },
    )


def state(request: Request) -> Response:
    """Return the drawing and the fields as the file is now."""
    desk = desk_of(request)
    sight = desk.sight(variant_of(request))
    return JSONResponse(sheet_told(sight, sight.case))


def revision(request: Request) -> Response:
    """Return the revision of the file, and which variants it has."""
    return JSONResponse({"revision": desk_of(request).revision()})


def wanted(body: Mapping[str, object]) -> list[str]:
    """Return which questions a request asks."""
    asked = body.get("questions")
    if not isinstance(asked, list) or not all(name in answers.BY_ID for name in asked):
        known = ", ".join(answers.BY_ID)
        raise CallProblem("no such question", expected=f"some of {known}")
    return [str(name) for name in asked]


def case_in(sight: Sight, body: Mapping[str, object]) -> Case:
    """Return the case a request is about: as written, or with what is tried on it."""
    return sight.asked(edits.tried_in(sight, body))


def asked(desk: Desk, body: Mapping[str, object]) -> Told:
    """Return lines for some questions, and what of the drawing moves with the parts."""
    names = wanted(body)
    with desk.lock:
        sight = desk.sight(edits.variant_in(body))
        case = case_in(sight, body)
        told: Told = {
            "revision": sight.revision,
            "lines": [answers.line_of(answers.BY_ID[name], case) for name in names],
        }
        if body.get("moves"):
            drawn = moved(case, sight.asked(edits.table_in(body, "trial")), sight.variant)
            told |= {"strips": drawn.strips, "centre": drawn.centre}
        return told


def opened(desk: Desk, body: Mapping[str, object]) -> Told:
    """Return one question's answer in full."""
    names = wanted(body)
    if len(names) != 1:
        raise CallProblem("one question is opened at a time", expected="one name")
    with desk.lock:
        sight = desk.sight(edits.variant_in(body))
        case = case_in(sight, body)
        told = answers.leaf_of(answers.BY_ID[names[0]], case)
        return {"revision": sight.revision, **told}


NARROWEST, WIDEST = 280, 520
"""Of a chart [px]."""


def charted(desk: Desk, body: Mapping[str, object]) -> Told:
    """Return one question's charts; they come after its answer, which nobody waits for twice."""
    names = wanted(body)
    if len(names) != 1:
        raise CallProblem("the charts of one question at a time", expected="one name")
    with desk.lock:
        case = case_in(desk.sight(edits.variant_in(body)), body)
        found = charts_of(names[0], case)
    # Drawing takes longer than computing, and needs nothing of the desk's.
    return answers.charts_told(names[0], found, case.plane.units, width_in(body))


def width_in(body: Mapping[str, object]) -> int:
    """Return how wide a chart may be [px], so that its words stay readable on a phone."""
    width = body.get("width", NARROWEST)
    if not isinstance(width, int) or isinstance(width, bool):
        raise CallProblem(f"{width!r} is no width", expected="a whole number of pixels")
    return min(max(width, NARROWEST), WIDEST)


def tried(desk: Desk, body: Mapping[str, object]) -> Told:
    """Return the drawing with something tried on it; raises InputProblem where it cannot be."""
    sight = desk.sight(edits.variant_in(body))
    told = sheet_told(sight, case_in(sight, body))
    return {name: told[name] for name in ("revision", "svg", "parts")}


def checked(desk: Desk, body: Mapping[str, object]) -> Told:
    """Return what is wrong with fields as they are typed; nothing is written."""
    with desk.lock:
        sight = desk.sight(edits.variant_in(body))
        try:
            sight.asked(edits.fields_in(sight, body))
        except InputProblem as problem:
            return {"findings": [{"key": f.key, "what": f.sentence()} for f in problem.findings]}
        return {"findings": []}


ROUTES = [
    Route("/", page),
    Route("/state", state),
    Route("/revision", revision),
    *(
        Route(f"/{name}", posting(work), methods=["POST"])
        for name, work in (
            ("ask", asked),
            ("open", opened),
            ("charts", charted),
            ("try", tried),
            ("check", checked),
            ("edit", edits.edited),
            ("keep", edits.kept),
        )
    ),
]
"""Where the main leaf listens."""
